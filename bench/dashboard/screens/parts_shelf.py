"""The shelf of parts: what lies there, where and at what cost, to be sold or scrapped; what has gone."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from textual.widget import Widget

from bench.dashboard.presenters.order_rows import gone_head, shelf_head
from bench.dashboard.screens.document import Document, label_document
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.views.gone_parts import GoneParts, read_gone_parts
from bench.views.kinds import context_of
from bench.views.parts import PartLine, Shelf, read_shelf
from bench.views.tables.parts import GONE, SHELF

PLACE_PART = "bench.dashboard.screens.dialogs.order_forms:place_part_form"


class PartsShelfScreen(Sheet[Shelf | GoneParts]):
    """One table; Enter says where the part lies."""

    keys = "parts_shelf"

    def __init__(self, *, gone: bool = False, drive_id: int | None = None) -> None:
        """`drive_id`: the cursor begins at the part that is this drive."""
        super().__init__()
        self.gone = gone
        self._drive_id = drive_id

    def panels(self) -> Iterable[Widget]:
        """The parts that lie there; in their place, those that have gone."""
        yield RowTable(SHELF, id="rows")
        yield RowTable(GONE, id="gone")

    def read(self) -> Callable[[], Shelf | GoneParts]:
        """What lies there, or what has gone."""
        desk, gone = self.desk, self.gone
        return lambda: read_gone_parts(desk) if gone else read_shelf(desk)

    def show(self, facts: Shelf | GoneParts) -> None:
        """The parts as they lie there now, or went."""
        gone = isinstance(facts, GoneParts)
        table, other = (self.table(name) for name in (("gone", "rows") if gone else ("rows", "gone")))
        turned = other.is_current or self.focused is None
        table.display, other.display = True, False
        lines = facts.lines
        self.query_one("#head", LinesPanel).show(
            lambda width: gone_head(facts) if isinstance(facts, GoneParts) else shelf_head(facts, width)
        )
        drive_id, self._drive_id = self._drive_id, None
        here = (one.part_id for one in lines if drive_id is not None and one.drive_id == drive_id)
        table.fill(lines, context_of(facts), at=next(here, None))
        if turned:
            table.take_focus()

    def part_here(self) -> PartLine | None:
        """The part under the cursor, where it lies on the shelf."""
        key = self.table("rows").key
        lines = self.facts.lines if isinstance(self.facts, Shelf) else ()
        return next((one for one in lines if one.part_id == key), None)

    def document_here(self) -> Document | None:
        """The label of the part under the cursor."""
        return label_document(self.part_here())

    def open_row(self) -> None:
        """Say where it lies."""
        part = self.part_here()
        if part is not None:
            self.open_screen(PLACE_PART, part)

    def action_gone(self) -> None:
        """What has gone, or what lies there."""
        self.gone = not self.gone
        self.ask()
