"""The column names above the queue."""

from __future__ import annotations

from collections.abc import Sequence

from textual.reactive import reactive

from bench.dashboard.presenters.pieces import Line, Part
from bench.dashboard.presenters.queue_cells import names_line
from bench.dashboard.presenters.queue_columns import QueueColumns, queue_columns
from bench.dashboard.widgets.painted import Painted


class QueueNames(Painted):
    """One line of column names, over the columns that the queue uses."""

    columns: reactive[QueueColumns] = reactive(queue_columns(80), init=False, repaint=False)

    def watch_columns(self) -> None:
        """Follow the queue's columns."""
        self.repaint()

    def paint(self, width: int) -> Sequence[Line]:
        """The one line."""
        return ((Part(" "), *names_line(self.columns, width - 1)),)
