"""The data file as a file: whose it is, how old it is, made whole or not at all. Plain sqlite3 only."""

from __future__ import annotations

import errno
import os
import sqlite3
import stat
import struct
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from bench.errors import MissingFile, StoreError
from bench.store.beside import locked_beside
from bench.store.connecting import connect, side_file
from bench.store.marks import OWN_MARK, mark_in
from bench.store.readers import reading_connection
from bench.store.refusals import unopenable
from bench.store.revision import APPLICATION_ID, EARLY, HEAD, KNOWN
from bench.store.side_files import readable

_MAGIC = b"SQLite format 3\x00"
_HEADER_BYTES = 100
_APPLICATION_ID_AT = 68
_LONGEST_NAME = 255 - len("-journal")  # bytes, on every common file system; SQLite's own files must fit too
_NO_HARD_LINKS = frozenset((errno.EPERM, errno.EOPNOTSUPP, errno.ENOSYS, errno.EMLINK, errno.EACCES))


def is_there(path: Path) -> bool:
    """Whether a file has this path. StoreError for a path that no data file can have; nothing is opened."""
    try:
        if len(os.fsencode(path.name)) > _LONGEST_NAME:
            raise OSError(errno.ENAMETOOLONG, "File name too long")
        kind = path.stat().st_mode
    except (FileNotFoundError, NotADirectoryError):
        return False
    except OSError as error:
        raise _unusable(path, error.strerror or str(error)) from error
    except ValueError as error:  # a NUL in the name
        raise _unusable(path, str(error)) from error
    if stat.S_ISDIR(kind):
        raise StoreError(f"{path} is a folder, not a data file.", "Name a file with --data.")
    if not stat.S_ISREG(kind):
        raise StoreError(f"{path} is no ordinary file.", "Name a file on a disk with --data.")
    return True


def _unusable(path: Path, why: str) -> StoreError:
    return StoreError(f"{path} cannot be a data file ({why}).", "Name another file with --data.")


def require_own_file(path: Path) -> None:
    """Refuse a file that is not a bench data file, by its first 100 bytes: nothing is opened or changed."""
    if not is_there(path):
        raise MissingFile(f"{path} is not there.", "Check the path; --new makes a new data file there.")
    try:
        with path.open("rb") as file:
            header = file.read(_HEADER_BYTES)
    except OSError as error:
        raise StoreError(
            f"{path} cannot be read ({error.strerror}).", "Check the path and who may read it."
        ) from error
    if not is_own_header(header):
        raise StoreError(
            f"{path} is not a bench data file and was left as it is.", "Name another file with --data."
        )


def is_own_header(header: bytes) -> bool:
    """Whether a file that begins with these bytes is a bench data file."""
    return (
        len(header) == _HEADER_BYTES
        and header.startswith(_MAGIC)
        and struct.unpack_from(">I", header, _APPLICATION_ID_AT)[0] == APPLICATION_ID
    )


def is_older(path: Path) -> bool:
    """Say whether the file wants migrating; refuse one that is damaged, newer or of an early revision."""
    found = revision_of(path)
    if found in EARLY:
        raise StoreError(
            f"{path} is of the early revision {found}, which this bench cannot read, and was left as it is.",
            f"Open it once with the last bench that writes revision {KNOWN[0]}, then with this one.",
        )
    if found not in KNOWN:
        raise StoreError(
            f"{path} was written by a newer bench and was left as it is.",
            "Install the newer version to open it.",
        )
    return found != HEAD


def revision_of(path: Path) -> str:
    """The revision of the file's tables; empty where it says none. StoreError where it cannot be read."""
    try:
        with readable(path) as at, connection_to(at) as connection:
            row = connection.execute("SELECT version_num FROM alembic_version").fetchone()
    except sqlite3.DatabaseError as error:
        raise unopenable(path, error) from error
    return "" if row is None else str(row[0])


@contextmanager
def connection_to(path: Path) -> Iterator[sqlite3.Connection]:
    """A plain connection that only reads, with rows by name, inside one snapshot."""
    connection = reading_connection(path)
    try:
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
    scratch = path.with_name(f".bench.{os.getpid()}.new")
    scratch.unlink(missing_ok=True)
    os.close(os.open(scratch, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
    try:
        yield scratch
        with scratch.open("rb") as file:
            os.fsync(file.fileno())
        _take_name(scratch, path)
    finally:
        for leftover in (scratch, side_file(scratch, "-wal"), side_file(scratch, "-shm")):
            leftover.unlink(missing_ok=True)


def _take_name(scratch: Path, path: Path) -> None:
    try:
        os.link(scratch, path)
    except FileExistsError:
        return
    except OSError as error:
        if error.errno not in _NO_HARD_LINKS:
            raise
        with locked_beside(path):
            if path.exists():
                return
            scratch.rename(path)
    folder = os.open(path.parent, os.O_RDONLY)
    try:
        os.fsync(folder)
    finally:
        os.close(folder)


def copy_from(
    source: sqlite3.Connection, target: Path, is_as_far: Callable[[sqlite3.Connection], bool]
) -> str:
    """Copy what a connection sees into the new file `target`; "ok", or what is wrong with it: then none.

    `is_as_far`: whether the copy is of the file that was opened, with all that was confirmed.
    FileExistsError where there is one already; another OSError or sqlite3.DatabaseError where it cannot be.
    """
    os.close(os.open(target, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
    verdict = ""
    try:
        with closing(connect(target)) as copy:
            source.backup(copy)
            verdict = str(copy.execute("PRAGMA integrity_check").fetchone()[0])
            if verdict == "ok" and not is_as_far(copy):
                verdict = "it does not hold all that was confirmed"
            if verdict == "ok" and mark_in(copy).identity:
                copy.execute(OWN_MARK)
    finally:
        if verdict != "ok":
            target.unlink()
    return verdict
