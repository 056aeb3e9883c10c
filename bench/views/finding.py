"""Finding anything by its name: all names in memory, made by a few reads and kept while nothing changes them.

Nothing of it is in the file: who was erased there is gone here with the next look, or as soon as the program
hears of a change.
"""

from __future__ import annotations

import sqlite3
import threading
import time
from array import array
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from bench.desk import Desk
from bench.domain.finding import Found, Names, find
from bench.views.binder import Query
from bench.views.finding_texts import LINES, PARTY, SOURCES, UNIT, FoundLine, Source, units_of

MOST = 40  # lines found: more than any window shows
PATIENCE_SECONDS = 0.015  # names are read for so long before what is known of them is looked through
PEOPLE = 3  # of those found, whose units are told beneath them
LONG_AGO = 200  # lines of the journal after which all is read again

_NEWEST = "SELECT COALESCE(MAX(id), 0) FROM journal"
_CHANGED = """
SELECT DISTINCT json_extract(change.value, '$.table') FROM journal
CROSS JOIN json_each(journal.changes) AS change WHERE journal.id > :seen
"""


@dataclass(frozen=True, slots=True)
class FoundPage:
    """What was found, the best first. `whole`: all names were looked through, not only those read so far."""

    lines: tuple[FoundLine, ...]
    whole: bool


@dataclass(frozen=True, slots=True)
class _Kept:
    """The names of a source, and the number behind each line."""

    names: Names
    numbers: Sequence[int]


class NamesKept:
    """All that can be found by name. Any thread may find, and say that something changed."""

    def __init__(self) -> None:
        self._kept: dict[str, _Kept] = {}
        self._seen = -1
        self._one_at_a_time = threading.Lock()

    def forget_people(self) -> None:
        """Something changed, and a person may have been erased: their names are let go of at once."""
        self._kept.pop(PARTY, None)

    def holds(self, name: str) -> bool:
        """Whether any name kept holds this one."""
        return any(name.casefold() in one.names.text for one in list(self._kept.values()))

    def find(
        self,
        desk: Desk,
        typed: str,
        besides: Mapping[str, Names] | None = None,
        *,
        patience_seconds: float = PATIENCE_SECONDS,
    ) -> FoundPage:
        """What bears all the words typed, or nearly. Of `besides` the line's number is told, and no words.

        Names that are not read yet are read for as long as the patience lasts, those of the present first.
        """
        with self._one_at_a_time, desk.store.read() as connection:
            self._forget_changed(connection)
            whole = self._read(connection, time.perf_counter() + patience_seconds)
            kept = {source.name: self._kept[source.name] for source in SOURCES if source.name in self._kept}
            named = {**(besides or {}), **{name: one.names for name, one in kept.items()}}
            found = find(named, typed, MOST)
            return FoundPage(_told(connection, found, kept), whole)

    def _forget_changed(self, connection: sqlite3.Connection) -> None:
        """Let go of the names that something written since may have changed; of all where much was."""
        newest = connection.execute(_NEWEST).fetchone()[0]
        if newest == self._seen:
            return
        if 0 <= newest - self._seen <= LONG_AGO:
            changed = {table for (table,) in connection.execute(_CHANGED, {"seen": self._seen})}
            changed.add(PARTY)  # no line of the journal tells what became of them
        else:
            changed = {table for source in SOURCES for table in source.tables}
        self._seen = newest
        for source in SOURCES:
            if changed & source.tables:
                self._kept.pop(source.name, None)

    def _read(self, connection: sqlite3.Connection, until: float) -> bool:
        """Read one source that is missing, and more while there is time; answers whether none is missing."""
        missing = [source for source in SOURCES if source.name not in self._kept]
        for read, source in enumerate(missing):
            if read and time.perf_counter() > until:
                return False
            self._kept[source.name] = _kept(connection, source)
        return True


def _kept(connection: sqlite3.Connection, source: Source) -> _Kept:
    words, numbers = connection.execute(source.text).fetchone()
    return _Kept(Names(words or "", present=source.present), array("q", map(int, (numbers or "").split())))


def find_all(desk: Desk, typed: str) -> tuple[FoundLine, ...]:
    """What bears all the words typed, or nearly so, the best first."""
    return NamesKept().find(desk, typed, patience_seconds=3600).lines


def all_present(desk: Desk, kind: str) -> tuple[FoundLine, ...]:
    """Everything of a kind that is of the present, in the order in which it would be found."""
    source = next(one for one in SOURCES if one.name == kind)
    with desk.store.read() as connection:
        numbers = _kept(connection, source).numbers
        told = {line.number: line for line in _lines(connection, LINES[kind], numbers)}
    return tuple(told[number] for number in numbers)


def _told(
    connection: sqlite3.Connection, found: Iterable[Found], kept: Mapping[str, _Kept]
) -> tuple[FoundLine, ...]:
    """The lines found, as they are in the file now; of `besides` with their number alone."""
    wanted: dict[str, list[int]] = {}
    order: list[tuple[str, int]] = []
    for one in found:
        if one.kind in kept:
            kind, number = one.kind.partition(" ")[0], kept[one.kind].numbers[one.line]
            wanted.setdefault(kind, []).append(number)
            order.append((kind, number))
        else:
            order.append((one.kind, one.line))
    told = {
        (line.kind, line.number): line
        for kind, numbers in wanted.items()
        for line in _lines(connection, LINES[kind], numbers)
    }
    people = [number for kind, number in order if kind == PARTY][:PEOPLE]
    units = {number: units_of(connection, number) for number in people}
    lines: dict[tuple[str, int], FoundLine] = {}
    for kind, number in order:
        if kind in wanted and (kind, number) not in told:
            continue  # it went meanwhile
        lines.setdefault((kind, number), told.get((kind, number)) or FoundLine(kind, number))
        if kind == PARTY:
            for unit in units.get(number, ()):
                of_them = replace(unit, place=f"{unit.place} {told[kind, number].name}")
                lines.setdefault((UNIT, unit.number), of_them)
    return tuple(lines.values())[:MOST]


def _lines(
    connection: sqlite3.Connection, query: Query[FoundLine], numbers: Sequence[int]
) -> tuple[FoundLine, ...]:
    return query.all(connection, numbers=str(list(numbers)))
