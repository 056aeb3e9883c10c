"""The shelf of parts: what lies there and where, with its cost, to be sold or scrapped."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from textual.widget import Widget

from bench.dashboard.presenters.order_rows import shelf_head
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.views.kinds import context_of
from bench.views.parts import PartLine, Shelf, read_shelf
from bench.views.tables.parts import SHELF

PLACE_PART = "bench.dashboard.screens.dialogs.order_forms:place_part_form"


class PartsShelfScreen(Sheet[Shelf]):
    """One table; Enter says where the part lies."""

    keys = "parts_shelf"

    def panels(self) -> Iterable[Widget]:
        """The parts."""
        yield RowTable(SHELF, id="rows")

    def read(self) -> Callable[[], Shelf]:
        """The shelf."""
        desk = self.desk
        return lambda: read_shelf(desk)

    def show(self, facts: Shelf) -> None:
        """The parts as they lie there now."""
        self.query_one("#head", LinesPanel).show(lambda width: shelf_head(facts, width))
        self.table("rows").fill(facts.lines, context_of(facts))

    def part_here(self) -> PartLine | None:
        """The part under the cursor."""
        key = self.table("rows").key
        lines = self.facts.lines if self.facts else ()
        return next((one for one in lines if one.part_id == key), None)

    def open_row(self) -> None:
        """Say where it lies."""
        part = self.part_here()
        if part is not None:
            self.open_screen(PLACE_PART, part)
