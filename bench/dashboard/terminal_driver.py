"""The way to the terminal: the framework's own, made to outlive odd bytes and a terminal gone or stuck."""

from __future__ import annotations

import contextlib
import os
import select
import sys
import termios
from abc import abstractmethod
from collections.abc import Iterable
from typing import Any

from textual import events
from textual._xterm_parser import XTermParser  # the only way to what its driver parses
from textual.app import App
from textual.drivers.linux_driver import LinuxDriver
from textual.message import Message

from bench.dashboard.terminal_input import Pasted, TerminalInput, Typed

READ_BYTES = 4096
LOOKS_EACH_SECONDS = 0.1
# Cursor shown, mouse, paste, focus and key reports off, line wrap on, the screen of before.
AS_BEFORE = (
    b"\x1b[?1000l\x1b[?1003l\x1b[?1015l\x1b[?1006l\x1b[?1004l\x1b[?2004l\x1b[?2048l\x1b[?7h\x1b[<u"
    b"\x1b[?1049l\x1b[?25h"
)


class OnTerminal:
    """An app that knows its terminal, once it has one, and is told when nothing more can come from it."""

    terminal: BenchDriver | None = None

    @abstractmethod
    def terminal_begins(self) -> None:
        """The terminal was made ready, and is empty."""

    @abstractmethod
    def hang_up(self) -> None:
        """The terminal is gone. Called from the thread that reads."""


class BenchDriver(LinuxDriver):
    """Reads keys on a thread of its own, as the framework does."""

    def __init__(
        self,
        app: App[Any],
        *,
        debug: bool = False,
        mouse: bool = True,
        size: tuple[int, int] | None = None,
    ) -> None:
        super().__init__(app, debug=debug, mouse=mouse, size=size)
        self._at_work = False
        self._on_terminal = app if isinstance(app, OnTerminal) else None
        if self._on_terminal is not None:
            self._on_terminal.terminal = self

    def start_application_mode(self) -> None:
        """Make the terminal ready, at the start and when the program was set aside."""
        super().start_application_mode()  # type: ignore[no-untyped-call]
        if self._on_terminal is not None:
            self._on_terminal.terminal_begins()

    def run_input_thread(self) -> None:
        """Wait for input and hand it on until the program ends or the terminal is gone."""
        parser, cut = XTermParser(), TerminalInput()
        while not self.exit_event.is_set():
            ready, _, _ = select.select([self.fileno], [], [], LOOKS_EACH_SECONDS)
            if ready:
                self._at_work = True  # before reading: what is read is not handed on yet
                data = self._read()
                if not data:
                    self._hang_up()
                    return
                for part in cut.feed(data):
                    self._hand_on(parser, part)
            self._process(parser.tick())
            self._at_work = False

    @property
    def input_waits(self) -> bool:
        """Whether the terminal has sent what is not handed on yet: then it is not quiet, only busy here."""
        return self._at_work or bool(select.select([self.fileno], [], [], 0)[0])

    def restore_at_once(self) -> None:
        """Leave the terminal as it was, whatever still waits to be written; never blocks."""
        if self.attrs_before is not None:
            with contextlib.suppress(termios.error):
                termios.tcsetattr(self.fileno, termios.TCSANOW, self.attrs_before)
        with contextlib.suppress(OSError, ValueError):
            fileno = sys.__stderr__.fileno() if sys.__stderr__ else self.fileno
            # What the program still has to say is dropped: a terminal that reads no more holds it up.
            termios.tcflush(fileno, termios.TCOFLUSH)
            os.set_blocking(fileno, False)
            os.write(fileno, AS_BEFORE)
            os.set_blocking(fileno, True)

    def _hand_on(self, parser: XTermParser, part: Typed | Pasted) -> None:
        if isinstance(part, Pasted):
            self.process_message(events.Paste(part.text))
        else:
            self._process(parser.feed(part.text))

    def _process(self, messages: Iterable[Message]) -> None:
        for message in messages:
            self.process_message(message)

    def _read(self) -> bytes:
        try:
            return os.read(self.fileno, READ_BYTES)
        except OSError:  # the other end of the terminal was closed
            return b""

    def _hang_up(self) -> None:
        if self._on_terminal is not None:
            self._on_terminal.hang_up()
