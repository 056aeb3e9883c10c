"""A panel of lines that are handed to it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from bench.dashboard.presenters.pieces import Line
from bench.dashboard.widgets.painted import Painted

Lines = Callable[[int], Sequence[Line]]


def _nothing(_width: int) -> Sequence[Line]:
    return ()


class LinesPanel(Painted):
    """Shows what a presenter makes of the width there is; with a title, in a frame of its own."""

    def __init__(self, *, title: str = "", id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id, classes="panel" if title else None)
        self.border_title = title
        self._lines: Lines = _nothing

    def show(self, lines: Lines) -> None:
        """Show other lines, drawn again only where they are others."""
        self._lines = lines
        if not self.paints_the_same():
            self.repaint(layout=True)

    def paint(self, width: int) -> Sequence[Line]:
        """The lines for this width."""
        return self._lines(width)
