"""Hours a day this week: the line at the bottom, and the same as a panel where the side panels fold."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from textual import events
from textual.message import Message
from textual.reactive import reactive

from bench.dashboard.presenters.pieces import Line
from bench.dashboard.presenters.week_chart import week_line, week_lines
from bench.dashboard.widgets.painted import Painted
from bench.views.hours import DayHours


class WeekBar(Painted):
    """The week in one line; a click opens it."""

    class Opened(Message):
        """Someone clicked the week."""

    days: reactive[tuple[DayHours, ...]] = reactive((), init=False, repaint=False)
    today: reactive[date | None] = reactive(None, init=False, repaint=False)

    def watch_days(self) -> None:
        """Show the hours as they are now."""
        self.repaint()

    def watch_today(self) -> None:
        """Mark the day."""
        self.repaint()

    def on_click(self, event: events.Click) -> None:
        """Open the week."""
        event.stop()
        self.post_message(self.Opened())

    def paint(self, width: int) -> Sequence[Line]:
        """The one line."""
        return (week_line(self.days, self.today, width),)


class WeekPanel(WeekBar):
    """The week in a line a day."""

    BORDER_TITLE = "Week"

    def paint(self, width: int) -> Sequence[Line]:
        """Eight lines."""
        return week_lines(self.days, self.today, width)
