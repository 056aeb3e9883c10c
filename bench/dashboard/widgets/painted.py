"""The base of widgets that paint lines of parts, each part with a look from the style sheet."""

from __future__ import annotations

from collections.abc import Sequence

from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style
from textual.geometry import Region, Size
from textual.selection import Selection
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

    def selectable(self, strip: Strip, line: int) -> Strip:
        """That line with what the mouse selected of it lit; asked for a place in it, it says where it is."""
        selected = self.screen.selections.get(self)
        span = selected.get_span(line) if selected is not None else None
        if span is not None:
            strip = _lit(strip, *span, look_style(self, "selected"))
        # While the lines are drawn nobody asks, and each place said would make every cell another one.
        return strip.apply_offsets(0, line) if self._looks is None else strip

    def seen_lines(self) -> range:
        """The lines that are on the screen now."""
        return range(self.size.height)

    def text_of(self, line: int) -> str:
        """What that line says."""
        return self.render_line(line - self.seen_lines().start).text

    def get_selection(self, selection: Selection) -> tuple[str, str] | None:
        """What the mouse selected, as it stands on the screen; None where that is nothing."""
        seen = self.seen_lines()
        first = selection.start.y if selection.start is not None else seen.start
        last = selection.end.y if selection.end is not None else seen.stop - 1
        lines = []
        for line in range(max(first, seen.start), min(last, seen.stop - 1) + 1):
            start, end = selection.get_span(line) or (0, 0)
            lines.append(self.text_of(line)[start : None if end == -1 else end].rstrip())
        return ("\n".join(lines), "\n") if any(lines) else None


def _lit(strip: Strip, start: int, end: int, style: Style) -> Strip:
    """The strip with its characters from `start` to `end` in that style; to its end for -1."""
    first = cell_len(strip.text[:start])
    last = strip.cell_length if end == -1 else cell_len(strip.text[:end])
    lit = Strip(Segment.apply_style(strip.crop(first, last), post_style=style))
    return Strip.join([strip.crop(0, first), lit, strip.crop(last)])


class Painted(DrawnByLine, Steady):
    """A widget whose content is lines of parts. Subclasses answer `paint`; `repaint` shows what changed."""

    def paint(self, width: int) -> Sequence[Line]:
        """The lines to show in so many cells."""
        raise NotImplementedError

    def repaint(self, *, layout: bool = False) -> None:
        """Paint again, `layout` where the number of lines may have changed."""
        self._lines_at.clear()
        self.refresh(layout=layout)

    def paints_the_same(self) -> bool:
        """Whether painting again would show what is on the screen already."""
        seen = self._lines_at.items()
        return bool(seen) and all(tuple(self.paint(width)) == lines for width, lines in seen)

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
        return self.selectable(self.strip_of(lines[y] if y < len(lines) else (), width), y)
