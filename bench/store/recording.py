"""The recorder: notes each row a transaction touches, so that every change has its journal row.

A change is `{"table", "id", "before", "after"}`: `before` is null for a new row, `after` for a deleted one,
and both name only the columns that differ for a row that was changed.

The journal is never changed, so what must be erasable one day never enters it: of a party only that it was
added or removed is noted, a sale is noted without its note, a photograph without its file's name and its
caption's text. Adding any of them is taken back like anything else; an edit of a party's data, and erasing,
cannot be undone.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from sqlalchemy import event, inspect
from sqlalchemy.orm import Mapper
from sqlalchemy.orm import Session as OrmSession
from sqlmodel import Session, SQLModel

from bench.store.tables import AccessWord, BookingKey, Draft, Journal

Values = dict[str, Any]
_UNRECORDED = (Journal, BookingKey, Draft, AccessWord)
# A counter only ever goes on: a sticker already printed never comes to name another unit.
_COUNTERS = frozenset({"next_tag_number"})
_ERASABLE = {
    "party": frozenset({"name", "address", "contact", "identity_seen", "private", "erased_us"}),
    "sale": frozenset({"note"}),
    "photograph": frozenset({"name", "sha256", "erased_us"}),
    "photograph_caption": frozenset({"caption"}),
}


class Recorder:
    """Watches one session and keeps what its flushes changed, in order."""

    def __init__(self, session: Session) -> None:
        self._changes: list[Values] = []
        event.listen(session, "after_flush", self._note)

    def changes(self) -> str:
        """What was changed so far, as JSON for the journal."""
        return json.dumps(self._changes, ensure_ascii=False, separators=(",", ":"))

    def noted(self) -> Sequence[Values]:
        """What was changed so far, in order."""
        return self._changes

    def looked_at(self, table: str, row_id: int) -> None:
        """Note a row that was looked at and found right: what was done before it is not undone any more."""
        self._changes.append({"table": table, "id": row_id, "before": {}, "after": {}})

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
    return {name: getattr(row, name) for name in _noted_columns(state.mapper)}


def _differences(row: object) -> tuple[Values, Values]:
    state = inspect(row)
    assert state is not None
    before: Values = {}
    after: Values = {}
    for name in _noted_columns(state.mapper):
        history = state.attrs[name].load_history()
        if name in _COUNTERS:
            continue
        if history.has_changes() and history.deleted != history.added:
            before[name] = history.deleted[0] if history.deleted else None
            after[name] = history.added[0] if history.added else None
    return before, after


def _noted_columns(mapper: Mapper[Any]) -> list[str]:
    erasable = _ERASABLE.get(mapper.class_.__tablename__, frozenset())
    return [column.key for column in mapper.column_attrs if column.key not in erasable]
