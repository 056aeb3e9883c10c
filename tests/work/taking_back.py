"""Whether taking back puts every row that counts back to what it was."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

import pytest

from bench.desk import Desk
from bench.work.undo import undo

Answer = TypeVar("Answer")
Kept = dict[str, list[tuple[object, ...]]]

_APART = ("journal", "journal_row", "sqlite_sequence", "alembic_version", "file_identity")
_COUNTERS = {"next_tag_number"}


def kept(desk: Desk) -> Kept:
    """Every row of every table but the journal; removed rows and the counter of tags left out."""
    found: Kept = {}
    with desk.store.read() as connection:
        names = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
        for table in (name[0] for name in names if name[0] not in _APART):
            columns = [row["name"] for row in connection.execute(f"PRAGMA table_info({table})")]
            shown = ", ".join(column for column in columns if column not in _COUNTERS)
            where = "WHERE removed = 0" if "removed" in columns else ""
            rows = connection.execute(f"SELECT {shown} FROM {table} {where} ORDER BY 1").fetchall()
            found[table] = [tuple(row) for row in rows]
    return found


def is_taken_back(desk: Desk, act: Callable[[], Answer]) -> Answer:
    """Do it, see that the file changed, take it back, see that nothing is left of it, and do it again."""
    before = kept(desk)
    act()
    assert kept(desk) != before, "it changed nothing"
    undo(desk)
    assert kept(desk) == before, "something is left of it"
    return act()


def changes_nothing(desk: Desk, act: Callable[[], object], error: type[Exception], match: str) -> None:
    """See that it is refused with that sentence and leaves the file as it was, journal too."""
    before, lines = kept(desk), _journal(desk)
    with pytest.raises(error, match=match):
        act()
    assert (kept(desk), _journal(desk)) == (before, lines)


def _journal(desk: Desk) -> int:
    with desk.store.read() as connection:
        return int(connection.execute("SELECT COUNT(*) FROM journal").fetchone()[0])
