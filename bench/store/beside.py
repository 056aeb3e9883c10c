"""One program at a time at something that is done to a whole data file: a lock in a file beside it."""

from __future__ import annotations

import fcntl
import os
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from bench.errors import StoreError

LONGEST_WAIT_SECONDS = 60.0
_LOOK_AGAIN_SECONDS = 0.05


@contextmanager
def locked_beside(path: Path, *, longest_wait: float = LONGEST_WAIT_SECONDS) -> Iterator[None]:
    """Hold the lock of `path` in this block; whoever else asks for it waits. StoreError after a minute.

    The lock's file is gone afterwards. OSError where none can be made beside `path`.
    """
    lock = path.with_name(f".{path.name[:40]}.lock")
    until = time.monotonic() + longest_wait
    while (held := _taken(lock)) is None:
        if time.monotonic() > until:
            raise StoreError(f"Another program is busy with the whole of {path}.", "Try again in a minute.")
        time.sleep(_LOOK_AGAIN_SECONDS)
    try:
        yield
    finally:
        lock.unlink(missing_ok=True)
        os.close(held)


def _taken(lock: Path) -> int | None:
    """The open lock file; None while someone else has it, or took it away between opening and locking."""
    opened = os.open(lock, os.O_CREAT | os.O_RDWR, 0o600)
    try:
        fcntl.flock(opened, fcntl.LOCK_EX | fcntl.LOCK_NB)
        if os.path.samestat(os.fstat(opened), lock.stat()):
            return opened
    except (BlockingIOError, FileNotFoundError):
        pass
    os.close(opened)
    return None
