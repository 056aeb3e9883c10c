"""How a screen is drawn: no more of it than changed, and what lies beneath a dialog dimmed at little cost."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import TypeVar

from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.reactive import Reactive
from textual.renderables.background_screen import BackgroundScreen
from textual.screen import Screen
from textual.widget import Widget

Answer = TypeVar("Answer")
LOOKS = 4096  # more than a screen has


class SparingScreen(Screen[Answer]):
    """The focus moves without a drawing of the whole screen: what loses it and what takes it are drawn."""

    focused: Reactive[Widget | None] = Reactive(None, repaint=False)


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
