"""A program that only listens: the dashboard's own reader and its ear for scans, on an empty screen.

`python -m tests.pty.listening FILE` writes a line of JSON for each key that was read, with its instant, and
for each thing that the ear made of them. F10 ends it.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from pathlib import Path

from textual import events
from textual.app import App

from bench.dashboard.keys_in_order import KeyLine
from bench.dashboard.scanning import Ear, Scan
from bench.dashboard.terminal_driver import BenchDriver, OnTerminal

READ, SCAN, TYPED, READY = "read", "scan", "typed", "ready"
ENDS_WITH = "f10"


class Listening(App[int], OnTerminal):
    """Writes down what comes."""

    def __init__(self, notes: Path) -> None:
        super().__init__(driver_class=BenchDriver)
        self._notes = notes.open("w", encoding="utf-8", buffering=1)
        self._ear = Ear(self, KeyLine(self, self._typed), self._scanned, self._input_waits)
        self._ear.hears = True

    def on_mount(self) -> None:
        """Say that keys are read from now on."""
        self._note(READY, "", 0.0)

    def terminal_begins(self) -> None:
        """Nothing is remembered of what it shows."""

    def hang_up(self) -> None:
        """The terminal is gone."""
        self.call_from_thread(self.exit, 1)

    async def on_event(self, event: events.Event) -> None:
        """Give every key to the ear, as the dashboard does."""
        if isinstance(event, events.Key) and event.key == ENDS_WITH:
            self.exit(0)
        elif isinstance(event, events.Key):
            self._note(READ, event.character or event.key, event.time)
            await self._ear.take(event)
        else:
            await super().on_event(event)

    async def _typed(self, key: events.Key | events.Paste) -> None:
        if isinstance(key, events.Key):
            self._note(TYPED, key.character or key.key, key.time)

    def _scanned(self, scan: Scan, done: Callable[[], None]) -> None:
        self._note(SCAN, scan.text, 0.0, ended=scan.ended)
        done()

    def _input_waits(self) -> bool:
        return self.terminal is not None and self.terminal.input_waits

    def _note(self, what: str, text: str, at: float, *, ended: bool = False) -> None:
        self._notes.write(json.dumps([what, text, at, ended]) + "\n")


if __name__ == "__main__":
    sys.exit(Listening(Path(sys.argv[1])).run() or 0)
