"""Verified copies of the data file, in a folder beside it: taken, listed, given up. Plain sqlite3 only."""

from __future__ import annotations

import errno
import fcntl
import os
import sqlite3
from collections.abc import Callable, Iterable, Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path

from bench.domain.copies import FileCopy, copy_named, name_of
from bench.errors import StoreError
from bench.store.connecting import connect, connect_reading
from bench.store.files import connection_to, require_own_file
from bench.store.marks import OWN_MARK, mark_in
from bench.store.refusals import unwritable
from bench.store.side_files import readable

SIDE_FILES = ("-wal", "-shm", "-journal")
_NO_HARD_LINKS = frozenset((errno.EPERM, errno.EOPNOTSUPP, errno.ENOSYS, errno.EMLINK, errno.EACCES))
_SCRATCH = ".copying-"
_A_MOMENT = 1.0  # seconds


def copies_folder(path: Path) -> Path:
    """Where the copies of a data file lie: beside the file itself, wherever a link to it is."""
    real = path.resolve()
    return real.with_name(f"{real.name}.copies")


def copies_of(path: Path) -> tuple[FileCopy, ...]:
    """The copies of a data file, the newest first; none where the folder is not there or may not be read."""
    found = []
    try:
        for entry in copies_folder(path).iterdir():
            size = entry.stat().st_size if entry.is_file() else 0
            one = copy_named(entry.name, size)
            if one is not None and size:
                found.append(one)
    except OSError:
        return ()
    return tuple(sorted(found, key=lambda one: (one.at_us, one.name), reverse=True))


def make_copy(path: Path, why: str, at_us: int) -> FileCopy:
    """Copy the data file into its folder of copies and verify the copy. StoreError, and no copy, else."""
    made = make_copy_unless(path, why, at_us, lambda _: False)
    assert made is not None
    return made


def make_copy_unless(
    path: Path, why: str, at_us: int, there: Callable[[tuple[FileCopy, ...]], bool]
) -> FileCopy | None:
    """The same, unless `there` says that those made so far are enough; None then.

    It is asked while no other program copies, so that of two that begin at once only one makes a copy.
    """
    folder = copies_folder(path)
    try:
        folder.mkdir(mode=0o700, exist_ok=True)
        with _alone_in(folder) as alone:
            if there(copies_of(path)):
                return None
            if alone:
                _sweep(folder)
            number = 1
            while (target := folder / name_of(at_us, why, number)).exists():
                number += 1
            copy_to(path, target)
    except OSError as error:
        raise uncopied(folder, error) from error
    return copy_named(target.name, target.stat().st_size)


def copy_to(path: Path, target: Path) -> None:
    """Copy the data file to a path of its own, verified and for its owner alone; never over another file.

    The name is taken once the copy is whole and on the disk. StoreError for what does not go through.
    """
    scratch = target.with_name(f"{_SCRATCH}{os.getpid()}")
    try:
        copy_whole(path, scratch)
        _take_name(scratch, target)
    except FileExistsError as error:
        raise StoreError(f"{target} is there already.", "Name a file that is not there yet.") from error
    except OSError as error:
        raise uncopied(target, error) from error
    finally:
        forget(scratch)


def copy_whole(path: Path, scratch: Path) -> None:
    """Copy the data file to `scratch`, which is ours to overwrite, verify it and bring it to the disk.

    The copy is one file that needs no other beside it. OSError and StoreError for what does not go through.
    """
    scratch.unlink(missing_ok=True)
    os.close(os.open(scratch, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
    try:
        with readable(path) as at, connection_to(at) as source:
            _copy_pages(source, scratch)
    except sqlite3.DatabaseError as error:
        raise uncopied(scratch.parent, error) from error
    require_own_file(scratch)
    verdict = problem_of(scratch)
    if verdict:
        raise StoreError(f"A copy of {path} did not verify ({verdict}).", "Nothing was changed.")
    with scratch.open("rb") as file:
        os.fsync(file.fileno())


def problem_of(path: Path) -> str:
    """What SQLite finds wrong with a file that it can open: a page, an index, a reference. Empty: nothing."""
    try:
        with closing(connect_reading(path, "mode=ro")) as connection:
            verdict = str(connection.execute("PRAGMA integrity_check(1)").fetchone()[0])
            broken = connection.execute("PRAGMA foreign_key_check").fetchone()
            connection.execute("SELECT version_num FROM alembic_version").fetchone()
    except sqlite3.DatabaseError as error:
        return str(error)
    if verdict != "ok":
        return verdict
    return f"a row of {broken[0]} points nowhere" if broken is not None else ""


def drop(path: Path, copies: Iterable[FileCopy]) -> None:
    """Delete copies of a data file. StoreError for one that cannot be deleted."""
    folder = copies_folder(path)
    for one in copies:
        try:
            (folder / one.name).unlink(missing_ok=True)
        except OSError as error:
            raise StoreError(
                f"The old copy {folder / one.name} cannot be deleted ({error.strerror}).", "Look who owns it."
            ) from error


def checkpoint(path: Path) -> bool:
    """Bring what the side file holds into the data file, so that it is whole by itself; say whether it is.

    Another program that is reading may hold it up: then the side file stays, and belongs to a plain copy.
    """
    try:
        with closing(connect(path, patience=_A_MOMENT)) as connection:
            return not connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()[0]
    except sqlite3.DatabaseError:
        return False


def forget(scratch: Path) -> None:
    """Delete what was begun; where it was never made, the disk's own words have been said already."""
    with suppress(OSError):
        scratch.unlink()


def uncopied(place: Path, error: BaseException) -> StoreError:
    """The sentence for a copy that could not be made there."""
    said = unwritable(place, error)
    return StoreError(f"No copy was made. {said.what}", said.remedy)


def sync_folder(folder: Path) -> None:
    """Bring a folder's names to the disk."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _copy_pages(source: sqlite3.Connection, scratch: Path) -> None:
    with closing(connect(scratch)) as copy:
        source.backup(copy)
        if mark_in(copy).identity:
            copy.execute(OWN_MARK)
        copy.execute("PRAGMA journal_mode = DELETE")


def _take_name(scratch: Path, target: Path) -> None:
    try:
        os.link(scratch, target)
    except OSError as error:
        if error.errno not in _NO_HARD_LINKS:
            raise
        os.close(os.open(target, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
        scratch.replace(target)
    sync_folder(target.parent)


@contextmanager
def _alone_in(folder: Path) -> Iterator[bool]:
    """Wait until no other program copies into the folder; False where this disk knows no such lock."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX)
        except OSError:
            yield False
        else:
            yield True
    finally:
        os.close(handle)


def _sweep(folder: Path) -> None:
    """Delete what a program that was killed while it copied left half-made."""
    for left in folder.glob(f"{_SCRATCH}*"):
        left.unlink()
