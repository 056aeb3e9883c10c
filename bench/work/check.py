"""Look the data file over: its size and revision, whether it is sound, and what this SQLite is known for."""

from __future__ import annotations

import platform
import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

from bench import __version__
from bench.domain.copies import FileCopy
from bench.store.copies import copies_folder, copies_of
from bench.store.engine import Store
from bench.work.photographs_on_disk import PhotographCheck, check_photographs
from bench.work.record_check import UNREAD, RecordCheck, check_record

# Source: sqlite.org/wal.html, section on the WAL-reset bug: in 3.7.0 to 3.51.2, mended in 3.51.3 and,
# for older lines, in 3.44.6 and 3.50.7.
_MENDED = (3, 51, 3)
_MENDED_LINES: dict[tuple[int, ...], int] = {(3, 44): 6, (3, 50): 7}
_FIRST_WITH_WAL = (3, 7, 0)

_LIBRARIES = ("textual", "rich", "sqlmodel", "SQLAlchemy", "alembic", "arrow", "typer")
MOST_SHOWN = 5


@dataclass(frozen=True, slots=True)
class FileCheck:
    """What was found. `note` may be empty.

    `integrity`: "ok" or what is wrong. `references`: "ok" or the tables with rows that point nowhere.
    `photographs`: whether their files agree with what is on record; None where that cannot be read.
    `last_copy`: the newest of `copies` verified copies in `copies_folder`.
    """

    path: str
    size_bytes: int
    revision: str
    integrity: str
    references: str
    versions: Mapping[str, str]
    last_copy: FileCopy | None
    copies: int
    copies_folder: str
    note: str
    record: RecordCheck
    photographs: PhotographCheck | None

    @property
    def sound(self) -> bool:
        """Whether SQLite found nothing wrong, and the tables are what the journal says."""
        return self.integrity == "ok" and self.references == "ok" and self.record.agrees


def check_file(store: Store) -> FileCheck:
    """Check every page, index and reference of the open file, and its record; a large one takes seconds."""
    with store.read() as connection:
        integrity = _asked(connection, "PRAGMA integrity_check")
        broken = _asked(connection, "PRAGMA foreign_key_check")
        revision = "".join(_asked(connection, "SELECT version_num FROM alembic_version"))
        # What cannot be read whole cannot be replayed.
        record = check_record(connection) if integrity == ["ok"] else UNREAD
        photographs = check_photographs(connection, store.path) if integrity == ["ok"] else None
    copies = copies_of(store.path)
    return FileCheck(
        path=str(store.path),
        size_bytes=_size(store.path),
        revision=revision,
        integrity="; ".join(integrity[:MOST_SHOWN]),
        references="; ".join(sorted(set(broken))) or "ok",
        versions=_versions(),
        last_copy=copies[0] if copies else None,
        copies=len(copies),
        copies_folder=str(copies_folder(store.path)),
        note=wal_note(sqlite3.sqlite_version_info),
        record=record,
        photographs=photographs,
    )


def wal_note(sqlite_version: tuple[int, ...]) -> str:
    """A sentence when this SQLite has the rare race of two programs that write to one file; else empty."""
    mended = sqlite_version >= _MENDED or _MENDED_LINES.get(sqlite_version[:2], 999) <= sqlite_version[2]
    if mended or sqlite_version < _FIRST_WITH_WAL:
        return ""
    number = ".".join(str(part) for part in sqlite_version)
    return (
        f"SQLite {number} has a rare fault when two programs write to one file at the same instant "
        "(sqlite.org/wal.html, WAL-reset). Keep backups; 3.51.3 and later do not have it."
    )


def _asked(connection: sqlite3.Connection, sql: str) -> list[str]:
    """The first column of each row; what SQLite says instead when it cannot read that far."""
    try:
        return [str(row[0]) for row in connection.execute(sql)]
    except sqlite3.DatabaseError as error:
        return [str(error)]


def _size(path: Path) -> int:
    parts = (path, path.with_name(f"{path.name}-wal"))
    return sum(part.stat().st_size for part in parts if part.exists())


def _versions() -> dict[str, str]:
    own = {"bench": __version__, "Python": platform.python_version(), "SQLite": sqlite3.sqlite_version}
    return own | {name.lower(): version(name) for name in _LIBRARIES}
