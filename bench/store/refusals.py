"""What the data file did not let through, as sentences: busy, full, read-only, damaged."""

from __future__ import annotations

import sqlite3
from pathlib import Path

from bench.errors import StoreError

_BUSY = frozenset((5, 6))  # SQLITE_BUSY, SQLITE_LOCKED; source: sqlite.org/rescode.html
_UNTOUCHED = "Nothing was changed"


def is_busy(error: BaseException | None) -> bool:
    """Whether another program holds the file for itself: nothing is wrong with the file."""
    return getattr(error, "sqlite_errorcode", 0) & 0xFF in _BUSY or "locked" in str(error)


def unwritable(path: Path, error: BaseException | None) -> StoreError:
    """The sentence for a write that the file, the disk or another program did not let through."""
    words = (error.strerror or "") if isinstance(error, OSError) else str(error)
    if is_busy(error):
        return StoreError(
            f"Another program has been writing to {path} for five seconds.", f"{_UNTOUCHED}; try again."
        )
    if "full" in words or "No space" in words:
        return StoreError(
            f"There is no room left on the disk that holds {path}.",
            f"{_UNTOUCHED}; free some space and try again.",
        )
    return StoreError(f"{path} cannot be written ({words}).", f"{_UNTOUCHED}.")


def unreadable(path: Path, error: sqlite3.Error) -> StoreError:
    """The sentence for a read that did not go through, while the file is open."""
    if is_busy(error):
        return busy(path)
    return StoreError(f"{path} cannot be read ({error}).", "Try again; if it stays, restore a backup.")


def unopenable(path: Path, error: sqlite3.Error) -> StoreError:
    """The sentence for a file that could not be opened in the first place."""
    if is_busy(error):
        return busy(path)
    return StoreError(
        f"{path} cannot be opened ({error}); it was left as it is.",
        "Look whether the disk is full or read-only; if not, restore a backup.",
    )


def busy(path: Path) -> StoreError:
    """Another program keeps everyone else out, also those who only read."""
    return StoreError(
        f"{path} is busy: another program holds it for itself.",
        "Close that program, or try again in a moment.",
    )
