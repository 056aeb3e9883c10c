"""The queue: units under their stages, with a cursor, a filter and ticking times."""

from __future__ import annotations

from collections.abc import Sequence

from textual.message import Message
from textual.reactive import reactive

from bench.dashboard.presenters.arranged_rows import Arrangement, column_names
from bench.dashboard.presenters.pieces import Line, Part
from bench.dashboard.presenters.queue_cells import (
    QueueColumns,
    heading_line,
    longest,
    names_line,
    queue_columns,
    time_cell,
    unit_line,
)
from bench.dashboard.presenters.queue_lines import (
    Heading,
    QueueLine,
    SearchableStage,
    line_of_unit,
    lines_of,
    nearest_unit,
    searchable,
)
from bench.dashboard.presenters.queue_order import in_order
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.painted import Painted
from bench.views.queue import QueueRow, QueueView
from bench.views.tables.queue import QUEUE


class QueueList(LineList[QueueLine]):
    """The units of a QueueView. The cursor stays on its unit whatever changes around it."""

    class Arranged(Message):
        """A person sorted the queue."""

    cursor_stays_lit = True

    table = QUEUE
    chooses_columns = False  # it shows what its width has room for

    view: reactive[QueueView | None] = reactive(None, init=False, repaint=False)
    filter_text: reactive[str] = reactive("", init=False, repaint=False)
    columns: reactive[QueueColumns] = reactive(queue_columns(80), init=False, repaint=False)

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self.now_us = 0
        self.says_when_empty = ""
        self.says_when_no_match = ""
        self.arrangement = Arrangement()
        self._given: tuple[SearchableStage, ...] = ()
        self._stages: tuple[SearchableStage, ...] = ()
        self._longest = longest(())

    @property
    def row(self) -> QueueRow | None:
        """The unit under the cursor."""
        return self.current if isinstance(self.current, QueueRow) else None

    def watch_view(self, view: QueueView | None) -> None:
        """Show what is new in the snapshot."""
        self._given = searchable(view) if view else ()
        self._stages = in_order(self._given, self.arrangement)
        self._longest = longest([unit.row for stage in self._stages for unit in stage.units])
        self._fit()
        self._show()

    def watch_filter_text(self) -> None:
        """Show only what matches."""
        self._show()

    def watch_columns(self) -> None:
        """Draw every line in the new columns."""
        self.refresh()

    def on_resize(self) -> None:
        """Fit the columns into the new width."""
        self._fit()

    def go_to_unit(self, unit_id: int) -> bool:
        """Put the cursor on this unit; False when it is not among the lines shown."""
        index = line_of_unit(self.items, unit_id)
        if index is not None:
            self.cursor = index
        return index is not None

    def row_of_tag(self, tag: str) -> QueueRow | None:
        """The unit with this tag, whether or not the filter shows it."""
        units = (unit.row for stage in self._stages for unit in stage.units)
        return next((row for row in units if row.tag == tag), None)

    def set_arrangement(self, arrangement: Arrangement) -> None:
        """Sort the units of each stage as a person has them."""
        self.arrangement = arrangement
        self._stages = in_order(self._given, arrangement)
        self._show()

    def rearrange(self, arrangement: Arrangement) -> None:
        """As a person has it from now on: whoever keeps that is told."""
        self.set_arrangement(arrangement)
        self.post_message(self.Arranged())

    def sort_by(self, place: int) -> bool:
        """By that column, then falling, then in the queue's own order again."""
        self.rearrange(self.arrangement.sorted_next(column_names(QUEUE)[place]))
        return True

    def tick(self, now_us: int) -> None:
        """Draw again the times that run and say something else now, on the lines that can be seen."""
        before_us, self.now_us = self.now_us, now_us
        columns = self.columns
        for index in self.visible_range:
            item = self.items[index]
            if not isinstance(item, QueueRow) or not item.running:
                continue
            if time_cell(item, columns, before_us) != time_cell(item, columns, now_us):
                self.refresh_cells(index, columns.time_at + 1, columns.time)

    def line_of(self, item: QueueLine, width: int) -> Line:
        """A heading or a unit as parts."""
        if isinstance(item, Heading):
            return heading_line(item, width - 1)
        return unit_line(item, self.columns, self.now_us)

    def stops_at(self, item: QueueLine) -> bool:
        """The cursor skips headings."""
        return isinstance(item, QueueRow)

    def mark_key(self, item: QueueLine) -> int | None:
        """Units can be marked."""
        return item.unit_id if isinstance(item, QueueRow) else None

    def when_empty(self) -> Line:
        """What to press when there is nothing to see."""
        return (Part(f" {self.says_when_no_match if self.filter_text else self.says_when_empty}", "strong"),)

    def _fit(self) -> None:
        self.columns = queue_columns(self.line_width - 1, *self._longest)

    def _show(self) -> None:
        kept = self.row
        lines = lines_of(self._stages, self.filter_text)
        index = line_of_unit(lines, kept.unit_id) if kept else None
        if index is None:
            index = nearest_unit(lines, self.cursor)
        self.show(lines, -1 if index is None else index)


class QueueNames(Painted):
    """One line of column names, over the columns that the queue uses."""

    columns: reactive[QueueColumns] = reactive(queue_columns(80), init=False, repaint=False)
    marked: reactive[int] = reactive(0, init=False, repaint=False)
    order: reactive[str] = reactive("", init=False, repaint=False)

    def watch_columns(self) -> None:
        """Follow the queue's columns."""
        self.repaint()

    def watch_order(self) -> None:
        """Say by what it is sorted."""
        self.repaint()

    def watch_marked(self) -> None:
        """Say how many units are marked."""
        self.repaint()

    def paint(self, width: int) -> Sequence[Line]:
        """The one line."""
        told = ", ".join(filter(None, (f"{self.marked} marked" if self.marked else "", self.order)))
        return ((Part(" "), *names_line(self.columns, width - 1, told)),)
