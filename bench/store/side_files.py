"""Whose the side files beside a data file are: one that is not its own is set aside, never read in."""

from __future__ import annotations

import errno
import fcntl
import os
import shutil
import sqlite3
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from bench.errors import StoreError
from bench.store.connecting import has_content, may_write_beside, side_file
from bench.store.marks import BEFORE_ALL, Mark, mark_without_log, marks_in_log

LOOKS = 3
BETWEEN_LOOKS_SECONDS = 0.03
# Where every connection to a file holds a lock. Source: SQLite's os.h, SHARED_FIRST and SHARED_SIZE.
_SHARED_AT, _SHARED_BYTES = 0x40000002, 510
_WAL_HEADER_AT, _WAL_HEADER = 18, b"\x02\x02"


def log_is_its_own(path: Path) -> bool:
    """Whether the -wal file, if any, continues the file at `path` as it is now.

    Other programs may be writing meanwhile: a mismatch must be seen several times.
    """
    for look in range(LOOKS):
        if look:
            time.sleep(BETWEEN_LOOKS_SECONDS)
        marks = marks_in_log(side_file(path, "-wal"))
        if not marks or _continues(marks, path):
            return True
    return False


def log_continues(marks: list[Mark], state: Mark) -> bool:
    """Whether a log with these marks can be added to a file in that state."""
    states = {one.mark for one in marks} | {one.previous for one in marks}
    if state.identity:
        return state.identity == marks[0].identity and state.mark in states
    return marks[0].previous == BEFORE_ALL


def _continues(marks: list[Mark], path: Path) -> bool:
    try:
        return log_continues(marks, mark_without_log(path))
    except sqlite3.DatabaseError:
        return True  # what is damaged, or half carried over, only its own log can mend


@contextmanager
def readable(path: Path) -> Iterator[Path]:
    """A path under which the file can be read: almost always its own.

    Where its last changes lie in a side file, in a folder that may not be written, it is a copy of both.
    """
    log = side_file(path, "-wal")
    if may_write_beside(path) or not has_content(log) or not log_is_its_own(path):
        yield path
        return
    from tempfile import TemporaryDirectory

    with TemporaryDirectory(prefix="bench-reading-") as folder:
        copy = Path(folder) / path.name
        shutil.copyfile(path, copy)
        shutil.copyfile(log, side_file(copy, "-wal"))
        yield copy


def set_aside_foreign(path: Path) -> tuple[str, ...]:
    """Set aside what lies beside the data file `path` and is not its own; a sentence for each.

    StoreError where another program has the file open meanwhile.
    """
    journal = side_file(path, "-journal")
    strange = [journal] if has_content(journal) and _keeps_a_log(path) else []
    if not log_is_its_own(path):
        strange.append(side_file(path, "-wal"))
    if not strange:
        return ()
    if not may_write_beside(path):
        return tuple(f"{one} is not this file's own and was not read in." for one in strange)
    with _alone_with(path):
        return tuple(_set_aside(one, path) for one in strange)


def set_aside_all(path: Path) -> tuple[str, ...]:
    """Set aside what lies beside a `path` at which there is no data file yet."""
    left = (side_file(path, "-wal"), side_file(path, "-journal"))
    return tuple(_set_aside(one, path) for one in left if has_content(one))


def _set_aside(strange: Path, path: Path) -> str:
    number = 1
    while (target := strange.with_name(f"{strange.name}.set-aside-{number}")).exists():
        number += 1
    strange.rename(target)
    side_file(path, "-shm").unlink(missing_ok=True)
    return (
        f"{strange} was left behind by another state of the file, or by another file. It was not read in: "
        f"it is kept as {target.name}."
    )


def _keeps_a_log(path: Path) -> bool:
    with path.open("rb") as file:
        file.seek(_WAL_HEADER_AT)
        return file.read(len(_WAL_HEADER)) == _WAL_HEADER


@contextmanager
def _alone_with(path: Path) -> Iterator[None]:
    """Hold the file so that no program can open it in this block; StoreError while one has it open."""
    held = os.open(path, os.O_RDWR)
    try:
        fcntl.lockf(held, fcntl.LOCK_EX | fcntl.LOCK_NB, _SHARED_BYTES, _SHARED_AT)
        yield
    except OSError as error:
        if error.errno not in (errno.EAGAIN, errno.EACCES):
            raise
        raise StoreError(
            f"What lies beside {path} is not its own, and another program has the file open.",
            "Close that program, then try again.",
        ) from error
    finally:
        os.close(held)
