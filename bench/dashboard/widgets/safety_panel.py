"""The panels beside the queue: safety of the unit under the cursor, and what is on the shelf."""

from __future__ import annotations

from collections.abc import Sequence

from rich.cells import cell_len
from textual import events
from textual.message import Message
from textual.reactive import reactive

from bench.dashboard.presenters.pieces import Line, Part
from bench.dashboard.presenters.safety_lines import alarm_line, safety_lines
from bench.dashboard.presenters.stock_lines import stock_line
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.painted import Painted
from bench.domain.stock_levels import StockLine
from bench.domain.text import for_display
from bench.views.queue import QueueRow
from bench.views.safety import SafetyView
from bench.views.stock import StockBook


class SafetyPanel(Painted):
    """Cover, battery, lists and caution; with the class -alarm while something there can hurt."""

    BORDER_TITLE = "Safety"

    safety: reactive[SafetyView | None] = reactive(None, init=False, repaint=False)

    def watch_safety(self, safety: SafetyView | None) -> None:
        """Show the lists as they are now."""
        self.set_class(safety is not None and (safety.alarm or safety.cell_finding is not None), "-alarm")
        self.repaint(layout=True)

    def paint(self, width: int) -> Sequence[Line]:
        """The panel's lines."""
        return safety_lines(self.safety, width)


class StockPanel(LineList[StockLine]):
    """The lines of a StockBook; Enter opens the movements behind one."""

    BORDER_TITLE = "Stock"
    _longest_name = 0

    def show_book(self, book: StockBook) -> None:
        """Show the levels as they are now; the cursor stays on its consumable."""
        kept = self.current
        ids = [line.consumable_id for line in book.lines]
        same = ids.index(kept.consumable_id) if kept and kept.consumable_id in ids else min(0, len(ids) - 1)
        low = sum(line.low for line in book.lines)
        self.border_subtitle = f"{low} low" if low else ""
        self._longest_name = max((cell_len(for_display(line.name)) for line in book.lines), default=0)
        self.show(book.lines, same)

    def line_of(self, item: StockLine, width: int) -> Line:
        """A consumable as parts."""
        return stock_line(item, width - 2, self._longest_name)

    def when_empty(self) -> Line:
        """What to say to a shop without consumables."""
        return (Part(" No consumables yet.", "muted"),)


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
