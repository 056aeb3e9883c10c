"""One line of a list that can be ticked by key or mouse."""

from __future__ import annotations

from textual import events
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from bench.dashboard.presenters.tick_list import TickShown
from bench.domain.text import for_display

TICKED = "[✓]"
OPEN = "[ ]"


class TickLine(Static, can_focus=True):
    """A tick and its words."""

    class Clicked(Message):
        """Someone clicked the line."""

        def __init__(self, number: int) -> None:
            self.number = number
            super().__init__()

    def __init__(self, number: int) -> None:
        super().__init__(markup=False)
        self.number = number

    def show(self, tick: TickShown) -> None:
        """Show the line as it is now."""
        mark = TICKED if tick.ticked else OPEN
        self.update(Content(f"{mark} {for_display(tick.words)}"))
        self.set_class(tick.ticked, "ticked")

    def on_click(self, event: events.Click) -> None:
        """Tick it, or take the tick off."""
        event.stop()
        self.post_message(self.Clicked(self.number))
