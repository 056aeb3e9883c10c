"""What the keys of a unit's parts do: fit, take out, swap, from the shelf, donor."""

from __future__ import annotations

from abc import abstractmethod

from bench.dashboard.doing import Doing, say
from bench.dashboard.presenters.part_rows import moved_words
from bench.errors import BenchError, WhichDrive
from bench.views.parts import UnitParts


class PartsActions(Doing):
    """Mixed into the screen of a unit's parts."""

    unit_id: int

    @abstractmethod
    def parts_shown(self) -> UnitParts | None:
        """What was read last."""

    def action_fit(self) -> None:
        """A part that was bought for the unit."""
        parts = self.parts_shown()
        if parts is not None:
            from bench.dashboard.screens.dialogs.part_forms import fit_part_form

            self.app.push_screen(fit_part_form(self.unit_id, parts.tag))

    def action_take_in(self) -> None:
        """A part out of another unit or a donor."""
        parts = self.parts_shown()
        if parts is not None:
            from bench.dashboard.screens.dialogs.part_forms import take_part_form

            self.app.push_screen(take_part_form(self.unit_id, parts.tag, into=True))

    def action_give(self) -> None:
        """A part taken out, for another unit or the shelf."""
        parts = self.parts_shown()
        if parts is not None:
            from bench.dashboard.screens.dialogs.part_forms import take_part_form

            self.app.push_screen(take_part_form(self.unit_id, parts.tag, into=False))

    def action_swap(self) -> None:
        """A like part changed with another unit."""
        parts = self.parts_shown()
        if parts is not None:
            from bench.dashboard.screens.dialogs.part_forms import swap_parts_form

            self.app.push_screen(swap_parts_form(self.unit_id, parts.tag))

    def action_from_shelf(self) -> None:
        """A part that lies on the shelf."""
        from bench.dashboard.screens.dialogs.asking import ask_which_drive
        from bench.dashboard.screens.dialogs.pick import choose_from_shelf

        desk, unit_id = self.desk, self.unit_id

        def fit(part_id: int, drive_id: int | None = None) -> None:
            def work() -> str:
                from bench.work.parts import fit_from_shelf

                return moved_words(fit_from_shelf(desk, part_id, unit_id, drive_id=drive_id))

            def failed(error: BenchError) -> bool:
                if isinstance(error, WhichDrive):
                    ask_which_drive(self, error, lambda drive: fit(part_id, drive))
                return isinstance(error, WhichDrive)

            self.change(work, lambda sentence: say(self.app, sentence), failed=failed)

        def chosen(part_id: int | None) -> None:
            if part_id is not None:
                fit(part_id)

        self.app.push_screen(choose_from_shelf(), chosen)

    def action_donor(self) -> None:
        """Keep the unit for its parts, or sell it whole after all."""
        from bench.dashboard.screens.dialogs.buying_forms import DonorForm

        self.app.push_screen(DonorForm(self.unit_id))
