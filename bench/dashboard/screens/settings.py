"""The shop's settings, its people and its stages."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from textual.widget import Widget

from bench.dashboard.acts import places
from bench.dashboard.acts.act import call
from bench.dashboard.acts.shop import COPY_NOW, EDIT_SETTING
from bench.dashboard.presenters.pieces import Part
from bench.dashboard.presenters.settings_rows import (
    FILE,
    PERSON,
    ROUTES,
    SETTINGS,
    SHOP,
    TRADING,
    settings_rows,
)
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.desk import Desk
from bench.domain.copies import Copies
from bench.views.shop import PersonLine, ShopFacts, StageLine, read_people, read_shop, read_stages
from bench.work.copies import read_copies


@dataclass(frozen=True, slots=True)
class SettingsFacts:
    """All that is set; `acting_id`: who acts now."""

    shop: ShopFacts
    people: tuple[PersonLine, ...]
    stages: tuple[StageLine, ...]
    acting_id: int
    copies: Copies


class SettingsScreen(Sheet[SettingsFacts]):
    """One table: the shop, its people, its stages, and the way to what is set elsewhere."""

    keys = "settings"

    def panels(self) -> Iterable[Widget]:
        """The table."""
        yield RowTable(SETTINGS, id="rows")

    def read(self) -> Callable[[], SettingsFacts]:
        """All that is set."""
        desk = self.desk

        def work() -> SettingsFacts:
            return SettingsFacts(
                read_shop(desk), read_people(desk), read_stages(desk), desk.person_id, read_copies(desk)
            )

        return work

    def show(self, facts: SettingsFacts) -> None:
        """The rows."""
        title = (Part(" Settings", "strong"), Part("  the shop, its people, its stages", "muted"))
        self.query_one("#head", LinesPanel).show(lambda _width: (title,))
        now_us = self.desk.clock.now_us()
        rows = settings_rows(facts.shop, facts.people, facts.stages, facts.acting_id, facts.copies, now_us)
        self.table("rows").show(rows)

    def at(self) -> str:
        """Which part the cursor is in."""
        key = self.table("rows").key
        return str(key[0]) if isinstance(key, tuple) else SHOP

    def person_here(self) -> PersonLine | None:
        """The person under the cursor."""
        key = self.table("rows").key
        people = self.facts.people if self.facts else ()
        return next((one for one in people if key == (PERSON, one.person_id)), None)

    def stage_here(self) -> StageLine | None:
        """The stage under the cursor."""
        key = self.table("rows").key
        stages = self.facts.stages if self.facts else ()
        return next((one for one in stages if key == ("stage", one.stage_id)), None)

    def open_row(self) -> None:
        """Go to the screen that the line names, or change what is under the cursor."""
        key = self.table("rows").key
        if key == TRADING:
            self.open_screen(places.TRADE)
        elif key == ROUTES:
            self.open_screen(places.ROUTES)
        elif self.at() == FILE:
            self.carry_out(COPY_NOW)
        else:
            self.carry_out(*EDIT_SETTING)

    def action_edit(self) -> None:
        """The same as Enter."""
        self.open_row()

    def turn_cover(self, stage: StageLine) -> None:
        """Cover off at this stage, or on."""
        self.run_use_case("bench.work.shop:set_stage_cover", stage.stage_id, lid_off=not stage.lid_off)

    def turn_sale(self, stage: StageLine) -> None:
        """Units are listed at this stage, or not; at one where they leave, sold or not."""
        if stage.final:
            self.run_use_case("bench.work.shop:set_stage_sells", stage.stage_id, sells=not stage.sells)
        else:
            self.run_use_case("bench.work.shop:set_stage_lists", stage.stage_id, lists=not stage.lists)


def add_stage_after(desk: Desk, stage_id: int, name: str) -> None:
    """A new stage behind that one, with the cover on."""
    call("bench.work.shop:add_stage", desk, name, after_stage_id=stage_id, lid_off=False)
