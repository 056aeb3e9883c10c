"""The files of photographs: beside the data file, one folder a unit; written whole or not at all."""

from __future__ import annotations

import errno
import hashlib
import os
import stat
import threading
from collections.abc import Iterator
from contextlib import suppress
from itertools import count
from pathlib import Path

from bench.domain.dropped import Stamp, is_picture
from bench.domain.photographs import check_size, numbered
from bench.errors import BadInput, StoreError
from bench.store.copies import sync_folder

_SCRATCH = ".keeping-"
_NO_HARD_LINKS = frozenset((errno.EPERM, errno.EOPNOTSUPP, errno.ENOSYS, errno.EMLINK, errno.EACCES))


def photographs_folder(path: Path) -> Path:
    """Where the photographs of a data file lie: beside the file itself, wherever a link to it is."""
    real = path.resolve()
    return real.with_name(f"{real.stem}.photographs")


def folder_there(path: Path) -> str:
    """The same in words, where there is such a folder; else nothing."""
    folder = photographs_folder(path)
    return str(folder) if folder.is_dir() else ""


def hash_of(content: bytes) -> str:
    """By what a picture's file is known again: SHA-256 (FIPS 180-4), in hexadecimal."""
    return hashlib.sha256(content).hexdigest()


def read_given(source: Path) -> bytes:
    """All bytes of a file that someone named. BadInput for what cannot be read or is no photograph's size."""
    try:
        if not source.is_file():
            raise BadInput(f"{source} is not there, or is no file.", "Check the path.", field="path")
        check_size(source.stat().st_size, source.name)
        return source.read_bytes()
    except OSError as error:
        raise BadInput(
            f"{source} cannot be read ({error.strerror}).",
            "Check the path and who may read it.",
            field="path",
        ) from error


def pictures_in(folder: Path) -> dict[str, Stamp]:
    """By name each finished picture in a folder. StoreError where it is not there or may not be read."""
    found = {}
    try:
        for entry in os.scandir(folder):
            if is_picture(entry.name) and entry.is_file():
                with suppress(FileNotFoundError):  # gone since
                    facts = entry.stat()
                    found[entry.name] = Stamp(facts.st_size, facts.st_mtime_ns)
    except OSError as error:
        raise StoreError(
            f"The watched folder {folder} cannot be read ({error.strerror}).",
            "Check watched_folder in the settings, or connect what holds it.",
        ) from error
    return found


def write_new(path: Path, folder: str, name: str, content: bytes) -> str:
    """Bring a picture to the disk in a unit's folder; answers its name, another one where that is taken.

    It bears a scratch name until it is whole. StoreError for what does not go through: nothing is left then.
    """
    into = photographs_folder(path) / folder
    scratch = into / f"{_SCRATCH}{os.getpid()}-{threading.get_ident()}"
    try:
        mode = _mode_of(path)
        for one in (into.parent, into):
            _make_folder(one, mode)
        scratch.unlink(missing_ok=True)
        opened = os.open(scratch, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600)
        with os.fdopen(opened, "wb") as file:
            os.fchmod(file.fileno(), mode)
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        taken = next(one for one in (numbered(name, at) for at in count(1)) if _takes(scratch, into / one))
        sync_folder(into)
        sync_folder(into.parent)
    except OSError as error:
        raise StoreError(
            f"The photograph could not be kept in {into} ({error.strerror}).",
            "Check the room on the disk and who may write there; nothing was changed.",
        ) from error
    finally:
        with suppress(OSError):
            scratch.unlink(missing_ok=True)
    return taken


def put_back(path: Path, folder: str, name: str, content: bytes) -> None:
    """Bring the missing file of a photograph on record to the disk again, under its own name."""
    taken = write_new(path, folder, name, content)
    if taken != name:
        delete(path, folder, taken)
        raise StoreError(
            f"{photographs_folder(path) / folder / name} is there with another content.",
            "Move it away, then attach the photograph again.",
        )


def delete(path: Path, folder: str, name: str) -> str:
    """Delete a photograph's file; answers its path and why, where it could not be; one gone is no fault."""
    target = photographs_folder(path) / folder / name
    try:
        target.unlink(missing_ok=True)
    except OSError as error:
        return f"{target} ({error.strerror})"
    with suppress(OSError):  # the folder of a unit with other photographs stays
        target.parent.rmdir()
    return ""


def is_there(path: Path, folder: str, name: str) -> bool:
    """Whether a photograph's file is there."""
    try:
        return (photographs_folder(path) / folder / name).is_file()
    except OSError:  # the folder may not be looked into
        return False


def is_kept(path: Path, source: Path) -> bool:
    """Whether a path leads to a file among the photographs themselves."""
    return source.resolve().is_relative_to(photographs_folder(path))


def content_of(path: Path, folder: str, name: str) -> bytes | None:
    """All bytes of a photograph's file; None where it is not there or cannot be read."""
    try:
        return (photographs_folder(path) / folder / name).read_bytes()
    except OSError:
        return None


def files_in(path: Path) -> Iterator[tuple[str, str]]:
    """Folder and name of each file among the photographs."""
    for folder in _sorted(photographs_folder(path)):
        if not folder.is_dir():
            yield "", folder.name
            continue
        for one in _sorted(folder):
            yield folder.name, one.name


def _sorted(folder: Path) -> list[Path]:
    try:
        return sorted(folder.iterdir())
    except OSError:
        return []


def _mode_of(path: Path) -> int:
    """Who may read and write: as the data file says, so that one that several people share stays shared."""
    try:
        return stat.S_IMODE(path.stat().st_mode) & 0o666
    except OSError:  # it is only being made
        return 0o600


def _make_folder(folder: Path, mode: int) -> None:
    """A folder that may be searched by whoever may read; one that is there stays as it is."""
    with suppress(FileExistsError):
        folder.mkdir(mode=0o700)
        folder.chmod(mode | (mode & 0o444) >> 2)


def _takes(scratch: Path, target: Path) -> bool:
    """Give the finished file its name; False where another file has it."""
    try:
        os.link(scratch, target)
    except FileExistsError:
        return False
    except OSError as error:
        if error.errno not in _NO_HARD_LINKS:
            raise
        if target.exists():
            return False
        scratch.rename(target)
    return True
