"""Whether the file that was opened still has its name, and is still what it was."""

from __future__ import annotations

import sqlite3
import time
from pathlib import Path

from bench.store.connecting import may_write_beside, side_file
from bench.store.marks import (
    BEFORE_ALL,
    Mark,
    line_in,
    line_without_log,
    mark_in,
    mark_without_log,
    marks_in_log,
)
from bench.store.side_files import BETWEEN_LOOKS_SECONDS, LOOKS, log_continues

WRITTEN_OVER = "was written over with another file or an older copy"


class SameFile:
    """Remembers the file at `path` as it is now.

    `written_over`: once it was seen that another file's content stands in this one, until its own is back.
    """

    def __init__(self, path: Path) -> None:
        self._path = path
        self._mark, self._line = Mark("", BEFORE_ALL, BEFORE_ALL), 0
        self.written_over = False
        found = path.stat()
        self._file = (found.st_dev, found.st_ino)
        self._state = (found.st_mtime_ns, found.st_size)

    def remember(self, mark: Mark, line: int) -> None:
        """Note how far the record has come: the mark of its state, and its journal's newest line."""
        self._mark, self._line = mark, line

    def is_as_far(self, connection: sqlite3.Connection) -> bool:
        """Whether what a connection sees is this file, no earlier than it was when last noted."""
        same = mark_in(connection).identity == self._mark.identity
        return same and line_in(connection) >= self._line

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
        self.written_over = not self._is_continued()
        if self.written_over:
            return WRITTEN_OVER
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
            if marks:
                return log_continues(marks, mark)
            return mark == self._mark or self._is_later(mark)
        except sqlite3.DatabaseError:
            return False

    def _is_later(self, mark: Mark) -> bool:
        """Whether the file went on from what was noted: it is no copy that went its own way, nor older."""
        if mark.identity != self._mark.identity or mark.previous == BEFORE_ALL:
            return False
        return line_without_log(self._path) >= self._line
