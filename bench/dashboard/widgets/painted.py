"""The base of widgets that paint lines of parts, each part with a look from the style sheet."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from rich.segment import Segment
from rich.style import Style
from textual.geometry import Size
from textual.strip import Strip
from textual.widget import Widget

from bench.dashboard.presenters.parts import LOOKS, Line

LOOK_CLASSES = frozenset(f"look--{look}" for look in LOOKS)


def strip_of(widget: Widget, line: Line, width: int, under: str = "") -> Strip:
    """A line of parts as the framework draws it; `under`: a look for the whole line, such as the cursor's."""
    base = widget.get_component_rich_style(f"look--{under}") if under else widget.rich_style
    segments = [Segment(part.text, base + _look(widget, part.look, under)) for part in line]
    return Strip(segments).adjust_cell_length(width, base)


def _look(widget: Widget, look: str, under: str) -> Style:
    if not look:
        return Style.null()
    if not under or look == "loud":
        return widget.get_component_rich_style(f"look--{look}")
    # Under the cursor the cursor's own colours stay, for they are sure to be readable together.
    style = widget.get_component_rich_style(f"look--{look}", partial=True)
    return style.without_color + Style(dim=False)


class Painted(Widget):
    """A widget whose content is lines of parts. Subclasses answer `paint`; `repaint` shows what changed."""

    COMPONENT_CLASSES: ClassVar[set[str]] = set(LOOK_CLASSES)

    def paint(self, width: int) -> Sequence[Line]:
        """The lines to show in so many cells."""
        raise NotImplementedError

    def repaint(self, *, layout: bool = False) -> None:
        """Paint again, `layout` where the number of lines may have changed."""
        self._lines_at.clear()
        self.refresh(layout=layout)

    def __init__(self, *, id: str | None = None, classes: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id, classes=classes)
        self._lines_at: dict[int, tuple[Line, ...]] = {}

    def painted(self, width: int) -> tuple[Line, ...]:
        """The lines, painted once for a width."""
        if width not in self._lines_at:
            self._lines_at = {width: tuple(self.paint(width))}
        return self._lines_at[width]

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """As many lines as there are."""
        del container, viewport
        return len(self.painted(width)) if width > 0 else 0

    def render_line(self, y: int) -> Strip:
        """One line on the screen."""
        width = self.size.width
        lines = self.painted(width)
        return strip_of(self, lines[y] if y < len(lines) else (), width)
