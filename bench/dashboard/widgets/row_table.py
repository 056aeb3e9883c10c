"""A table: the names of its columns above rows with a cursor, drawn line by line."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from typing import Any

from textual.app import ComposeResult
from textual.containers import Vertical

from bench.dashboard.presenters.pieces import Line, Part
from bench.dashboard.presenters.rows import RecordRows, Row, names_line, row_line, rows_of
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.painted import Painted
from bench.views.columns import Column, Table
from bench.views.kinds import PLAIN, Context

MARGIN = 2  # the cursor's mark before a row, a blank behind it
SCROLLBAR = 1


class RowList(LineList[Row]):
    """The rows. The cursor stays on its row, by key, whatever changes around it."""

    def __init__(self, table: Table[Any], *, stays_lit: bool) -> None:
        super().__init__()
        self.cursor_stays_lit = stays_lit
        self.columns = table.columns
        self.says_when_empty = table.empty

    @property
    def key(self) -> Hashable | None:
        """The key of the row under the cursor."""
        return self.current.key if self.current is not None else None

    def line_of(self, item: Row, width: int) -> Line:
        """A row as parts."""
        return row_line(item, self.columns, width - MARGIN)

    @property
    def room(self) -> int:
        """The cells that a row can take."""
        return self.line_width - MARGIN

    def stops_at(self, item: Row) -> bool:
        """The cursor skips headings."""
        return not item.heading

    def when_empty(self) -> Line:
        """What to say when there is no row."""
        return (Part(f" {self.says_when_empty}", "muted"),)


class ColumnNames(Painted):
    """The names of the columns."""

    def __init__(self, columns: Sequence[Column[Any]]) -> None:
        super().__init__()
        self.columns = tuple(columns)

    def paint(self, width: int) -> Sequence[Line]:
        """One line, over the columns of the list below."""
        return ((Part(" "), *names_line(self.columns, width - MARGIN - SCROLLBAR)),)


class RowTable(Vertical):
    """Rows under the names of their columns, in a frame with the table's title."""

    def __init__(
        self,
        table: Table[Any],
        *,
        stays_lit: bool = False,
        id: str | None = None,  # noqa: A002
    ) -> None:
        super().__init__(id=id)
        self.border_title = table.title
        self.table = table
        self.names = ColumnNames(table.columns)
        self.rows = RowList(table, stays_lit=stays_lit)

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
    def is_current(self) -> bool:
        """Whether the next key goes to this table."""
        return self.rows.has_focus

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
        kept = self.rows.key if at is None else at
        items = rows if isinstance(rows, RecordRows) else tuple(rows)
        index = _place_of(items, kept, self.rows.cursor)
        if index is None:
            index = _near(items, self.rows.cursor)
        self.rows.show(items, index)


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
