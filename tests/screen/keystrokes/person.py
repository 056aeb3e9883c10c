"""A person at the dashboard whose every key is counted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from textual.pilot import Pilot

from tests.screen.host import settled
from tests.screen.scanner import scan


@dataclass(frozen=True)
class Pressed:
    """How many keys an act took: those that lead and choose, and the characters typed into fields."""

    keys: int
    typed: int


class Person:
    """Presses one key after the other, each once the screen has come to rest."""

    def __init__(self, pilot: Pilot[int]) -> None:
        self.pilot = pilot
        self._keys = self._typed = 0

    @property
    def pressed(self) -> Pressed:
        """What was pressed so far."""
        return Pressed(self._keys, self._typed)

    @property
    def screen(self) -> Any:
        """What is open now."""
        return self.pilot.app.screen

    async def press(self, *keys: str) -> None:
        """Keys that lead somewhere, choose or send."""
        for key in keys:
            await self._press(key)
            self._keys += 1

    async def write(self, text: str) -> None:
        """Characters into the field that has the focus."""
        for character in text:
            await self._press(character)
            self._typed += 1

    async def scan(self, text: str) -> None:
        """A scan, which is no key. What is pressed after it comes faster here than from a hand."""
        ear = self.pilot.app.ear  # type: ignore[attr-defined]
        ear.hears = True
        await scan(self.pilot, text)
        ear.hears = False

    async def _press(self, key: str) -> None:
        await self.pilot.press(key)
        await settled(self.pilot)
