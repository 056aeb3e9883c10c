"""The box in which one types what is sought in a text."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType
from textual.message import Message
from textual.widgets import Input

from bench.dashboard.keys import bindings_for


class TextFinder(Input):
    """Seeks as one types; Enter goes on to the next place, Escape leaves."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("finder")

    class Next(Message):
        """On to the next place."""

    class Left(Message):
        """Typing is over."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(placeholder="words of the manual", id=id, max_length=100)

    def action_next_place(self) -> None:
        """Go on."""
        self.post_message(self.Next())

    def action_leave(self) -> None:
        """Back to the text."""
        self.post_message(self.Left())
