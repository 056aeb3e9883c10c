"""A picture in half blocks: each cell shows an upper and a lower colour."""

from __future__ import annotations

from functools import lru_cache

from rich.color import Color
from rich.segment import Segment
from rich.style import Style
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from bench.dashboard.widgets.looks import ground_style
from bench.domain.decoding import Cells, Colour

HALF = "▀"


class Picture(Widget):
    """Shows the cells that it is handed, in its middle; nothing where it has none."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self.cells: Cells | None = None

    class Resized(Message):
        """There is other room for it now."""

    def on_resize(self) -> None:
        """Have it made anew for that."""
        self.post_message(self.Resized())

    def show(self, cells: Cells | None) -> None:
        """Show another picture, or none."""
        self.cells = cells
        self.refresh()

    def render_line(self, y: int) -> Strip:
        """One line of cells."""
        width, height = self.size
        ground = ground_style(self)
        rows = self.cells.rows if self.cells is not None else ()
        at = y - max(0, (height - len(rows)) // 2)
        if not 0 <= at < len(rows):
            return Strip.blank(width, ground)
        row = rows[at][:width]
        margin = Segment(" " * ((width - len(row)) // 2), ground)
        drawn = [Segment(HALF, _style(*pair)) for pair in row]
        return Strip([margin, *drawn]).adjust_cell_length(width, ground)


@lru_cache(maxsize=8_192)
def _style(upper: Colour, lower: Colour) -> Style:
    return Style(color=Color.from_rgb(*upper), bgcolor=Color.from_rgb(*lower))
