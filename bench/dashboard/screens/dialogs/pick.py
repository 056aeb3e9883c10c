"""A dialog that shows a few lines to choose one from."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable, Iterable, Sequence
from typing import Any, NamedTuple

from rich.text import Text
from textual import on
from textual.widget import Widget
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from bench.dashboard.screens.dialogs.dialog import Dialog
from bench.domain.text import for_display
from bench.errors import BenchError


class Choosable(NamedTuple):
    """One line to choose: its number, its words, and whether it is the one that holds now."""

    number: int
    words: str
    now: bool = False


class PickDialog(Dialog[int]):
    """Answers the number of the line chosen."""

    send_label = "Choose"
    send_action = "enter"

    def __init__(self, heading: str) -> None:
        super().__init__(heading)
        self._lines: tuple[Choosable, ...] = ()

    @abstractmethod
    def read(self) -> Sequence[Choosable]:
        """The lines, read in a thread."""

    def body(self) -> Iterable[Widget]:
        """The list."""
        yield OptionList(id="choices", compact=True)

    def on_mount(self) -> None:
        """Read the lines."""
        self.do(self.read, self._show, failed=self._unreadable)

    def work(self) -> Callable[[], Any] | None:
        """Nothing is written: whoever asked does what follows."""
        at = self.query_one(OptionList).highlighted
        if at is not None:
            self.dismiss(self._lines[at].number)
        return None

    @on(OptionList.OptionSelected)
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        self.action_send()

    def _show(self, lines: Sequence[Choosable]) -> None:
        choices = self.query_one(OptionList)
        self._lines = tuple(lines)
        choices.add_options(Option(Text(_words(line))) for line in lines)
        choices.highlighted = next((at for at, line in enumerate(lines) if line.now), 0)

    def _unreadable(self, _error: BenchError) -> bool:
        self.dismiss(None)
        return False


def _words(line: Choosable) -> str:
    return f"{'►' if line.now else ' '} {for_display(line.words)}"
