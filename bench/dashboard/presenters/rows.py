"""A table on a screen: columns that share the width there is, and rows of cells under them."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple, TypeVar, overload

from bench.dashboard.presenters.pieces import Line, Part, bar, cut, fit, length
from bench.views.columns import Column, Table, longest, scaled
from bench.views.kinds import BAR, OF_MONEY, PLAIN, TEXT, WORD, Context

Record = TypeVar("Record")

GAP = 2
TOTAL = "total"
ADDING_UP = "being added up"


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

    `wide`: its cells fill the width too, one after the other, but the cursor stops at it. `total`: what the
    others add up to.
    """

    key: Hashable
    cells: Sequence[Part | Bar]
    heading: bool = False
    wide: bool = False
    total: bool = False


def cell(text: str, look: str = "") -> Part:
    """A cell of text."""
    return Part(text, look)


def heading(key: Hashable, text: str) -> Row:
    """A row that names the ones below it."""
    return Row(key, (Part(text, "heading"),), heading=True)


def not_known_rows() -> tuple[Row, ...]:
    """In place of figures that are not known yet."""
    return (heading(ADDING_UP, ADDING_UP),)


def seen_at(context: Context, now_us: int, *, bare: bool) -> Context:
    """The context as rows are seen at this instant; `bare`: with the currency told elsewhere, once."""
    return context._replace(now_us=context.now_us or now_us, bare=bare)


class RecordCells(Sequence[Part | Bar]):
    """A record's cells, each made when it is looked at: of a long table, only what is on the screen."""

    def __init__(
        self, columns: Sequence[Column[Any]], record: Any, context: Context, longest: Mapping[int, int]
    ) -> None:
        self.columns = columns
        self.record = record
        self.context = context
        self.longest = longest

    def __len__(self) -> int:
        return len(self.columns)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Sequence) and tuple(self) == tuple(other)

    __hash__ = None  # type: ignore[assignment]

    def seen(self, now_us: int, *, bare: bool) -> RecordCells:
        """The same as it is seen at this instant; `bare`: with the currency told elsewhere, once."""
        context = seen_at(self.context, now_us, bare=bare)
        return RecordCells(self.columns, self.record, context, self.longest)

    @overload
    def __getitem__(self, place: int) -> Part | Bar: ...
    @overload
    def __getitem__(self, place: slice) -> tuple[Part | Bar, ...]: ...
    def __getitem__(self, place: int | slice) -> Part | Bar | tuple[Part | Bar, ...]:
        """One cell, or several."""
        if isinstance(place, slice):
            return tuple(self[one] for one in range(len(self))[place])
        column = self.columns[place]
        look = column.look_of(self.record)
        if column.kind is not BAR:
            return Part(column.words(self.record, self.context), look)
        size = scaled(column, self.record, self.longest[range(len(self))[place]])
        return Bar(abs(size.part), size.whole, look, size.shaded)


class RecordRows(Sequence[Row]):
    """A row for each record, made when it is looked at: twenty thousand take as long as a screenful."""

    def __init__(self, table: Table[Any], records: Iterable[Any], context: Context) -> None:
        self.table = table
        self.records = tuple(records)
        self.context = context
        columns = enumerate(table.columns)
        self.longest = {place: longest(one, self.records) for place, one in columns if one.kind is BAR}

    def __len__(self) -> int:
        return len(self.records)

    @overload
    def __getitem__(self, place: int) -> Row: ...
    @overload
    def __getitem__(self, place: slice) -> tuple[Row, ...]: ...
    def __getitem__(self, place: int | slice) -> Row | tuple[Row, ...]:
        """One row, or several."""
        if isinstance(place, slice):
            return tuple(self[one] for one in range(len(self))[place])
        record = self.records[place]
        cells = RecordCells(self.table.columns, record, self.context, self.longest)
        return Row(self.table.key_of(record), cells)

    def place_of(self, key: Hashable) -> int | None:
        """Where the row with this key is; None where there is none."""
        key_of = self.table.key_of
        return next((place for place, record in enumerate(self.records) if key_of(record) == key), None)


def rows_of(table: Table[Record], records: Iterable[Record], context: Context = PLAIN) -> RecordRows:
    """A row for each record."""
    return RecordRows(table, records, context._replace(screen=True))


def currency_of(table: Table[Any], context: Context) -> str:
    """The currency that a table's frame tells, and no cell of it; empty for a table without money."""
    return context.currency if any(column.kind in OF_MONEY for column in table.columns) else ""


def total_row(table: Table[Record], record: Record, context: Context) -> Row:
    """The row of what the others add up to; it has no bar."""
    context = context._replace(screen=True, bare=bool(currency_of(table, context)))
    cells = tuple(Part(column.words(record, context), "strong") for column in table.columns)
    return Row(TOTAL, cells, total=True)


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


def column_at(columns: Sequence[Column[Any]], total: int, cell: int) -> int | None:
    """The place of the column that takes that cell of `total`; None between them and behind."""
    begins = 0
    for place, width in enumerate(widths(columns, total)):
        if width:
            if begins <= cell < begins + width:
                return place
            begins += width + GAP
    return None


def row_line(row: Row, columns: Sequence[Column[Any]], total: int) -> Line:
    """A row as parts for `total` cells."""
    if row.heading or row.wide:
        return cut(tuple(part for part in row.cells if isinstance(part, Part)), total)
    taken = widths(columns, total)
    parts: list[Part] = []
    for place, (column, width) in enumerate(zip(columns, taken, strict=True)):
        if width:
            parts += [_drawn(row.cells[place], width, right=column.kind.right), Part(" " * GAP)]
    return cut(tuple(parts[:-1]), total)


def names_line(columns: Sequence[Column[Any]], total: int) -> Line:
    """The names of the columns as parts for `total` cells."""
    return row_line(Row("", tuple(Part(column.heading, "muted") for column in columns)), columns, total)


def _drawn(content: Part | Bar, width: int, *, right: bool) -> Part:
    if isinstance(content, Part):
        return Part(fit(content.text, width, right=right), content.look)
    draw = bar if content.shaded else length
    return Part(draw(content.part, content.whole, width), content.look)
