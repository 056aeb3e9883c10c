"""The rows of a table as a person has them: filtered, sorted, with the columns that were chosen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from bench.dashboard.presenters.pieces import Part
from bench.dashboard.presenters.queue_lines import folded
from bench.dashboard.presenters.rows import RecordCells, RecordRows, Row, seen_at
from bench.views.columns import Column, Table, all_words, places_by

NEVER = 1_000_000  # cells: no table is as wide
RISES, FALLS = "▲", "▼"
OF_ALL = "(of all)"


@dataclass(frozen=True, slots=True)
class Arrangement:
    """How a person has a table. `by`: the column it is sorted by, "" for its own order.

    `shown` and `hidden` name columns that are seen, or not, whatever the width.
    """

    by: str = ""
    falling: bool = False
    shown: frozenset[str] = frozenset()
    hidden: frozenset[str] = frozenset()

    def sorted_next(self, name: str) -> Arrangement:
        """By that column, then falling, then in the table's own order again."""
        if self.by != name:
            return replace(self, by=name, falling=False)
        return replace(self, falling=True) if not self.falling else replace(self, by="", falling=False)

    def turned(self, name: str, *, seen: bool) -> Arrangement:
        """With that column hidden where it is `seen`, else shown."""
        if seen:
            return replace(self, shown=self.shown - {name}, hidden=self.hidden | {name})
        return replace(self, shown=self.shown | {name}, hidden=self.hidden - {name})


def column_names(table: Table[Any]) -> tuple[str, ...]:
    """What its columns go by: their headings, with a number where one is there again, else their places."""
    names: list[str] = []
    for place, column in enumerate(table.columns, start=1):
        times = sum(column.heading == one.heading for one in table.columns[:place])
        again = f" {times}" if times > 1 else ""
        names.append(f"{column.heading}{again}" if column.heading else f"column {place}")
    return tuple(names)


def can_sort(column: Column[Any]) -> bool:
    """Whether it has values of its own, and is not made of words by a presenter."""
    return column.get != ""


def arranged_columns(table: Table[Any], arrangement: Arrangement) -> tuple[Column[Any], ...]:
    """The columns with the widths from which they are seen now, and a mark on the one it is sorted by."""
    return tuple(
        _arranged(column, name, arrangement)
        for name, column in zip(column_names(table), table.columns, strict=True)
    )


def _arranged(column: Column[Any], name: str, arrangement: Arrangement) -> Column[Any]:
    if name in arrangement.hidden:
        return replace(column, from_width=NEVER)
    if name == arrangement.by:
        column = replace(column, heading=f"{FALLS if arrangement.falling else RISES}{column.heading}")
    return replace(column, from_width=0) if name in arrangement.shown else column


def sorted_rows(rows: Sequence[Row], table: Table[Any], arrangement: Arrangement) -> Sequence[Row]:
    """The rows by the values of a column, those under each heading by themselves; totals stay last."""
    names = column_names(table)
    if arrangement.by not in names:
        return rows
    column = table.columns[names.index(arrangement.by)]
    if not can_sort(column):
        return rows
    if isinstance(rows, RecordRows):
        places = places_by(column, rows.records, falling=arrangement.falling)
        return RecordRows(table, [rows.records[place] for place in places], rows.context)
    return tuple(
        row for group in _groups(rows) for row in _in_order(group, column, falling=arrangement.falling)
    )


def searchable_rows(rows: Sequence[Row], table: Table[Any], now_us: int, *, bare: bool) -> tuple[str, ...]:
    """What each row says as it is seen now, made ready to be looked through at every keystroke."""
    if isinstance(rows, RecordRows):
        context = seen_at(rows.context, now_us, bare=bare)
        return tuple(folded(all_words(table, record, context)) for record in rows.records)
    return tuple(folded(_words(row, table, now_us, bare=bare)) for row in rows)


def filtered_rows(rows: Sequence[Row], said: Sequence[str], typed: str) -> Sequence[Row]:
    """The rows that say every word typed; a heading stays with any of its own. A total is said to be of all.

    `said`: what each row says, from `searchable_rows`.
    """
    asked = folded(typed).split()
    if not asked:
        return rows
    found = [place for place, words in enumerate(said) if all(word in words for word in asked)]
    if isinstance(rows, RecordRows):
        return RecordRows(rows.table, [rows.records[place] for place in found], rows.context)
    return tuple(_kept(rows, frozenset(found)))


def count_of(rows: Sequence[Row]) -> int:
    """How many rows there are but for headings and totals."""
    if isinstance(rows, RecordRows):
        return len(rows)
    return sum(not (row.heading or row.total) for row in rows)


def _groups(rows: Sequence[Row]) -> Iterator[list[Row]]:
    group: list[Row] = []
    for row in rows:
        if row.heading:
            yield group
            group = []
        group.append(row)
    yield group


def _in_order(group: list[Row], column: Column[Any], *, falling: bool) -> list[Row]:
    first = [row for row in group if row.heading]
    cells = {place: row.cells for place, row in enumerate(group) if not row.heading}
    told = {
        place: one.record
        for place, one in cells.items()
        if isinstance(one, RecordCells) and not group[place].total
    }
    places = list(told)
    ordered = [group[places[at]] for at in places_by(column, list(told.values()), falling=falling)]
    return [*first, *ordered, *(group[place] for place in cells if place not in told)]


def _kept(rows: Sequence[Row], found: frozenset[int]) -> Iterator[Row]:
    waiting: Row | None = None
    for place, row in enumerate(rows):
        if row.heading:
            waiting = row
        elif row.total:
            yield _of_all(row)
        elif place in found:
            if waiting is not None:
                yield waiting
                waiting = None
            yield row


def _of_all(row: Row) -> Row:
    """A total whose first words say of what it is."""
    cells = list(row.cells)
    for place, cell in enumerate(cells):
        if isinstance(cell, Part) and cell.text:
            cells[place] = Part(f"{cell.text} {OF_ALL}", cell.look)
            break
    return replace(row, cells=tuple(cells))


def _words(row: Row, table: Table[Any], now_us: int, *, bare: bool) -> str:
    if isinstance(row.cells, RecordCells):
        return all_words(table, row.cells.record, seen_at(row.cells.context, now_us, bare=bare))
    return "\n".join(cell.text for cell in row.cells if isinstance(cell, Part))
