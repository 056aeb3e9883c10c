"""One ear for the scanner: every key passes here, and a burst of characters is a scan, never keys."""

from __future__ import annotations

import asyncio
import time
from abc import abstractmethod
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Generic, TypeVar

from textual import events
from textual.app import App
from textual.widgets import Input, TextArea
from textual.widgets.text_area import Selection as AreaSelection

from bench.dashboard.keys_in_order import Key, KeyLine

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


HOPS = 3  # rounds of the loop that a key read already may still need on its way to the app
UNREAD_SECONDS = 0.005  # until it is looked again whether the terminal's input has been read
SCAN_ENDS = ("enter", "tab", "ctrl+j")


class SeesKeysFirst:
    """For a screen that looks at each key before it is handed to the widget with the focus.

    By then no later key has been handed on, so that a focus moved here holds for the whole burst.
    """

    @abstractmethod
    def before_key(self, event: events.Key) -> None:
        """Look at the key; it goes to whatever has the focus afterwards."""


@dataclass
class Flow:
    """A run of characters that goes straight into a text widget, and how to put back what stood there.

    `keys` holds the keys themselves: Python gives the number of one that is gone to a later one.
    """

    widget: Input | TextArea
    keys: set[Key] = field(default_factory=set)
    _put_back: Callable[[], None] | None = None

    def begin(self) -> None:
        """Remember what stands in the widget, behind the characters on their way to it."""
        self.widget.call_later(self._remember)

    def put_back(self) -> None:
        """Put back what stood there, behind the run's own characters."""
        self.widget.call_later(self._restore)

    def _remember(self) -> None:
        widget = self.widget
        if isinstance(widget, Input):
            value, selection = widget.value, widget.selection

            def put_back() -> None:
                widget.value = value
                widget.selection = selection
        else:
            text, chosen = widget.text, widget.selection

            def put_back() -> None:
                widget.text = text
                widget.selection = AreaSelection(*chosen)

        self._put_back = put_back

    def _restore(self) -> None:
        if self._put_back is not None:
            self._put_back()


@dataclass(frozen=True)
class Scan:
    """A scan to be dealt with. `into`: the text its characters went into, None where they were held."""

    text: str
    into: Flow | None
    ended: bool


class Ear:
    """Takes the app's keys, tells scans from typing, and hands both on in their order.

    `hears`: whether there may be a scanner; without, every key is typed, however fast it comes.
    `take_scan` deals with a scan and calls back when it is through. `input_waits`: whether more has come than
    was taken so far.
    """

    def __init__(
        self,
        app: App[int],
        line: KeyLine,
        take_scan: Callable[[Scan, Callable[[], None]], None],
        input_waits: Callable[[], bool],
    ) -> None:
        self.hears = False
        self._app = app
        self._line = line
        self._take_scan = take_scan
        self._input_waits = input_waits
        self._bursts: Bursts[Key] = Bursts()
        self._flow: Flow | None = None
        self._quiet: asyncio.TimerHandle | None = None

    async def take(self, event: Key) -> None:
        """Take a key or a paste."""
        if not self.hears:
            await self._line.put(event)
        elif isinstance(event, events.Paste):
            await self._tell(self._bursts.other_key(event))
        elif event.is_printable and event.character is not None:
            await self._character(event, event.character)
        elif event.key in SCAN_ENDS:
            least = LEAST_ENDED if self._flow is None else LEAST_ENDED_TEXT
            await self._tell(self._bursts.end_key(event, event.time, least=least))
        else:
            await self._tell(self._bursts.other_key(event))
        self._wait_for_quiet()

    async def _character(self, event: events.Key, character: str) -> None:
        self._bursts.character(event, character, event.time)
        focused = self._app.focused
        if len(self._bursts.held) == 1:
            self._flow = None
            if self._line.is_free and isinstance(focused, (Input, TextArea)):
                self._flow = Flow(focused)
                self._flow.begin()
        if self._flow is not None and self._line.is_free and self._flow.widget is focused:
            self._flow.keys.add(event)
            await self._line.put(event)

    async def _tell(self, told: list[Typed[Key] | Scanned[Key]]) -> None:
        for one in told:
            flow = self._flow
            through = flow.keys if flow is not None else set()
            if isinstance(one, Typed):
                await self._line.put(*(key for key in one.keys if key not in through))
            elif one.ended or not through:  # what nothing ended is text where it went in as text
                scan = Scan(one.text, flow if through else None, one.ended)
                await self._line.put(self._turn_of(scan))

    def _turn_of(self, scan: Scan) -> Callable[[Callable[[], None]], None]:
        return lambda done: self._take_scan(scan, done)

    def _wait_for_quiet(self) -> None:
        if self._quiet is not None:
            self._quiet.cancel()
            self._quiet = None
        at = self._bursts.quiet_at
        if at is not None:
            loop = asyncio.get_running_loop()
            self._quiet = loop.call_later(max(0.0, at - time.monotonic()), self._hop, HOPS)

    def _hop(self, left: int) -> None:
        loop = asyncio.get_running_loop()
        if left:
            loop.call_soon(self._hop, left - 1)
        elif self._input_waits():
            self._quiet = loop.call_later(UNREAD_SECONDS, self._hop, HOPS)
        else:
            self._app.call_later(self._now_quiet)

    async def _now_quiet(self) -> None:
        at = self._bursts.quiet_at
        if at is not None and time.monotonic() >= at:
            await self._tell(self._bursts.quiet())
        self._wait_for_quiet()
