"""The loudest thing on the screen: a battery connected on an opened unit."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.message import Message
from textual.reactive import reactive

from bench.dashboard.presenters.pieces import Line
from bench.dashboard.presenters.safety_lines import alarm_line
from bench.dashboard.widgets.painted import Painted
from bench.views.queue import QueueRow


class AlarmBar(Painted):
    """One reversed line across the screen, there only while there is something to warn of."""

    class Clicked(Message):
        """Someone clicked the bar: show the unit it is about."""

        def __init__(self, unit_id: int) -> None:
            self.unit_id = unit_id
            super().__init__()

    rows: reactive[tuple[QueueRow, ...]] = reactive((), init=False, repaint=False)

    def watch_rows(self, rows: tuple[QueueRow, ...]) -> None:
        """Come and go with the alarm."""
        self.set_class(bool(rows), "-on")
        self.repaint()

    def on_click(self, event: events.Click) -> None:
        """Go to the first unit named."""
        event.stop()
        if self.rows:
            self.post_message(self.Clicked(self.rows[0].unit_id))

    def paint(self, width: int) -> Sequence[Line]:
        """The one line."""
        return (alarm_line(self.rows, width),)
