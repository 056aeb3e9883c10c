"""A table on a screen: columns that share the width there is, and rows of cells under them."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple, TypeVar

from bench.dashboard.presenters.bars import bar, length
from bench.dashboard.presenters.parts import Line, Part, cut, fit
from bench.views.columns import Column, Table, scaled
from bench.views.kinds import BAR, PLAIN, TEXT, WORD, Context

Record = TypeVar("Record")

GAP = 2
TOTAL = "total"


def room(heading: str, width: int, *, right: bool = False, grow: int = 0, from_width: int = 0) -> Column[Any]:
    """A column for cells that a presenter makes itself."""
    return Column(heading, "", WORD if right else TEXT, width, grow, from_width)


class Bar(NamedTuple):
    """A cell that is a bar as wide as its column, filled by part/whole; `shaded` shows what is missing."""

    part: int
    whole: int
    look: str = ""
    shaded: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """A row and what it is about. A `heading` fills the width with its cells; the cursor skips it.

    `wide`: its cells fill the width too, one after the other, but the cursor stops at it.
    """

    key: Hashable
    cells: tuple[Part | Bar, ...]
    heading: bool = False
    wide: bool = False


def cell(text: str, look: str = "") -> Part:
    """A cell of text."""
    return Part(text, look)


def heading(key: Hashable, text: str) -> Row:
    """A row that names the ones below it."""
    return Row(key, (Part(text, "heading"),), heading=True)


def rows_of(table: Table[Record], records: Iterable[Record], context: Context = PLAIN) -> tuple[Row, ...]:
    """A row for each record."""
    shown = tuple(records)
    columns = [_cells(column, shown, context) for column in table.columns]
    return tuple(
        Row(table.key_of(record), cells)
        for record, cells in zip(shown, zip(*columns, strict=True), strict=False)
    )


def total_row(table: Table[Record], record: Record, context: Context) -> Row:
    """The row of what the others add up to; it has no bar."""
    return Row(TOTAL, tuple(Part(column.words(record, context), "strong") for column in table.columns))


def widths(columns: Sequence[Column[Any]], total: int) -> tuple[int, ...]:
    """The cells each column takes of `total`; 0 for one that is left out."""
    shown = [column for column in columns if total >= column.from_width]
    left = total - sum(column.least + GAP for column in shown) + GAP
    shares = sum(column.grow for column in shown)
    taken: list[int] = []
    for column in columns:
        extra = left * column.grow // shares if shares and left > 0 else 0
        taken.append(column.least + extra if column in shown else 0)
    return tuple(taken)


def row_line(row: Row, columns: Sequence[Column[Any]], total: int) -> Line:
    """A row as parts for `total` cells."""
    if row.heading or row.wide:
        return cut(tuple(part for part in row.cells if isinstance(part, Part)), total)
    taken = widths(columns, total)
    parts: list[Part] = []
    for part, column, width in zip(row.cells, columns, taken, strict=True):
        if width:
            parts += [_drawn(part, width, right=column.kind.right), Part(" " * GAP)]
    return cut(tuple(parts[:-1]), total)


def names_line(columns: Sequence[Column[Any]], total: int) -> Line:
    """The names of the columns as parts for `total` cells."""
    return row_line(Row("", tuple(Part(column.heading, "muted") for column in columns)), columns, total)


def _cells(column: Column[Record], records: Sequence[Record], context: Context) -> list[Part | Bar]:
    if column.kind is BAR:
        sizes = scaled(column, records)
        return [
            Bar(abs(size.part), size.whole, column.look_of(record), size.shaded)
            for size, record in zip(sizes, records, strict=True)
        ]
    return [Part(column.words(record, context), column.look_of(record)) for record in records]


def _drawn(content: Part | Bar, width: int, *, right: bool) -> Part:
    if isinstance(content, Part):
        return Part(fit(content.text, width, right=right), content.look)
    draw = bar if content.shaded else length
    return Part(draw(content.part, content.whole, width), content.look)
