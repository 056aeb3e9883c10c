"""All keys stand in one line: each takes effect before the next one is handed on, however fast they come.

A key that is no character of a text field works as a binding, which the framework looks for only after the
key has bubbled up from the widget to the app. Characters that came meanwhile would overtake it.
"""

from __future__ import annotations

import asyncio
from collections import deque
from collections.abc import Awaitable, Callable
from typing import TYPE_CHECKING

from textual import events
from textual.widgets import Input, TextArea

from bench.dashboard.reading import ReadsFirst

if TYPE_CHECKING:
    from textual.app import App
    from textual.dom import DOMNode
    from textual.screen import Screen
    from textual.widget import Widget

Key = events.Key | events.Paste

PATIENCE_SECONDS = (
    0.5  # what a key set off may have ended with its widget: then the next one goes on all the same
)
READ_SECONDS = 2.0  # what a screen is about, before its first key; after that keys go on without it
LONGEST_SECONDS = 5.0  # what is looked up for a scan; after that keys go on without it
ROUNDS = 2  # the key bubbles up; then what its action posted does


# Something other than a key that waits for its turn: it calls back when the next one may come.
Waiting = Callable[[Callable[[], None]], None]


def is_text(widget: Widget | None) -> bool:
    """Whether characters go into this widget as text."""
    return isinstance(widget, (Input, TextArea))


class KeyLine:
    """The line of an app. `hand_on` gives a key or a paste to the framework."""

    def __init__(self, app: App[int], hand_on: Callable[[Key], Awaitable[None]]) -> None:
        self._app = app
        self.hand_on = hand_on
        self._line: deque[Key | Waiting] = deque()
        self._turn: object | None = None
        self._waited_for: ReadsFirst | None = None
        self._patience: asyncio.TimerHandle | None = None

    @property
    def is_free(self) -> bool:
        """Whether a key would be handed on at once."""
        return self._turn is None and not self._line and self._not_read() is None

    async def put(self, *items: Key | Waiting) -> None:
        """Put these at the end, and hand on what can be."""
        self._line.extend(items)
        await self._go_on()

    async def _go_on(self) -> None:
        while self._line and self._turn is None:
            screen = self._not_read()
            if screen is not None and self._waited_for is not screen:
                self._waited_for = screen
                self._begin_turn(READ_SECONDS)
                screen.once_read(self._done(self._turn))
                return
            item = self._line.popleft()
            if isinstance(item, Key):
                await self._hand_on_key(item)
            else:
                self._begin_turn(LONGEST_SECONDS)
                item(self._done(self._turn))

    def _not_read(self) -> ReadsFirst | None:
        """The open screen where it has not read yet what it is about."""
        screen: object = self._app.screen
        return screen if isinstance(screen, ReadsFirst) and not screen.is_read else None

    async def _hand_on_key(self, key: Key) -> None:
        target, screen = self._app.focused or self._app.screen, self._app.screen
        plain = isinstance(key, events.Key) and key.is_printable and is_text(target)
        if not plain:
            self._begin_turn(PATIENCE_SECONDS)
        await self.hand_on(key)
        if not plain:
            self._follow(target, screen, self._turn, ROUNDS)

    def _begin_turn(self, patience: float) -> None:
        turn = self._turn = object()
        self._patience = asyncio.get_running_loop().call_later(patience, self._done(turn))

    def _done(self, turn: object) -> Callable[[], None]:
        def done() -> None:
            if self._turn is turn:
                self._app.call_later(self._end_turn, turn)

        return done

    async def _end_turn(self, turn: object) -> None:
        if self._turn is not turn:
            return
        self._turn = None
        if self._patience is not None:
            self._patience.cancel()
            self._patience = None
        await self._go_on()

    def _follow(self, target: DOMNode, screen: Screen[object], turn: object, rounds: int) -> None:
        """Go up from the widget behind the key, then up behind what the key's action posted."""

        def at_top() -> None:
            if self._turn is not turn:
                return
            if rounds > 1:
                self._follow(target, screen, turn, rounds - 1)
            elif self._app.screen is screen or not self._app.screen.call_after_refresh(self._done(turn)):
                self._done(turn)()

        self._climb(target, at_top)

    def _climb(self, node: DOMNode | None, at_top: Callable[[], None]) -> None:
        while node is not None and node is not self._app:
            above = node.parent
            if node.call_later(self._climb, above, at_top):
                return
            node = above
        if not self._app.call_later(at_top):
            at_top()
