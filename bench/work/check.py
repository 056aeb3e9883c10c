"""Look the data file over: its size and revision, whether it and its record are sound."""

from __future__ import annotations

import platform
import sqlite3
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from importlib.metadata import version
from itertools import chain, islice
from pathlib import Path
from typing import TypeVar

from bench import __version__
from bench.domain.copies import FileCopy
from bench.errors import StoreError
from bench.store.copies import copies_folder, copies_of
from bench.store.engine import Store
from bench.views import replay as reads
from bench.work.photographs_on_disk import PhotographCheck, check_photographs
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
