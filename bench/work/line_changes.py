"""What one line of the journal did to each row: from first to last, however often it touched the row."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

from sqlmodel import SQLModel

from bench.errors import Refused
from bench.store.revision import SHAPE
from bench.store.tables import metadata
from bench.views.undo import Line

Values = dict[str, Any]


@dataclass(slots=True)
class RowChange:
    """One row as a line found it and left it. `before` None: it was added; `after` None: it was deleted.

    For a row that was changed both name only the columns that differ.
    """

    table: str
    row_id: int
    before: Values | None
    after: Values | None
    units: set[int] = field(default_factory=set)

    @property
    def goes(self) -> bool:
        """Whether undoing it takes the row away."""
        if self.before is None:
            return True
        return self.after is not None and bool(self.before.get("removed")) and self.after.get("removed") == 0

    @property
    def comes_back(self) -> bool:
        """Whether undoing it brings a row back."""
        if self.after is None:
            return True
        return self.before is not None and self.before.get("removed") == 0 and bool(self.after.get("removed"))

    def target(self, column: str) -> Any:
        """What undoing leaves in a column that differs; None where the row goes."""
        return None if self.before is None else self.before.get(column)

    def sets_anew(self, column: str) -> bool:
        """Whether undoing gives that column of a row that stays another value."""
        return self.before is not None and self.after is not None and column in self.before


def changes_in(line: Line) -> list[Values]:
    """A line's changes in the order they were made. Refused where it is of another shape than undo knows."""
    if line.shape != SHAPE:
        raise Refused(
            f"Line {line.journal_id} of the journal is of shape {line.shape}, "
            f"and this version undoes those of shape {SHAPE}.",
            "Put right by hand what it did; nothing was changed.",
        )
    changes: list[Values] = json.loads(line.changes)
    return changes


def row_changes(changes: Iterable[Values]) -> list[RowChange]:
    """The same row by row, each from first to last."""
    rows: dict[tuple[str, int], RowChange] = {}
    for one in changes:
        key = (one["table"], one["id"])
        row = rows.get(key)
        if row is None:
            rows[key] = RowChange(*key, _copy(one["before"]), _copy(one["after"]))
            continue
        if one["after"] is None:
            row.after = None
            row.before = _whole_before(row.before, one["before"])
        else:
            row.after = {**(row.after or {}), **one["after"]}
            if row.before is not None and one["before"] is not None:
                row.before = {**one["before"], **row.before}
    return [row for row in rows.values() if not (row.before is None and row.after is None)]


def tables() -> dict[str, type[SQLModel]]:
    """The class of each table, by its name in the file."""
    mapped = {mapper.class_ for mapper in SQLModel._sa_registry.mappers}
    return {str(one.__tablename__): one for one in mapped if one.__tablename__ in metadata.tables}


def references_to(table: str) -> Sequence[tuple[str, str]]:
    """Every table and column that may name a row of this table."""
    return tuple(
        (one.name, key.parent.name)
        for one in metadata.sorted_tables
        for key in one.foreign_keys
        if key.column.table.name == table and one.name not in ("journal", "journal_row")
    )


def _copy(values: Values | None) -> Values | None:
    return None if values is None else dict(values)


def _whole_before(known: Values | None, deleted: Values) -> Values | None:
    """What a row was before a line that changed it and then deleted it; None where it also added it."""
    return None if known is None else {**deleted, **known}
