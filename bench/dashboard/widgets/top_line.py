"""The line above everything."""

from __future__ import annotations

from collections.abc import Sequence

from textual.reactive import reactive

from bench.dashboard.presenters.pieces import Line
from bench.dashboard.presenters.top_line import top_line
from bench.dashboard.widgets.painted import Painted
from bench.views.queue import QueueView


class TopLine(Painted):
    """Shop, time of day, who is timing what, and today's hands-on hours; ticks once a second."""

    view: reactive[QueueView | None] = reactive(None, init=False, repaint=False)
    acting_id: reactive[int] = reactive(0, init=False, repaint=False)
    now_us: reactive[int] = reactive(0, init=False, repaint=False)

    def watch_view(self) -> None:
        """Show the people as they are now."""
        self.repaint()

    def watch_acting_id(self) -> None:
        """Show who acts."""
        self.repaint()

    def watch_now_us(self) -> None:
        """Tick: drawn again only where the line says something else."""
        if not self.paints_the_same():
            self.repaint()

    def paint(self, width: int) -> Sequence[Line]:
        """The one line."""
        return (top_line(self.view, self.now_us, self.acting_id, width),) if self.view else ((),)
