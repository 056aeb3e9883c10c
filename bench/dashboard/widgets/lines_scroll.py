"""Lines that are handed to it, to scroll through: drawn line by line, so that new ones cost no new layout."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from textual import events
from textual.geometry import Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip

from bench.dashboard.presenters.pieces import Line
from bench.dashboard.widgets.painted import DrawnByLine

Lines = Callable[[int], Sequence[Line]]


def _nothing(_width: int) -> Sequence[Line]:
    return ()


class LinesScroll(ScrollView, DrawnByLine, can_focus=True):
    """Shows what a presenter makes of the width there is; the arrows scroll it."""

    class Remade(Message):
        """Its lines were made for another width: each may stand elsewhere now."""

    def __init__(self, *, title: str = "", id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self.border_title = title
        self._make: Lines = _nothing
        self.lines: tuple[Line, ...] = ()

    @property
    def line_width(self) -> int:
        """The cells of a line, the scrollbar apart."""
        return self.scrollable_content_region.width

    def show(self, lines: Lines) -> None:
        """Show other lines, from where it is scrolled to."""
        self._make = lines
        self._remake()

    def bring_into_view(self, lines: range) -> None:
        """Scroll so that these lines are seen, the first at the top, unless all of them are seen already."""
        top = self.scroll_offset.y
        if lines.start < top or lines.stop > top + self.size.height:
            self.scroll_to(y=lines.start, animate=False, immediate=True)

    def on_resize(self, event: events.Resize) -> None:
        """Make the lines for the new width."""
        del event
        self._remake()
        self.post_message(self.Remade())

    def render_line(self, y: int) -> Strip:
        """One line on the screen."""
        at, width = y + self.scroll_offset.y, self.size.width
        return self.selectable(self.strip_of(self.lines[at] if at < len(self.lines) else (), width), at)

    def seen_lines(self) -> range:
        """The lines on the screen, from where it is scrolled to."""
        return range(self.scroll_offset.y, self.scroll_offset.y + self.size.height)

    def _remake(self) -> None:
        width = self.line_width
        if width > 0:
            self.lines = tuple(self._make(width))
            self.virtual_size = Size(width, len(self.lines))
            self.refresh()
