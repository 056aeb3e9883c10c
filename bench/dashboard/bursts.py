"""A burst of characters from a scanner, told from what a person types by its pace alone. No clock, no screen.

A scanner sends a character every 1 to 20 ms and ends with Enter or Tab; a fast typist needs 40 ms and more as
a rule, though two keys may come within less. So one character waits a little for a second one, and once
three have come at a scanner's pace the rest may stumble, as bytes do on a busy machine.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Generic, TypeVar

K = TypeVar("K")

# Measured in tests/pty/BURSTS.md, by `python -m tests.pty.bursts_measured`.
FIRST_WAIT, SECOND_WAIT, LATER_WAIT = 0.045, 0.050, 0.100  # seconds to the next character, by how many came
MOST_GAP = 0.030  # seconds a character, the middle one of a run: slower is a person
LEAST_ENDED = 1  # characters before an Enter or Tab that ends a scan, where each would fire a key
LEAST_ENDED_TEXT = 2  # the same where they are text, and an Enter too much is the lesser harm
LEAST_UNENDED = 4  # characters of a scan that nothing ends


@dataclass(frozen=True, slots=True)
class Typed(Generic[K]):
    """Keys that a person typed, in their order."""

    keys: tuple[K, ...]


@dataclass(frozen=True, slots=True)
class Scanned(Generic[K]):
    """What a scanner sent. `keys`: the keys it came as; `ended`: by Enter or Tab."""

    text: str
    keys: tuple[K, ...]
    ended: bool


class Bursts(Generic[K]):
    """Takes keys as they come, with the instant of each in seconds, and answers what has become certain.

    What is not certain yet is held, never reordered. A run of characters ends with another key, or when
    `quiet` is called, at `quiet_at`, by who knows that nothing more is on its way: on a busy machine
    characters are read late, and their instants alone would tear a scan apart.
    """

    def __init__(self) -> None:
        self._keys: list[K] = []
        self._text = ""
        self._times: list[float] = []
        self._scan_end_at: float | None = None

    @property
    def held(self) -> Sequence[K]:
        """The keys whose meaning is open."""
        return self._keys

    @property
    def quiet_at(self) -> float | None:
        """The instant at which the run is over if no other character comes; None while nothing is held."""
        return self._times[-1] + self._wait() if self._keys else None

    def character(self, key: K, character: str, at: float) -> None:
        """A printable character: it is held."""
        self._keys.append(key)
        self._text += character
        self._times.append(at)
        self._scan_end_at = None

    def end_key(self, key: K, at: float, *, least: int = LEAST_ENDED) -> list[Typed[K] | Scanned[K]]:
        """Enter or Tab: the end of a scan of at least so many characters, or a key like any other."""
        told: list[Typed[K] | Scanned[K]] = []
        if len(self._keys) >= least and self._at_scanners_pace(at):
            told = self._end(scanned=True, ended=True)
            self._scan_end_at = at
        elif self._scan_end_at is not None and at - self._scan_end_at <= FIRST_WAIT:
            self._scan_end_at = at  # a second end, such as a line feed behind the carriage return
        else:
            told = [*self._end(scanned=False), Typed((key,))]
        return told

    def other_key(self, key: K) -> list[Typed[K] | Scanned[K]]:
        """Any other key: what was held before it was typed."""
        self._scan_end_at = None
        return [*self._end(scanned=False), Typed((key,))]

    def quiet(self) -> list[Typed[K] | Scanned[K]]:
        """No other character has come in time."""
        long = len(self._keys) >= LEAST_UNENDED and len(set(self._text)) > 1  # a key held down is no scan
        return self._end(scanned=long and self._at_scanners_pace())

    def _wait(self) -> float:
        return (FIRST_WAIT, SECOND_WAIT, LATER_WAIT)[min(len(self._keys), 3) - 1]

    def _at_scanners_pace(self, *end: float) -> bool:
        """By the middle gap: one long gap among many short ones is a machine that was busy."""
        gaps = sorted(after - before for before, after in pairwise((*self._times, *end)))
        half = len(gaps) // 2
        return bool(gaps) and (gaps[half] + gaps[~half]) / 2 <= MOST_GAP

    def _end(self, *, scanned: bool, ended: bool = False) -> list[Typed[K] | Scanned[K]]:
        keys, text = tuple(self._keys), self._text
        self._keys, self._text, self._times = [], "", []
        if not keys:
            return []
        return [Scanned(text, keys, ended)] if scanned else [Typed(keys)]
