"""A table: the names of its columns above rows with a cursor, drawn line by line."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any, cast

from textual import events, on
from textual.app import ComposeResult
from textual.message import Message

from bench.dashboard.presenters.arranged_rows import (
    Arrangement,
    arranged_columns,
    can_sort,
    column_names,
    count_of,
    filtered_rows,
    searchable_rows,
    sorted_rows,
)
from bench.dashboard.presenters.pieces import Line, Part
from bench.dashboard.presenters.rows import (
    RecordCells,
    RecordRows,
    Row,
    column_at,
    currency_of,
    names_line,
    row_line,
    rows_of,
    widths,
)
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.painted import Painted
from bench.dashboard.widgets.steady import Stacked
from bench.views.columns import Column, Table
from bench.views.kinds import PLAIN, Context

if TYPE_CHECKING:
    from bench.dashboard.app import BenchApp

MARGIN = 2  # the cursor's mark before a row, a blank behind it
SCROLLBAR = 1


class RowList(LineList[Row]):
    """The rows. The cursor stays on its row, by key, whatever changes around it."""

    def __init__(self, table: Table[Any], *, stays_lit: bool) -> None:
        super().__init__()
        self.cursor_stays_lit = stays_lit
        self.columns = table.columns
        self.says_when_empty = table.empty
        self.bare = False  # whether the currency stands in the frame

    @property
    def key(self) -> Hashable | None:
        """The key of the row under the cursor."""
        return self.current.key if self.current is not None else None

    @property
    def now_us(self) -> int:
        """The instant at which the rows are seen."""
        return cast("BenchApp", self.app).desk.clock.now_us()

    def line_of(self, item: Row, width: int) -> Line:
        """A row as parts."""
        if isinstance(item.cells, RecordCells):
            cells = item.cells.seen(self.now_us, bare=self.bare)
            item = replace(item, cells=cells)
        return row_line(item, self.columns, width - MARGIN)

    @property
    def room(self) -> int:
        """The cells that a row can take."""
        return self.line_width - MARGIN

    def stops_at(self, item: Row) -> bool:
        """The cursor skips headings."""
        return not item.heading

    def mark_key(self, item: Row) -> Hashable:
        """Every row can be marked but headings and totals."""
        return None if item.heading or item.total else item.key

    def when_empty(self) -> Line:
        """What to say when there is no row."""
        return (Part(f" {self.says_when_empty}", "muted"),)


class ColumnNames(Painted):
    """The names of the columns."""

    class Clicked(Message):
        """A name was clicked: that of the column at this place."""

        def __init__(self, place: int) -> None:
            self.place = place
            super().__init__()

    def __init__(self, columns: Sequence[Column[Any]]) -> None:
        super().__init__()
        self.columns = tuple(columns)

    def paint(self, width: int) -> Sequence[Line]:
        """One line, over the columns of the list below."""
        return ((Part(" "), *names_line(self.columns, width - MARGIN - SCROLLBAR)),)

    def on_click(self, event: events.Click) -> None:
        """Tell whose name it was."""
        place = column_at(self.columns, self.size.width - MARGIN - SCROLLBAR, event.x - 1)
        if place is not None:
            self.post_message(self.Clicked(place))


class RowTable(Stacked):
    """Rows under the names of their columns, in a frame with the table's title."""

    class Arranged(Message):
        """A person sorted the table, or chose its columns; `source` is the table."""

        def __init__(self, source: RowTable) -> None:
            self.source = source
            super().__init__()

    chooses_columns = True

    def __init__(
        self,
        table: Table[Any],
        *,
        stays_lit: bool = False,
        id: str | None = None,  # noqa: A002
    ) -> None:
        super().__init__(id=id)
        self.border_title = table.title
        self.title = table.title
        self.table = table
        self.names = ColumnNames(table.columns)
        self.rows = RowList(table, stays_lit=stays_lit)
        self.arrangement = Arrangement()
        self.filter_text = ""
        self._given: Sequence[Row] = ()
        self._said: Sequence[str] | None = None  # what each row given says, once that was asked

    def compose(self) -> ComposeResult:
        """Names above rows."""
        if any(column.heading for column in self.rows.columns):
            yield self.names
        yield self.rows

    @property
    def key(self) -> Hashable | None:
        """The key of the row under the cursor."""
        return self.rows.key

    @property
    def record(self) -> Any:
        """The record under the cursor; None where its row is of no record."""
        cells = self.rows.current.cells if self.rows.current is not None else ()
        return cells.record if isinstance(cells, RecordCells) else None

    @property
    def is_current(self) -> bool:
        """Whether the next key goes to this table."""
        return self.rows.has_focus

    @property
    def chosen(self) -> tuple[Row, ...]:
        """The rows that are marked, else the one under the cursor."""
        return self.rows.marked or ((self.rows.current,) if self.rows.current is not None else ())

    @property
    def hidden_places(self) -> frozenset[int]:
        """The places of the columns that a person has hidden."""
        names = enumerate(column_names(self.table))
        return frozenset(place for place, name in names if name in self.arrangement.hidden)

    def take_focus(self) -> None:
        """Have the next key go to this table."""
        self.screen.set_focus(self.rows)

    def go_to(self, key: Hashable) -> bool:
        """Put the cursor on the row with this key, and have the next key go there; False where it is not."""
        index = _place_of(self.rows.items, key, self.rows.cursor)
        if index is not None:
            self.rows.cursor = index
            self.take_focus()
        return index is not None

    def fill(self, records: Iterable[Any], context: Context = PLAIN, *, at: Hashable | None = None) -> None:
        """Show these records of the table; the cursor as in `show`."""
        self.show(rows_of(self.table, records, context), at=at)

    def show(self, rows: Sequence[Row], *, at: Hashable | None = None) -> None:
        """Show these rows; the cursor goes to the key `at`, or stays on its own, or close to where it was."""
        self._given = rows if isinstance(rows, RecordRows) else tuple(rows)
        self._said = None
        self._tell_currency()
        self._show(at)

    def filter_by(self, typed: str) -> None:
        """Show only the rows that say every word typed."""
        self.filter_text = typed
        self.rows.says_when_empty = "Nothing matches." if typed.strip() else self.table.empty
        self._show()

    def set_arrangement(self, arrangement: Arrangement) -> None:
        """Sort it, and show the columns, as a person has it."""
        self.arrangement = arrangement
        self.rows.columns = self.names.columns = arranged_columns(self.table, arrangement)
        self.names.repaint()
        self.rows.refresh()
        self._show()

    def rearrange(self, arrangement: Arrangement) -> None:
        """As a person has it from now on: whoever keeps that is told."""
        self.set_arrangement(arrangement)
        self.post_message(self.Arranged(self))

    def sort_by(self, place: int) -> bool:
        """By that column, then falling, then in its own order again; False where it cannot be sorted by."""
        if not can_sort(self.table.columns[place]):
            return False
        self.rearrange(self.arrangement.sorted_next(column_names(self.table)[place]))
        return True

    def turn_column(self, place: int) -> bool:
        """Hide that column, or show it; False where it is the last one seen."""
        seen = [at for at, cells in enumerate(widths(self.rows.columns, self.rows.room)) if cells]
        if seen == [place]:
            return False
        self.rearrange(self.arrangement.turned(column_names(self.table)[place], seen=place in seen))
        return True

    def sees_column(self, place: int) -> bool:
        """Whether that column is seen now."""
        return bool(widths(self.rows.columns, self.rows.room)[place])

    def mark_here(self) -> bool:
        """Mark the row under the cursor, or take its mark off; False where that cannot be."""
        marked = self.rows.mark_here()
        self._tell()
        return marked

    def unmark(self) -> None:
        """Take all marks off."""
        self.rows.unmark()
        self._tell()

    @on(ColumnNames.Clicked)
    def _name_clicked(self, event: ColumnNames.Clicked) -> None:
        event.stop()
        self.sort_by(event.place)

    def _show(self, at: Hashable | None = None) -> None:
        kept = self.rows.key if at is None else at
        items = self._items()
        index = _place_of(items, kept, self.rows.cursor)
        if index is None:
            index = _near(items, self.rows.cursor)
        self.rows.show(items, index)
        self._tell()

    def _tell_currency(self) -> None:
        """In the frame, once."""
        rows = self._given
        contexts = (one.cells.context for one in rows if isinstance(one.cells, RecordCells))
        context = rows.context if isinstance(rows, RecordRows) else next(contexts, PLAIN)
        currency = currency_of(self.table, context)
        self.rows.bare = bool(currency)
        title = ", ".join(filter(None, (self.title, currency)))
        if str(self.border_title or "") != title:
            self.border_title = title

    def _items(self) -> Sequence[Row]:
        rows = self._given
        if self.filter_text.strip():
            if self._said is None:
                self._said = searchable_rows(rows, self.table, self.rows.now_us, bare=self.rows.bare)
            rows = filtered_rows(rows, self._said, self.filter_text)
        return sorted_rows(rows, self.table, self.arrangement) if self.arrangement.by else rows

    def _tell(self) -> None:
        """Say in the frame what is not as the table has it by itself."""
        told = []
        if self.filter_text.strip():
            of = f"{count_of(self.rows.items)} of {count_of(self._given)} lines"
            told.append(f"{of}; totals are of all")
        if self.rows.marked:
            told.append(f"{len(self.rows.marked)} marked")
        words = ", ".join(told)
        if str(self.border_subtitle or "") != words:
            self.border_subtitle = words


def _place_of(rows: Sequence[Row], key: Hashable | None, before: int) -> int | None:
    """Where the row with this key is that the cursor may stand at: looked for first where it was `before`."""
    if not isinstance(rows, RecordRows):
        return next((n for n, row in enumerate(rows) if row.key == key and not row.heading), None)
    if 0 <= before < len(rows) and rows[before].key == key:
        return before
    return rows.place_of(key)


def _near(rows: Sequence[Row], index: int) -> int:
    """The index nearest to this one that the cursor may stand at; -1 where there is none."""
    if isinstance(rows, RecordRows):
        return min(max(index, 0), len(rows) - 1)
    stops = [n for n, row in enumerate(rows) if not row.heading]
    return min(stops, key=lambda n: abs(n - index), default=-1)
