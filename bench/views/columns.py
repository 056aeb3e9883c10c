"""A table told once: columns with a getter, a kind and a look; every form of it is written from this."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass
from operator import attrgetter
from typing import Any, Generic, NamedTuple, TypeVar

from bench.views.kinds import SAID, TEXT, Context, Filled, Kind, Said

Record = TypeVar("Record")


@dataclass(frozen=True, slots=True)
class Column(Generic[Record]):
    """A column. `get`: the record's field, or what answers its value; None is told as unknown.

    On a screen: `width` is the least number of cells (0: what its kind takes), `grow` its share of the room
    left over, and it is shown in tables at least `from_width` wide; a paper leaves out first what needs most.
    `beneath`: a plain paper tells it whole beneath the row, where it says anything.
    """

    heading: str
    get: str | Callable[[Record], object]
    kind: Kind = TEXT
    width: int = 0
    grow: int = 0
    from_width: int = 0
    look: str | Callable[[Record], str] = ""
    beneath: bool = False

    @property
    def least(self) -> int:
        """The least cells that it takes on a screen."""
        return self.width or max(self.kind.width, len(self.heading) if self.kind.right else 0)

    def value(self, record: Record) -> Any:
        """What the record has in this column."""
        return attrgetter(self.get)(record) if isinstance(self.get, str) else self.get(record)

    def words(self, record: Record, context: Context) -> str:
        """That value as it is told everywhere; nothing for a bar, which is drawn."""
        return self.kind.told(self.value(record), context)

    def look_of(self, record: Record) -> str:
        """How the cell looks on a screen."""
        if self.kind is SAID:
            said: Said = self.value(record)
            return said.look
        return self.look if isinstance(self.look, str) else self.look(record)


@dataclass(frozen=True)
class Table(Generic[Record]):
    """A table. `name`: in files; `key`: what tells a record from the others; `empty`: said of none."""

    name: str
    title: str
    columns: tuple[Column[Record], ...]
    key: str | Callable[[Record], Hashable] = ""
    empty: str = ""

    def key_of(self, record: Record) -> Hashable:
        """What tells this record from the others."""
        key: Hashable = attrgetter(self.key)(record) if isinstance(self.key, str) else self.key(record)
        return key


class Scaled(NamedTuple):
    """A bar's value: `part` of `whole`; `shaded` where what is missing shows."""

    part: int
    whole: int
    shaded: bool = False


def longest(column: Column[Record], records: Iterable[Record]) -> int:
    """By what the bars of a column are scaled that have no whole of their own."""
    values = (column.value(record) for record in records)
    return max((abs(one) for one in values if isinstance(one, int)), default=0)


def scaled(column: Column[Record], record: Record, whole: int) -> Scaled:
    """A record's bar by its own whole, else by this one."""
    value = column.value(record)
    if isinstance(value, Filled):
        return Scaled(value.part, value.whole, shaded=True)
    return Scaled(value or 0, whole)


def places_by(column: Column[Record], records: Sequence[Record], *, falling: bool = False) -> list[int]:
    """The places of the records in the order of that column's values.

    The unknown come last either way, equals stay in order.
    """
    values = [column.value(record) for record in records]
    known = [place for place, value in enumerate(values) if value is not None]
    known.sort(key=lambda place: column.kind.order(values[place]), reverse=falling)
    return known + [place for place, value in enumerate(values) if value is None]


def all_words(table: Table[Record], record: Record, context: Context) -> str:
    """What a record says in all of its columns, a line each."""
    return "\n".join(column.words(record, context) for column in table.columns)
