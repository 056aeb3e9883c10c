"""How a screen is drawn: no more of it than changed, and what lies beneath a dialog dimmed at little cost."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import TypeVar

from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.geometry import Size
from textual.messages import Layout
from textual.reactive import Reactive
from textual.renderables.background_screen import BackgroundScreen
from textual.screen import Screen
from textual.scrollbar import ScrollBar
from textual.widget import Widget

from bench.dashboard.widgets.steady import Steady

Answer = TypeVar("Answer")
LOOKS = 4096  # more than a screen has


class SparingScreen(Screen[Answer], Steady):
    """Laid out and drawn no oftener than there is something new to be seen."""

    # The focus moves without a drawing of all: what loses it and what takes it are drawn.
    focused: Reactive[Widget | None] = Reactive(None, repaint=False)

    async def _on_layout(self, message: Layout) -> None:
        """Where a scrollbar stands follows from what it scrolls."""
        if isinstance(message.widget, ScrollBar):
            message.prevent_default()

    def _screen_resized(self, size: Size) -> None:
        """Lay out for another size: the framework tells of the first one when it is laid out already.

        It tells the screens beneath as well.
        """
        if size != self._compositor.size:
            super()._screen_resized(size)


class Dimmed(BackgroundScreen):
    """The screen beneath a dialog, each look of it mixed with the dialog's ground once, not at every cell."""

    @classmethod
    def process_segments(cls, segments: Iterable[Segment], color: Color) -> Iterable[Segment]:
        """The segments, each in its dimmed look."""
        for segment in segments:
            text, style, control = segment
            yield segment if control else Segment(text, _dimmed(style or Style.null(), color))


@lru_cache(LOOKS)
def _dimmed(style: Style, color: Color) -> Style:
    ((_, dimmed, _),) = BackgroundScreen.process_segments([Segment(" ", style)], color)
    return dimmed or style
