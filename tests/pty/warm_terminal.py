"""The program in a terminal of its own, started as a fork of the process that has all of it imported."""

from __future__ import annotations

import fcntl
import os
import pty
import select
import struct
import termios
from collections.abc import Mapping, Sequence
from contextlib import suppress

from pexpect.fdpexpect import fdspawn

from tests.pty.warm import start_warm


class WarmProgram(fdspawn):  # type: ignore[misc]  # pexpect has no types
    """What pexpect's `spawn` is to a fresh start: the program leads a session at the terminal's far end."""

    def __init__(self, arguments: Sequence[str], env: Mapping[str, str], dimensions: tuple[int, int]) -> None:
        ours, theirs = pty.openpty()
        super().__init__(ours, timeout=None)
        self.setwinsize(*dimensions)
        self.pid, self._status = start_warm(env, arguments, theirs, theirs, at=theirs)
        os.close(theirs)
        self.exitstatus = self.signalstatus = None

    def setwinsize(self, rows: int, columns: int) -> None:
        """Give the terminal a size."""
        fcntl.ioctl(self.child_fd, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))

    def isalive(self) -> bool:
        """Whether the program still runs."""
        return not self._status.closed and not select.select([self._status], [], [], 0)[0]

    def wait(self) -> None:
        """Wait for its end, and keep how it ended."""
        if self._status.closed:
            return
        with self._status:
            code = os.waitstatus_to_exitcode(int(self._status.readline()))
        self.exitstatus, self.signalstatus = (code, None) if code >= 0 else (None, -code)

    def close(self) -> None:
        """Let go of the terminal; what runs there is told that it has gone."""
        with suppress(OSError):
            os.close(self.child_fd)
        self._status.close()
        self.closed = True
