"""A key as an area large enough for a gloved finger: what it is called, and what a tap on it does."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.message import Message

from bench.dashboard.presenters.pieces import Line, Part, clip
from bench.dashboard.widgets.painted import Painted


class LargeKey(Painted):
    """One act as an area. `label` may change with what the act would do now."""

    class Tapped(Message):
        """The area was tapped or clicked: do this act."""

        def __init__(self, act: str) -> None:
            self.act = act
            super().__init__()

    def __init__(self, act: str, key: str, label: str) -> None:
        super().__init__(id=f"large-{act}")
        self.act = act
        self._key = key
        self._label = label

    def name_it(self, label: str) -> None:
        """Say what the act does now."""
        if label != self._label:
            self._label = label
            self.repaint()

    def paint(self, width: int) -> Sequence[Line]:
        """The key and its word, in the middle."""
        text = clip(f"{self._key}  {self._label}", width)
        key, _, label = text.partition("  ")
        left = Part(" " * ((width - len(text)) // 2))
        above: tuple[Line, ...] = ((),) * ((self.size.height - 1) // 2)
        return (*above, (left, Part(key, "key"), Part(f"  {label}", "strong")))

    def on_resize(self) -> None:
        """The word stays in the middle."""
        self.repaint()

    def on_click(self, event: events.Click) -> None:
        """Do it."""
        event.stop()
        self.post_message(self.Tapped(self.act))
