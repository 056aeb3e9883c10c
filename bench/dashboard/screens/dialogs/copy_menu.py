"""What to copy, of what is there: one letter each."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from rich.text import Text
from textual import events, on
from textual.widget import Widget
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from bench.dashboard.presenters.pieces import clip
from bench.dashboard.screens.dialogs.dialog import Dialog
from bench.dashboard.screens.row_acts import Copyable

CELLS = 54  # of a line in the dialog


class CopyMenu(Dialog[str]):
    """Answers the letter of what was chosen, typed or from the list."""

    send_label = "Copy"
    send_action = "enter"

    def __init__(self, copies: Sequence[Copyable]) -> None:
        super().__init__("Copy what?")
        self.copies = tuple(copies)

    def body(self) -> Iterable[Widget]:
        """A line each."""
        lines = [Option(_words(one), id=f"copy-{one.letter}") for one in self.copies]
        yield OptionList(*lines, compact=True)

    def on_mount(self) -> None:
        """Begin with the first."""
        self.query_one(OptionList).highlighted = 0

    def on_key(self, event: events.Key) -> None:
        """A letter copies at once."""
        if any(one.letter == event.character for one in self.copies):
            event.stop()
            self.dismiss(event.character)

    def work(self) -> Callable[[], Any] | None:
        """Nothing is written: whoever asked copies it."""
        at = self.query_one(OptionList).highlighted
        if at is not None:
            self.dismiss(self.copies[at].letter)
        return None

    @on(OptionList.OptionSelected)
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        self.action_send()


def _words(one: Copyable) -> Text:
    return Text.assemble((f" {one.letter}", "bold"), f"  {clip(one.what, CELLS)}")
