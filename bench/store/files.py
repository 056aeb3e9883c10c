"""The data file as a file: whose it is, how old it is, made whole or not at all. Plain sqlite3 only."""

from __future__ import annotations

import os
import sqlite3
import struct
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from bench.errors import StoreError
from bench.store.revision import APPLICATION_ID, HEAD, KNOWN

_MAGIC = b"SQLite format 3\x00"
_HEADER_BYTES = 100
_APPLICATION_ID_AT = 68


def require_own_file(path: Path) -> None:
    """Refuse a file that is not a bench data file, by its first 100 bytes: nothing is opened or changed."""
    try:
        with path.open("rb") as file:
            header = file.read(_HEADER_BYTES)
    except OSError as error:
        raise StoreError(
            f"{path} cannot be read ({error.strerror}).", "Check the path and who may read it."
        ) from error
    ours = (
        len(header) == _HEADER_BYTES
        and header.startswith(_MAGIC)
        and struct.unpack_from(">I", header, _APPLICATION_ID_AT)[0] == APPLICATION_ID
    )
    if not ours:
        raise StoreError(
            f"{path} is not a bench data file and was left as it is.", "Name another file with --data."
        )


def is_older(path: Path) -> bool:
    """Say whether the file wants migrating; refuse one that is newer than this program or damaged."""
    try:
        with connection_to(path) as connection:
            row = connection.execute("SELECT version_num FROM alembic_version").fetchone()
    except sqlite3.DatabaseError as error:
        raise StoreError(
            f"{path} cannot be opened ({error}); it was left as it is.",
            "Look whether the disk is full or read-only; if not, restore a backup.",
        ) from error
    if row is None or row[0] not in KNOWN:
        raise StoreError(
            f"{path} was written by a newer bench and was left as it is.",
            "Install the newer version to open it.",
        )
    return bool(row[0] != HEAD)


@contextmanager
def connection_to(path: Path) -> Iterator[sqlite3.Connection]:
    """A plain connection that only reads, with rows by name, inside one snapshot."""
    connection = sqlite3.connect(path, isolation_level=None, timeout=5.0)
    try:
        connection.row_factory = sqlite3.Row
        connection.execute("PRAGMA query_only = ON")
        connection.execute("BEGIN")
        yield connection
    finally:
        connection.close()


@contextmanager
def made_whole(path: Path) -> Iterator[Path]:
    """A scratch path beside `path` that takes its name only when the block ends well.

    A plug pulled on the way leaves no half-made data file, and of two programs that start at once
    the first one's file stays.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    scratch = path.with_name(f".{path.name}.{os.getpid()}.new")
    scratch.unlink(missing_ok=True)
    os.close(os.open(scratch, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
    try:
        yield scratch
        with scratch.open("rb") as file:
            os.fsync(file.fileno())
        _take_name(scratch, path)
    finally:
        for leftover in (scratch, Path(f"{scratch}-wal"), Path(f"{scratch}-shm")):
            leftover.unlink(missing_ok=True)


def _take_name(scratch: Path, path: Path) -> None:
    try:
        os.link(scratch, path)
    except FileExistsError:
        return
    folder = os.open(path.parent, os.O_RDONLY)
    try:
        os.fsync(folder)
    finally:
        os.close(folder)


def backup(path: Path, label: str) -> Path:
    """Copy the data file beside itself and verify the copy; StoreError, and no copy, if that fails."""
    target = path.with_name(f"{path.name}.{label}.backup")
    try:
        target.unlink(missing_ok=True)
        os.close(os.open(target, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
        verdict = _copy(path, target)
    except (OSError, sqlite3.DatabaseError) as error:
        target.unlink(missing_ok=True)
        raise unwritable(target, error) from error
    if verdict != "ok":
        target.unlink(missing_ok=True)
        raise StoreError(f"The backup {target} did not verify ({verdict}).", "The data file was not changed.")
    return target


def _copy(path: Path, target: Path) -> str:
    source = sqlite3.connect(path, timeout=5.0)
    copy = sqlite3.connect(target)
    try:
        source.backup(copy)
        return str(copy.execute("PRAGMA integrity_check").fetchone()[0])
    finally:
        copy.close()
        source.close()


def unwritable(path: Path, error: BaseException | None) -> StoreError:
    """The sentence for a write that the file, the disk or another program did not let through."""
    words = (error.strerror or "") if isinstance(error, OSError) else str(error)
    if "locked" in words:
        return StoreError(
            f"Another program has been writing to {path} for five seconds.",
            "Nothing was changed; try again.",
        )
    if "full" in words or "No space" in words:
        return StoreError(
            f"There is no room left on the disk that holds {path}.",
            "Nothing was changed; free some space and try again.",
        )
    return StoreError(f"{path} cannot be written ({words}).", "Nothing was changed.")
