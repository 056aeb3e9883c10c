"""The recorder: notes each row a transaction touches, so that every change has its journal row.

A change is `{"table", "id", "before", "after"}`: `before` is null for a new row, `after` for a deleted one,
and both name only the columns that differ for a row that was changed.
"""

from __future__ import annotations

import json
from typing import Any

from sqlalchemy import event, inspect
from sqlalchemy.orm import Session as OrmSession
from sqlmodel import Session, SQLModel

from bench.store.tables import Draft, Journal

Values = dict[str, Any]
_UNRECORDED = (Journal, Draft)
# A counter only ever goes on: a sticker already printed never comes to name another unit.
_COUNTERS = frozenset({"next_tag_number"})


class Recorder:
    """Watches one session and keeps what its flushes changed, in order."""

    def __init__(self, session: Session) -> None:
        self._changes: list[Values] = []
        event.listen(session, "after_flush", self._note)

    def changes(self) -> str:
        """What was changed so far, as JSON for the journal."""
        return json.dumps(self._changes, ensure_ascii=False, separators=(",", ":"))

    def __bool__(self) -> bool:
        return bool(self._changes)

    def _note(self, session: OrmSession, _context: object) -> None:
        for row in session.new:
            self._add(row, None, _values(row))
        for row in session.dirty:
            before, after = _differences(row)
            if after:
                self._add(row, before, after)
        for row in session.deleted:
            self._add(row, _values(row), None)

    def _add(self, row: object, before: Values | None, after: Values | None) -> None:
        if isinstance(row, _UNRECORDED) or not isinstance(row, SQLModel):
            return
        state = inspect(row)
        key = row.__dict__["id"]
        self._changes.append(
            {"table": state.mapper.local_table.name, "id": key, "before": before, "after": after}
        )


def _values(row: object) -> Values:
    state = inspect(row)
    assert state is not None
    return {column.key: getattr(row, column.key) for column in state.mapper.column_attrs}


def _differences(row: object) -> tuple[Values, Values]:
    state = inspect(row)
    assert state is not None
    before: Values = {}
    after: Values = {}
    for column in state.mapper.column_attrs:
        history = state.attrs[column.key].load_history()
        if column.key in _COUNTERS:
            continue
        if history.has_changes() and history.deleted != history.added:
            before[column.key] = history.deleted[0] if history.deleted else None
            after[column.key] = history.added[0] if history.added else None
    return before, after
