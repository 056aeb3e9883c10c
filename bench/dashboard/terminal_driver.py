"""The way to the terminal: the framework's own, made to outlive odd bytes and a terminal gone or stuck."""

from __future__ import annotations

import contextlib
import os
import re
import select
import sys
import termios
from abc import abstractmethod
from codecs import getincrementaldecoder
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from textual import events
from textual._xterm_parser import XTermParser  # the only way to what its driver parses
from textual.app import App
from textual.drivers.linux_driver import LinuxDriver
from textual.message import Message

from bench.domain.text import for_display

PASTE_BEGINS = b"\x1b[200~"
PASTE_ENDS = b"\x1b[201~"
LONGEST_PASTE = 1_000_000  # bytes; a paste whose end never comes is handed on when it is as long as this

# Mouse reports of the oldest form: three bytes of any value, which are no text past column 95, and past
# column 223 no number. The newer forms are asked for; a terminal that knows only this one has no mouse.
_OLD_MOUSE = re.compile(rb"\x1b\[M[\x00-\xff]{3}")
_BEGUN = re.compile(rb"\x1b\[(?:M[\x00-\xff]{0,2}|20{0,2})\Z")  # of such a report, or of a paste
_SEQUENCE = re.compile(r"\x1b(?:\[[0-?]*[ -/]*[@-~]|[\]P^_][^\x07\x1b]*(?:\x07|\x1b\\)?|[^\x1b])?", re.DOTALL)
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]")


@dataclass(frozen=True, slots=True)
class Typed:
    """Keys and reports, as they came."""

    text: str


@dataclass(frozen=True, slots=True)
class Pasted:
    """One paste, without what is no text."""

    text: str


class TerminalInput:
    """Cuts the bytes that a terminal sends into what was typed and what was pasted."""

    def __init__(self) -> None:
        self._held = b""
        self._paste: bytearray | None = None
        self._decode = getincrementaldecoder("utf-8")(errors="ignore").decode

    def feed(self, data: bytes) -> list[Typed | Pasted]:
        """What has come whole with these bytes; the beginning of a report waits for its end."""
        found: list[Typed | Pasted] = []
        data, self._held = self._held + data, b""
        while data:
            data = self._typed(data, found) if self._paste is None else self._pasted(data, found)
        return found

    def _typed(self, data: bytes, found: list[Typed | Pasted]) -> bytes:
        keys, begins, rest = _OLD_MOUSE.sub(b"", data).partition(PASTE_BEGINS)
        if begins:
            self._paste = bytearray()
        else:
            keys, self._held = _without_begun(keys)
        text = self._decode(keys)
        if text:
            found.append(Typed(text))
        return rest

    def _pasted(self, data: bytes, found: list[Typed | Pasted]) -> bytes:
        assert self._paste is not None
        # The end may come in two reads: it is looked for where the last read left off.
        seen = max(0, len(self._paste) - len(PASTE_ENDS) + 1)
        self._paste += data
        end = self._paste.find(PASTE_ENDS, seen)
        if end < 0 and len(self._paste) < LONGEST_PASTE:
            return b""
        body, rest = (
            (self._paste[:end], bytes(self._paste[end + len(PASTE_ENDS) :]))
            if end >= 0
            else (self._paste, b"")
        )
        found.append(Pasted(plain_text(body.decode("utf-8", errors="ignore"))))
        self._paste = None
        return rest


def plain_text(text: str) -> str:
    """Pasted text without escape sequences and control characters; tabs and line ends stay."""
    return _CONTROL.sub("", _SEQUENCE.sub("", text))


def _without_begun(keys: bytes) -> tuple[bytes, bytes]:
    begun = _BEGUN.search(keys)
    if begun is None:
        return keys, b""
    return keys[: begun.start()], keys[begun.start() :]


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


def show_notice(terminal: BenchDriver | None, words: str) -> None:
    """Ask the terminal to show a notice on the desktop (OSC 9, which terminals without it pass over)."""
    if terminal is not None:
        terminal.write(f"\x1b]9;{for_display(words)}\x07")
        terminal.flush()
