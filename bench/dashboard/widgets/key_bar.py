"""The key bar at the foot of a screen: the keys that fit, each also a place to click."""

from __future__ import annotations

from collections.abc import Sequence

from rich.cells import cell_len
from textual import events

from bench.dashboard.presenters.key_bar import KeyHint, hints_that_fit
from bench.dashboard.presenters.pieces import Line, Part
from bench.dashboard.widgets.painted import Painted


class KeyBar(Painted):
    """The hints given, the most useful first; `last` ones are always shown, at the end."""

    def __init__(self, hints: Sequence[KeyHint], last: Sequence[KeyHint] = ()) -> None:
        super().__init__()
        self._hints = tuple(hints)
        self._last = tuple(last)

    def paint(self, width: int) -> Sequence[Line]:
        """The one line."""
        shown = hints_that_fit(self._hints, self._last, width - 1)
        parts = [Part(" ")]
        for hint in shown:
            parts += [Part(hint.key, "key"), Part(f" {hint.label}  ", "muted")]
        return (tuple(parts),)

    async def on_click(self, event: events.Click) -> None:
        """Do what the hint under the mouse says."""
        event.stop()
        x = 1
        for hint in hints_that_fit(self._hints, self._last, self.size.width - 1):
            x += cell_len(hint.key) + 1 + cell_len(hint.label) + 2
            if event.x < x:
                await self.screen.run_action(hint.action)
                return
