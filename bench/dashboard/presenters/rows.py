"""Tables as plain values: columns that share the width there is, and rows of cells under them."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from bench.dashboard.presenters.bars import bar, length
from bench.dashboard.presenters.parts import Line, Part, cut, fit

GAP = 2


@dataclass(frozen=True, slots=True)
class Column:
    """A column. `grow`: its share of the room left over; `from_width`: shown in tables at least this wide."""

    title: str
    width: int
    right: bool = False
    grow: int = 0
    from_width: int = 0


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


def widths(columns: Sequence[Column], total: int) -> tuple[int, ...]:
    """The cells each column takes of `total`; 0 for one that is left out."""
    shown = [column for column in columns if total >= column.from_width]
    left = total - sum(column.width + GAP for column in shown) + GAP
    shares = sum(column.grow for column in shown)
    taken: list[int] = []
    for column in columns:
        extra = left * column.grow // shares if shares and left > 0 else 0
        taken.append(column.width + extra if column in shown else 0)
    return tuple(taken)


def row_line(row: Row, columns: Sequence[Column], total: int) -> Line:
    """A row as parts for `total` cells."""
    if row.heading or row.wide:
        return cut(tuple(part for part in row.cells if isinstance(part, Part)), total)
    taken = widths(columns, total)
    parts: list[Part] = []
    for part, column, width in zip(row.cells, columns, taken, strict=True):
        if width:
            parts += [_drawn(part, width, right=column.right), Part(" " * GAP)]
    return cut(tuple(parts[:-1]), total)


def names_line(columns: Sequence[Column], total: int) -> Line:
    """The names of the columns as parts for `total` cells."""
    return row_line(Row("", tuple(Part(column.title, "muted") for column in columns)), columns, total)


def _drawn(content: Part | Bar, width: int, *, right: bool) -> Part:
    if isinstance(content, Part):
        return Part(fit(content.text, width, right=right), content.look)
    draw = bar if content.shaded else length
    return Part(draw(content.part, content.whole, width), content.look)
