"""Boxes to type in over a list: a tag to jump to, words to filter by."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.binding import BindingType
from textual.message import Message
from textual.widgets import Input

from bench.dashboard.keys import bindings_for


class JumpBox(Input):
    """Takes a tag. A scanner's burst may hold several tags: each Enter hands over what came before it."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("jump")

    class Typed(Message):
        """A tag was entered, as typed."""

        def __init__(self, text: str) -> None:
            self.text = text
            super().__init__()

    class Left(Message):
        """The box is done with."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(placeholder="tag", id=id, restrict=r"[0-9 ]*", max_length=40, select_on_focus=False)
        # Digits of the next scan may be on their way here while the focus leaves after the last one.
        self.keeps_value = False

    def on_key(self, event: events.Key) -> None:
        """Enter is taken here, not as a binding: by then the next tag's digits would have come in."""
        if event.key != "enter":
            return
        event.stop()
        event.prevent_default()
        text, self.value = self.value, ""
        self.post_message(self.Typed(text))

    def action_leave(self) -> None:
        """Give up."""
        self.value = ""
        self.post_message(self.Left())

    def on_blur(self) -> None:
        """Losing the focus is giving up, unless it went because a tag was entered."""
        if self.keeps_value:
            self.keeps_value = False
        else:
            self.action_leave()


class FilterBox(Input):
    """Filters as one types; Enter and Down go to the list, Escape clears."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("filter")

    class Done(Message):
        """Typing is over; the filter stays."""

    class Emptied(Message):
        """The filter goes."""

    def __init__(self, placeholder: str, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(placeholder=placeholder, id=id, max_length=100)

    def action_done(self) -> None:
        """Leave the filter as it is."""
        self.post_message(self.Done())

    def action_empty(self) -> None:
        """Empty the filter."""
        self.value = ""
        self.post_message(self.Emptied())
