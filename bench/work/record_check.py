"""Whether the record is true: the journal replayed, sums added up, the rules of the bench looked at."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import chain, islice
from typing import TypeVar

from bench.errors import StoreError
from bench.store.engine import Store
from bench.views import replay as reads
from bench.work.replay import Difference, differences

# Of each kind so many are kept; whoever has more than these has to look at the file itself.
MOST_KEPT = 1_000
NEWEST_LINES = 200


_Found = TypeVar("_Found")


@dataclass(frozen=True, slots=True)
class RecordCheck:
    """What was found. `lines`: of the journal that were replayed; each sum and each rule is one sentence."""

    lines: int
    differences: tuple[Difference, ...]
    sums: tuple[str, ...]
    rules: tuple[str, ...]

    @property
    def agrees(self) -> bool:
        """Whether the tables are what the journal says and the sums add up."""
        return not self.differences and not self.sums


UNREAD = RecordCheck(0, (), (), ())


def check_record(connection: sqlite3.Connection) -> RecordCheck:
    """Replay the whole journal in one snapshot. A fixed number of statements, whatever its length."""
    found: tuple[Difference, ...] = ()
    unread: list[str] = []
    try:
        found = _some(differences(connection))
    except StoreError as error:  # a line that cannot be replayed: with it, no row's history is known
        unread.append(str(error))
    sums = (f"{one.table_name} {one.row_id}: {one.what}" for one in reads.wrong_sums(connection))
    return RecordCheck(
        lines=reads.lines_since(connection, 0),
        differences=found,
        sums=_some(chain(unread, sums)),
        rules=_some(_broken_rules(connection)),
    )


def check_newest(store: Store, *, lines: int = NEWEST_LINES) -> tuple[Difference, ...]:
    """Whether the rows that the newest lines touched are what these say: quick, for the start."""
    with store.read() as connection:
        since_id = max(0, reads.newest_line(connection) - lines)
        return _some(differences(connection, since_id)) if since_id else _some(differences(connection))


def _some(found: Iterable[_Found]) -> tuple[_Found, ...]:
    return tuple(islice(found, MOST_KEPT))


def _broken_rules(connection: sqlite3.Connection) -> Iterator[str]:
    from bench.work.invariants import broken_rules

    return (error.what for error in broken_rules(connection))
