"""The real program in a real terminal: pexpect runs it, pyte draws what it sends, a test waits for text."""

from __future__ import annotations

import ctypes
import fcntl
import os
import signal
import struct
import termios
import time
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

import pexpect
from pyte.screens import Char

from tests.pty.drawing import Drawing, QuickScreen
from tests.pty.program import environment
from tests.pty.recording import Recording
from tests.pty.warm_terminal import WarmProgram

ROWS_AND_COLUMNS = {"80x24": (24, 80), "120x36": (36, 120), "120x40": (40, 120)}
PATIENCE = 20.0  # seconds until a wait counts as failed; no wait lasts longer than what it waits for
FRAME_GAP = 0.01  # seconds without anything new: no more of this frame is coming


def screen_environment(home: Path, **more: str) -> dict[str, str]:
    """The environment of a program in a terminal of 2^24 colours that holds still."""
    return environment(home, TERM="xterm-256color", COLORTERM="truecolor", TEXTUAL_ANIMATIONS="none", **more)


class Terminal:
    """One run of the program. Use as a context manager: whatever still runs at the end is killed.

    It is forked where it is imported already; `program` is started afresh instead.
    """

    def __init__(
        self,
        arguments: Sequence[str],
        env: Mapping[str, str],
        *,
        size: str = "80x24",
        recording: Path | None = None,
        program: Sequence[str] = (),
    ) -> None:
        rows, columns = ROWS_AND_COLUMNS[size]
        self._screen = QuickScreen(columns, rows)
        self._drawing = Drawing(self._screen)
        self._recording = Recording(recording, columns, rows) if recording else None
        self._lines: dict[int, str] = {}
        self.raw = bytearray()
        self.child = (
            pexpect.spawn(
                program[0],
                [*program[1:], *arguments],
                env=dict(env),
                dimensions=(rows, columns),
                encoding=None,
                echo=True,
                timeout=None,
            )
            if program
            else WarmProgram(arguments, env, (rows, columns))
        )
        self.child.delaybeforesend = None

    def __enter__(self) -> Terminal:
        return self

    def __exit__(self, *_: object) -> None:
        if self._recording:
            self._recording.write()
        if self.child.isalive():
            self.signal(signal.SIGKILL)
            self.child.wait()
        self.child.close()

    def cells(self) -> list[list[Char]]:
        """The screen cell by cell, each with its looks, as it is drawn now."""
        buffer = self._screen.buffer
        return [[buffer[row][at] for at in range(self._screen.columns)] for row in range(self._screen.lines)]

    def text(self) -> str:
        """The screen as it is drawn now."""
        return "\n".join(line.rstrip() for line in self._drawn())

    def line_with(self, part: str) -> str:
        """The first line on screen that holds this text; an empty string when none does."""
        return next((line for line in self.text().splitlines() if part in line), "")

    def looks_of(self, label: str) -> set[tuple[object, ...]]:
        """The colours of a label, wherever it stands: another one joins when its field takes the focus."""
        found = set()
        for row, line in enumerate(self._drawn()):
            if label in line:
                cell = self._screen.buffer[row][line.index(label)]
                found.add((cell.fg, cell.bg, cell.reverse, cell.bold))
        return found

    def wait_focus(self, keys: str, label: str) -> None:
        """Type something that moves the focus to a field with this label, and wait until it is there."""
        before = self.looks_of(label)
        self.send(keys)
        self.wait_until(lambda _: bool(self.looks_of(label) - before), f"the focus at {label}")

    def send(self, keys: str) -> None:
        """Type: all in one write, as a scanner or a paste does."""
        if self._recording:
            self._recording.typed(keys)
        self.child.send(keys.encode())

    def wait_taken(self, patience: float = PATIENCE) -> None:
        """Wait until the program has read all that was typed."""
        name_of = ctypes.CDLL(None).ptsname  # the standard library has it from Python 3.13 on
        name_of.restype = ctypes.c_char_p
        far_end = os.open(name_of(self.child.child_fd), os.O_RDONLY | os.O_NOCTTY)
        try:
            deadline = time.monotonic() + patience
            while struct.unpack("i", fcntl.ioctl(far_end, termios.FIONREAD, b"\0\0\0\0"))[0]:
                assert time.monotonic() < deadline, "the program does not read"
                self._read(FRAME_GAP)
        finally:
            os.close(far_end)

    def mark(self, label: str) -> None:
        """Name a place in the recording."""
        if self._recording:
            self._recording.marker(label)

    def wait_for(self, *parts: str, patience: float = PATIENCE) -> str:
        """Wait until all of these are on the screen at once; answers the screen."""
        return self.wait_until(lambda text: all(part in text for part in parts), repr(parts), patience)

    def wait_gone(self, *parts: str, patience: float = PATIENCE) -> str:
        """Wait until none of these is on the screen any more."""
        return self.wait_until(
            lambda text: not any(part in text for part in parts), f"gone {parts!r}", patience
        )

    def wait_until(self, holds: Callable[[str], bool], what: str, patience: float = PATIENCE) -> str:
        """Wait until the screen is as `holds` asks; AssertionError with the screen when it never is.

        A frame comes in several reads: what is already on its way is drawn before the screen is judged.
        """
        deadline = time.monotonic() + patience
        while True:
            held = holds(self.text())
            left = deadline - time.monotonic()
            if self._read(min(left, FRAME_GAP) if held else left) and left > 0:
                continue
            if holds(self.text()):
                return self.text()
            raise AssertionError(f"waited for {what}; the screen was\n{self.text()}")

    def wait_quiet(self, seconds: float, patience: float = PATIENCE) -> None:
        """Read until nothing more has come for so many seconds, or patience ends: a cursor may blink."""
        deadline = time.monotonic() + patience
        while time.monotonic() < deadline and self._read(seconds):
            pass

    def wait_end(self, patience: float = PATIENCE) -> int:
        """Wait until the program has ended; answers its exit code, 128+n when a signal ended it."""
        deadline = time.monotonic() + patience
        while self._read(deadline - time.monotonic()):
            pass
        assert time.monotonic() < deadline, f"still running; the screen was\n{self.text()}"
        self.child.wait()
        if self.child.signalstatus is not None:
            return 128 + int(self.child.signalstatus)
        return int(self.child.exitstatus or 0)

    def signal(self, number: signal.Signals) -> None:
        """Send the program a signal."""
        os.kill(self.child.pid, number)

    def resize(self, size: str) -> None:
        """Give the terminal another size."""
        rows, columns = ROWS_AND_COLUMNS[size]
        self._screen.resize(rows, columns)
        self.child.setwinsize(rows, columns)

    def _read(self, patience: float) -> bool:
        """Read what has come; False when time is up or the program has closed its terminal."""
        try:
            data = self.child.read_nonblocking(size=65536, timeout=max(0.0, patience))
        except pexpect.TIMEOUT:
            return False
        except pexpect.EOF:
            return False
        if self._recording:
            self._recording.output(data)
        self.raw += data
        self._drawing.feed(data)
        return True

    def _drawn(self) -> list[str]:
        """The lines of the screen; only those that changed are put together again."""
        for row in self._screen.dirty:
            cells = self._screen.buffer[row]
            self._lines[row] = "".join(cells[column].data for column in range(self._screen.columns))
        self._screen.dirty.clear()
        return [self._lines[row] for row in range(self._screen.lines)]
