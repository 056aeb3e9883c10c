"""A copy put in the place of the data file: whole or not at all, and what it replaces is kept."""

from __future__ import annotations

import os
import sqlite3
import stat
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path

from bench.domain.copies import BEFORE_RESTORE, stamp_of
from bench.errors import Conflict, StoreError
from bench.store.connecting import connect
from bench.store.copies import (
    SIDE_FILES,
    copies_folder,
    copy_whole,
    forget,
    make_copy,
    problem_of,
    sync_folder,
)
from bench.store.files import is_older, require_own_file
from bench.store.refusals import is_busy, unwritable
from bench.store.side_files import set_aside_foreign

PATIENCE_SECONDS = 2.0


@dataclass(frozen=True, slots=True)
class Replaced:
    """What a restore did with what was there. `kept`: the copy of it, or where it was set aside, or None.

    `sound`: it was whole and copied; else it was damaged and set aside with its side files.
    `side_files`: files of a database that was no longer there, set aside by these names.
    """

    kept: Path | None
    sound: bool
    side_files: tuple[Path, ...]


@dataclass(frozen=True, slots=True)
class Line:
    """What the journal of the file put back says of it: by whom, and in what words."""

    person_id: int
    summary: str


def restore(path: Path, source: Path, at_us: int, tell: Callable[[sqlite3.Connection], Line]) -> Replaced:
    """Put a copy of `source` in the place of the data file at `path`; `source` stays as it is.

    `tell`: the line that its journal goes on with, from what is in it; where it raises, nothing is replaced.

    Conflict while another program has the data file open. StoreError for a source that is foreign, damaged
    or newer than this program, and for what the disk does not let through: nothing is replaced then.
    """
    path = path.resolve()
    _require_good(source, path)
    scratch = path.with_name(f".restoring-{os.getpid()}")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        copy_whole(source, scratch)
        _write_line(scratch, at_us, tell)
        replaced = _replace(path, scratch, at_us)
        sync_folder(path.parent)
    except OSError as error:
        raise unwritable(path, error) from error
    finally:
        forget(scratch)
    return replaced


def _require_good(source: Path, path: Path) -> None:
    if not source.exists():
        raise StoreError(f"{source} is not there.", "`bench restore` without a name lists the copies.")
    if path.exists() and source.samefile(path):
        raise StoreError(f"{source} is the data file itself.", "Name the copy to put in its place.")
    require_own_file(source)
    is_older(source)
    problem = problem_of(source)
    if problem:
        raise StoreError(f"{source} is damaged ({problem}).", "Choose another copy; nothing was changed.")


_LINE = """INSERT INTO journal (at_us, person_id, action, summary, via, reason, changes)
VALUES (?, ?, 'restore', ?, 'command', '', '[]')"""


def _write_line(scratch: Path, at_us: int, tell: Callable[[sqlite3.Connection], Line]) -> None:
    """Add the line to the copy that goes in place; it can be of any revision, and is whole or not at all."""
    try:
        with closing(connect(scratch)) as connection:
            line = tell(connection)
            connection.execute(_LINE, (at_us, line.person_id, line.summary))
    except sqlite3.DatabaseError as error:
        raise unwritable(scratch, error) from error


def _replace(path: Path, scratch: Path, at_us: int) -> Replaced:
    if not path.exists():
        left = _set_aside(path, at_us, SIDE_FILES)
        scratch.replace(path)
        return Replaced(None, sound=True, side_files=left)
    require_own_file(path)
    set_aside_foreign(path)
    scratch.chmod(stat.S_IMODE(path.stat().st_mode))  # a file that several people share stays shared
    if problem_of(path):
        moved = _set_aside(path, at_us, ("", *SIDE_FILES))
        scratch.replace(path)
        return Replaced(moved[0], sound=False, side_files=moved[1:])
    with _held(path):
        kept = copies_folder(path) / make_copy(path, BEFORE_RESTORE, at_us).name
        scratch.replace(path)
    return Replaced(kept, sound=True, side_files=())


@contextmanager
def _held(path: Path) -> Iterator[None]:
    """Keep every other program out of a sound file, which has no side file meanwhile."""
    connection = connect(path, patience=PATIENCE_SECONDS)
    try:
        # Only who is alone can leave the mode in which changes lie in a side file; it is gone then.
        connection.execute("PRAGMA journal_mode = DELETE")
        connection.execute("BEGIN IMMEDIATE")
        mode = connection.execute("PRAGMA journal_mode").fetchone()[0]
        if mode != "delete":  # someone came in between the two
            raise _open_elsewhere(path)
        yield
    except sqlite3.OperationalError as error:
        raise _in_use(path, error) from error
    finally:
        connection.close()


def _in_use(path: Path, error: sqlite3.OperationalError) -> Conflict | StoreError:
    return _open_elsewhere(path) if is_busy(error) else unwritable(path, error)


def _open_elsewhere(path: Path) -> Conflict:
    return Conflict(f"Another program has {path} open.", "Leave it there, then repeat; nothing was changed.")


def _set_aside(path: Path, at_us: int, endings: tuple[str, ...]) -> tuple[Path, ...]:
    """Give the file and what lies beside it names of their own, so that nothing reads them in again."""
    aside = path.with_name(f"{path.name}.replaced-{stamp_of(at_us)}")
    while any(Path(f"{aside}{ending}").exists() for ending in ("", *SIDE_FILES)):
        aside = aside.with_name(f"{aside.name}.more")
    moved = []
    for ending in endings:
        old, new = Path(f"{path}{ending}"), Path(f"{aside}{ending}")
        if old.exists():
            old.rename(new)
            moved.append(new)
    return tuple(moved)
