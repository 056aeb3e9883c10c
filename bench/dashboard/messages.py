"""What the parts of the dashboard tell one another.

A screen that wrote posts `Written` to the app; the app tells every open screen `DataChanged`, also when
another program wrote to the same file. A screen handles `DataChanged` by reading again.
"""

from __future__ import annotations

from textual.message import Message

from bench.errors import BenchError


class Written(Message):
    """Something was written to the file: sent to the app, which has every open screen read again."""

    bubble = False

    def can_replace(self, message: Message) -> bool:
        """A burst of writes asks for one reading."""
        return isinstance(message, Written)


class DataChanged(Message):
    """What a screen shows may be out of date: sent by the app to every open screen."""

    bubble = False

    def can_replace(self, message: Message) -> bool:
        """A burst of changes asks for one reading."""
        return isinstance(message, DataChanged)


class Tick(Message):
    """A second has passed: sent by the app to the screen that is open."""

    bubble = False

    def __init__(self, now_us: int) -> None:
        self.now_us = now_us
        super().__init__()

    def can_replace(self, message: Message) -> bool:
        """A late screen needs only the latest."""
        return isinstance(message, Tick)


class CopyFailed(Message):
    """The copy of the day could not be made: sent to the app by whoever makes it."""

    bubble = False

    def __init__(self, error: BenchError) -> None:
        self.error = error
        super().__init__()
