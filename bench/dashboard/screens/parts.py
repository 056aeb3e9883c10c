"""The parts of a unit: bought for it, out of other units, given away, swapped; their cost goes along."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import ClassVar

from textual.binding import BindingType
from textual.widget import Widget

from bench.dashboard.keys import bindings_for, key_shown
from bench.dashboard.presenters.part_rows import PART_COLUMNS, part_rows, parts_head
from bench.dashboard.screens.parts_actions import PartsActions
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.views.parts import PartLine, UnitParts


class PartsScreen(PartsActions, Sheet[UnitParts]):
    """One table; Enter sets a part right."""

    keys = "parts"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("parts")

    def __init__(self, unit_id: int) -> None:
        super().__init__()
        self.unit_id = unit_id

    def panels(self) -> Iterable[Widget]:
        """The parts."""
        own = self.bench.own_keys
        fit, take = key_shown("parts.fit", own), key_shown("parts.take_in", own)
        none = f"No part came or went. {fit} fits a bought one, {take} one out of another unit."
        yield RowTable(PART_COLUMNS, title="Parts", says_when_empty=none, id="rows")

    def read(self) -> Callable[[], UnitParts]:
        """The parts, and the cost still on the unit."""
        desk, unit_id = self.desk, self.unit_id

        def work() -> UnitParts:
            from bench.views.parts import read_parts

            return read_parts(desk, unit_id)

        return work

    def show(self, facts: UnitParts) -> None:
        """The parts."""
        self.query_one("#head", LinesPanel).show(lambda width: parts_head(facts, width))
        self.table("rows").show(part_rows(facts))

    def parts_shown(self) -> UnitParts | None:
        """What was read last."""
        return self.facts

    def part_here(self) -> PartLine | None:
        """The part under the cursor."""
        key = self.table("rows").key
        lines = self.facts.lines if self.facts else ()
        return next((one for one in lines if one.part_id == key), None)

    def open_row(self) -> None:
        """Set the part right."""
        part = self.part_here()
        if part is not None and self.facts is not None:
            from bench.dashboard.screens.dialogs.part_forms import edit_part_form

            self.app.push_screen(edit_part_form(part, self.facts.currency))
