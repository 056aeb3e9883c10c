"""Replay the journal and hold the tables against it: each row's history must lead to what the row is now."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from bench.errors import StoreError
from bench.store.revision import SHAPES_REPLAYED
from bench.views import replay as reads

# A counter that only goes on is in no line: it says nothing of what happened.
_UNRECORDED = frozenset({"next_tag_number"})

Values = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Difference:
    """Where a table is not what the journal says: row, column, line, what that says and what is there.

    `column` is empty where the whole row is there or missing against the journal.
    """

    table: str
    row_id: int
    column: str
    journal_id: int
    recorded: str
    found: str

    def sentence(self) -> str:
        """All of it in one line."""
        what = f"{self.table} {self.row_id}" + (f", {self.column}" if self.column else "")
        return f"{what}: line {self.journal_id} says {self.recorded}, there is {self.found}"


def differences(connection: sqlite3.Connection, since_id: int = 0) -> Iterator[Difference]:
    """Every difference, in the order of tables and rows; `since_id`: only what lines after that one say.

    The number of statements is that of the tables, and the whole history is never in memory at once.
    StoreError where a line is of a shape that this version cannot replay.
    """
    strange = reads.of_another_shape(connection, since_id, SHAPES_REPLAYED)
    if strange is not None:
        raise StoreError(
            f"Line {strange.journal_id} of the journal is of shape {strange.shape}, "
            "which this version cannot replay.",
            "Look at the file with the version that wrote it.",
        )
    changes = reads.changes(connection, since_id)
    for table, of_table in groupby(changes, key=lambda change: change.table_name):
        if since_id:
            kept = list(of_table)
            ids = sorted({change.row_id for change in kept})
            yield from _of_table(table, kept, reads.rows(connection, table, ids))
        else:
            yield from _of_table(table, of_table, reads.rows(connection, table, None))


def _of_table(
    table: str, changes: Iterable[reads.NotedChange], rows: Iterator[Values]
) -> Iterator[Difference]:
    """Both run along by number of row, side by side."""
    row = next(rows, None)
    for row_id, of_row in groupby(changes, key=lambda change: change.row_id):
        while row is not None and row["id"] < row_id:
            row = next(rows, None)
        history = _History(table, row_id)
        for change in of_row:
            yield from history.goes_on(json.loads(change.noted), change.journal_id)
        yield from history.ends_at(row if row is not None and row["id"] == row_id else None)


class _History:
    """What the journal knows of one row so far: each column's value, and the line that says so."""

    def __init__(self, table: str, row_id: int) -> None:
        self.table, self.row_id = table, row_id
        self._known: dict[str, tuple[Any, int]] = {}
        self._there: bool | None = None
        self._line = 0

    def goes_on(self, noted: Values, line_id: int) -> Iterator[Difference]:
        """Take in one more change; a line whose old values are not what stood there differs."""
        before, after = noted["before"], noted["after"]
        if before is None and self._there:
            yield self._differs("", "that it is there", "an added one", line_id)
        if before is not None and self._there is False:
            yield self._differs("", "that it is gone", "a change of it", line_id)
        for column, value in (before or {}).items():
            known = self._known.get(column, (value, 0))[0]
            if known != value:
                yield self._differs(column, _shown(known), f"{_shown(value)} before", line_id)
        if after is None or before is None:
            self._known.clear()
        self._there, self._line = after is not None, line_id
        self._known.update({column: (value, line_id) for column, value in (after or {}).items()})

    def ends_at(self, row: Values | None) -> Iterator[Difference]:
        """Hold what the journal says in the end against the row of today."""
        if row is None:
            if self._there:
                yield self._differs("", "that it is there", "none", self._line)
            return
        if not self._there:
            yield self._differs("", "that it is gone", "one", self._line)
            return
        columns = set(row.keys()) - _UNRECORDED
        for column, (value, line_id) in self._known.items():
            if column in columns and row[column] != value and not _set_by_an_upgrade(column, row):
                yield self._differs(column, _shown(value), _shown(row[column]), line_id)

    def _differs(self, column: str, recorded: str, found: str, line_id: int) -> Difference:
        return Difference(self.table, self.row_id, column, line_id, recorded, found)


def _set_by_an_upgrade(column: str, row: Values) -> bool:
    """An upgrade in the development said that tasks which open a machine take its cover off, in no line."""
    return column == "lid_off" and bool(row.get("opens"))


def _shown(value: object) -> str:
    return "nothing" if value is None or value == "" else str(value)
