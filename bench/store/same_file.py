"""Whether the file that was opened still has its name, and is still what it was."""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Callable
from pathlib import Path

from bench.store.connecting import may_write_beside, side_file
from bench.store.marks import Mark, mark_without_log, marks_in_log
from bench.store.side_files import BETWEEN_LOOKS_SECONDS, LOOKS, log_continues


class SameFile:
    """Remembers the file at `path` as it is now. `seen`: the mark that the program's own connection sees."""

    def __init__(self, path: Path, seen: Callable[[], Mark | None]) -> None:
        self._path = path
        self._seen = seen
        found = path.stat()
        self._file = (found.st_dev, found.st_ino)
        self._state = (found.st_mtime_ns, found.st_size)

    def difference(self) -> str:
        """What became of the file, to follow its path in a sentence; empty while it is the same.

        A few microseconds, unless the file was written since the last look.
        """
        try:
            found = self._path.stat()
        except (FileNotFoundError, NotADirectoryError):
            return "is gone: it was removed, or moved away"
        except OSError as error:
            return f"cannot be reached any more ({error.strerror})"
        if (found.st_dev, found.st_ino) != self._file:
            return "is another file now: one was put in the place of the one that was opened"
        state = (found.st_mtime_ns, found.st_size)
        if state == self._state or not may_write_beside(self._path):
            return ""
        if not self._is_continued():
            return "was written over with another file or an older copy"
        self._state = state
        return ""

    def _is_continued(self) -> bool:
        """Look several times: another program may be writing at this very moment."""
        for look in range(LOOKS):
            if look:
                time.sleep(BETWEEN_LOOKS_SECONDS)
            if self._continues_now():
                return True
        return False

    def _continues_now(self) -> bool:
        marks = marks_in_log(side_file(self._path, "-wal"))
        try:
            mark = mark_without_log(self._path)
        except sqlite3.DatabaseError:
            return False
        if marks:
            return log_continues(marks, mark)
        seen = self._seen()
        return seen is None or mark == seen
