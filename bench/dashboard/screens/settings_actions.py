"""What the keys of the settings do to the shop, the person or the stage under the cursor."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable
from typing import Any

from bench.dashboard.doing import Doing, say
from bench.dashboard.presenters.settings_rows import STAGE
from bench.desk import Desk
from bench.views.shop import PersonLine, StageLine


class SettingsActions(Doing):
    """Mixed into the settings' screen, which says where its cursor is."""

    @abstractmethod
    def at(self) -> str:
        """Which part the cursor is in: shop, person or stage."""

    @abstractmethod
    def person_here(self) -> PersonLine | None:
        """The person under the cursor."""

    @abstractmethod
    def stage_here(self) -> StageLine | None:
        """The stage under the cursor."""

    def action_edit(self) -> None:
        """Rename the person or the stage, or change the shop."""
        person, stage = self.person_here(), self.stage_here()
        if person is not None:
            self._ask_name(
                f"Rename {person.name}",
                f"person {person.person_id}",
                _person_renamer(person.person_id),
                person.name,
            )
        elif stage is not None:
            self._ask_name(
                f"Rename {stage.name}", f"stage {stage.stage_id}", _stage_renamer(stage.stage_id), stage.name
            )
        else:
            from bench.dashboard.screens.dialogs.settings_forms import shop_form

            self.app.push_screen(shop_form())

    def copy_now(self) -> None:
        """A verified copy of the data file."""
        desk = self.desk

        def work() -> str:
            from bench.work.copies import back_up

            return back_up(desk).path

        self.change(work, lambda path: say(self.app, f"Copied to {path}, verified."))

    def action_add(self) -> None:
        """A new stage behind the one under the cursor, anywhere else a new person."""
        stage = self.stage_here()
        if self.at() == STAGE and stage is not None:
            self._ask_name(
                f"New stage after {stage.name}", f"stage after {stage.stage_id}", _stage_adder(stage.stage_id)
            )
        else:
            self._ask_name("New person", "person new", _add_person)

    def action_lid(self) -> None:
        """Cover off at this stage, or on."""
        stage, desk = self._stage_or_say(), self.desk
        if stage is None:
            return

        def work() -> None:
            from bench.work.stages import set_stage_lid

            set_stage_lid(desk, stage.stage_id, lid_off=not stage.lid_off)

        self.change(work)

    def action_sale(self) -> None:
        """Units are listed at this stage, or not; at one where they leave, sold or not."""
        stage, desk = self._stage_or_say(), self.desk
        if stage is None:
            return

        def work() -> None:
            from bench.work.stages import set_stage_lists, set_stage_sells

            if stage.final:
                set_stage_sells(desk, stage.stage_id, sells=not stage.sells)
            else:
                set_stage_lists(desk, stage.stage_id, lists=not stage.lists)

        self.change(work)

    def action_earlier(self) -> None:
        """The stage one place up."""
        self._reorder(-1)

    def action_later(self) -> None:
        """The stage one place down."""
        self._reorder(1)

    def action_remove(self) -> None:
        """Take the person or the stage off the list."""
        person, stage, desk = self.person_here(), self.stage_here(), self.desk
        if person is not None:
            self.take_off(lambda: _remove_person(desk, person.person_id), person.name)
        elif stage is not None:
            self.take_off(lambda: _remove_stage(desk, stage.stage_id), stage.name)

    def _reorder(self, steps: int) -> None:
        stage, desk = self._stage_or_say(), self.desk
        if stage is None:
            return

        def work() -> None:
            from bench.work.stages import reorder_stage

            reorder_stage(desk, stage.stage_id, steps)

        self.change(work)

    def _stage_or_say(self) -> StageLine | None:
        stage = self.stage_here()
        if stage is None:
            say(self.app, "Put the cursor on a stage first.")
        return stage

    def _ask_name(
        self, heading: str, draft: str, use_case: Callable[[Desk, str], Any], name: str = ""
    ) -> None:
        from bench.dashboard.screens.dialogs.settings_forms import name_form

        self.app.push_screen(name_form(heading, use_case, name, draft=draft))


def _add_person(desk: Desk, name: str) -> None:
    from bench.work.people import add_person

    add_person(desk, name)


def _person_renamer(person_id: int) -> Callable[[Desk, str], None]:
    def rename(desk: Desk, name: str) -> None:
        from bench.work.people import rename_person

        rename_person(desk, person_id, name)

    return rename


def _stage_renamer(stage_id: int) -> Callable[[Desk, str], None]:
    def rename(desk: Desk, name: str) -> None:
        from bench.work.stages import rename_stage

        rename_stage(desk, stage_id, name)

    return rename


def _stage_adder(after_stage_id: int) -> Callable[[Desk, str], None]:
    def add(desk: Desk, name: str) -> None:
        from bench.work.stages import add_stage

        add_stage(desk, name, after_stage_id=after_stage_id, lid_off=False)

    return add


def _remove_person(desk: Desk, person_id: int) -> None:
    from bench.work.people import remove_person

    remove_person(desk, person_id)


def _remove_stage(desk: Desk, stage_id: int) -> None:
    from bench.work.stages import remove_stage

    remove_stage(desk, stage_id)
