"""The base of widgets that paint lines of parts, each part with a look from the style sheet."""

from __future__ import annotations

from collections.abc import Sequence

from rich.segment import Segment
from rich.style import Style
from textual.geometry import Region, Size
from textual.strip import Strip
from textual.widget import Widget

from bench.dashboard.presenters.pieces import Line
from bench.dashboard.widgets.looks import ground_style, look_style
from bench.dashboard.widgets.steady import Steady


def strip_of(widget: Widget, line: Line, width: int, under: str = "") -> Strip:
    """A line of parts as the framework draws it; `under`: a look for the whole line, such as the cursor's."""
    return Looks(widget).strip_of(line, width, under)


class Looks:
    """A widget's looks as styles while it is drawn once: each is worked out once, not at every line."""

    def __init__(self, widget: Widget) -> None:
        self._widget = widget
        self._styles: dict[tuple[str, str], Style] = {}

    def strip_of(self, line: Line, width: int, under: str = "") -> Strip:
        """As the function of this name."""
        segments = [Segment(part.text, self._style(part.look, under)) for part in line]
        return Strip(segments).adjust_cell_length(width, self._style("", under))

    def _style(self, look: str, under: str) -> Style:
        style = self._styles.get((look, under))
        if style is None:
            style = ground_style(self._widget, under) + _look(self._widget, look, under)
            self._styles[look, under] = style
        return style


def _look(widget: Widget, look: str, under: str) -> Style:
    if not look:
        return Style.null()
    if not under or look == "loud":
        return look_style(widget, look)
    # Under the cursor the cursor's own colours stay, for they are sure to be readable together.
    return look_style(widget, look).without_color + Style(dim=False)


class DrawnByLine(Widget):
    """A widget that draws its lines by itself, from parts."""

    _looks: Looks | None = None

    def render_lines(self, crop: Region) -> list[Strip]:
        """Draw these lines with the looks of this moment."""
        self._looks = Looks(self)
        try:
            return super().render_lines(crop)
        finally:
            self._looks = None

    def strip_of(self, line: Line, width: int, under: str = "") -> Strip:
        """A line of parts as the framework draws it; `under` as in the function of this name."""
        return (self._looks or Looks(self)).strip_of(line, width, under)


class Painted(DrawnByLine, Steady):
    """A widget whose content is lines of parts. Subclasses answer `paint`; `repaint` shows what changed."""

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
        return self.strip_of(lines[y] if y < len(lines) else (), width)
