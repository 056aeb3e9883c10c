"""Where the filter is typed."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.message import Message
from textual.widgets import Input


class FilterBox(Input):
    """Filters as one types; Enter and Down go to the queue, Escape clears."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "clear_all", "clear", show=False),
        Binding("down,enter", "done", "to the queue", show=False),
    ]

    class Done(Message):
        """Typing is over; the filter stays."""

    class Cleared(Message):
        """The filter goes."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(placeholder="tag, model, task, stage or reason", id=id, max_length=100)

    def action_done(self) -> None:
        """Leave the filter as it is."""
        self.post_message(self.Done())

    def action_clear_all(self) -> None:
        """Empty the filter."""
        self.value = ""
        self.post_message(self.Cleared())
