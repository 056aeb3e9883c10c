"""Asked before a form is emptied: what was typed would be gone."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from bench.dashboard.screens.dialogs.dialog import Dialog
from bench.domain.text import quoted


class AskEmpty(Dialog[bool]):
    """Answers True where the form is to be emptied."""

    AUTO_FOCUS = "#do-cancel"
    send_label = "Empty it"

    def __init__(self, form: str) -> None:
        super().__init__("Empty the form?")
        self.form = form

    def body(self) -> Iterable[Widget]:
        """What would be gone."""
        yield Static(Content(f"What you typed into {quoted(self.form)} would be gone."), id="known")

    def work(self) -> Callable[[], Any] | None:
        """Nothing is written here."""
        self.dismiss(result=True)
        return None
