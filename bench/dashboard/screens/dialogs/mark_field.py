"""A field that is ticked or not."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget

from bench.dashboard.keys import bindings_for
from bench.dashboard.screens.dialogs.field import Field
from bench.dashboard.screens.dialogs.tick_line import OPEN, TICKED

YES = "yes"


class Mark(Widget, can_focus=True):
    """A box to tick by Space or mouse, and its words."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("mark")

    class Changed(Message):
        """The tick was put or taken off."""

        def __init__(self, mark: Mark) -> None:
            self.mark = mark
            super().__init__()

        @property
        def control(self) -> Mark:
            """The box."""
            return self.mark

    ticked: reactive[bool] = reactive(default=False, init=False)

    def __init__(self, words: str, *, ticked: bool) -> None:
        super().__init__(classes="control")
        self.words = words
        self.set_reactive(Mark.ticked, ticked)

    def render(self) -> Content:
        """The box and its words."""
        return Content(f" {TICKED if self.ticked else OPEN} {self.words}")

    def watch_ticked(self) -> None:
        """Tell the form."""
        self.post_message(self.Changed(self))

    def action_tick(self) -> None:
        """Tick it, or take the tick off."""
        self.ticked = not self.ticked

    def on_click(self) -> None:
        """The same by mouse."""
        self.action_tick()


class MarkField(Field):
    """Yes or no. The value is YES or empty."""

    def __init__(self, name: str, label: str, words: str, *, value: str = "") -> None:
        super().__init__(name, label)
        self.started_as = value
        self._mark = Mark(words, ticked=value == YES)

    def control(self) -> Widget:
        """The box."""
        return self._mark

    @property
    def value(self) -> str:
        """YES where it is ticked."""
        return YES if self._mark.ticked else ""

    def put(self, value: str) -> None:
        """Tick it for YES."""
        self._mark.ticked = value == YES
