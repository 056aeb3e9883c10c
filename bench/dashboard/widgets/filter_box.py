"""Where the filter is typed."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType
from textual.message import Message
from textual.widgets import Input

from bench.dashboard.keys import bindings_for


class FilterBox(Input):
    """Filters as one types; Enter and Down go to the queue, Escape clears."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("filter")

    class Done(Message):
        """Typing is over; the filter stays."""

    class Emptied(Message):
        """The filter goes."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(placeholder="tag, model, task, stage or reason", id=id, max_length=100)

    def action_done(self) -> None:
        """Leave the filter as it is."""
        self.post_message(self.Done())

    def action_empty(self) -> None:
        """Empty the filter."""
        self.value = ""
        self.post_message(self.Emptied())
