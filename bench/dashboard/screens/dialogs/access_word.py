"""Asks for the word that opens an owner's machine. Neither shown while it is typed nor kept as a draft."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from textual import on
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Input

from bench.dashboard import use_cases
from bench.dashboard.screens.dialogs.dialog import Dialog
from bench.dashboard.screens.dialogs.text_fields import TextField
from bench.dashboard.widgets.steady import Words

SAYS = (
    "It stands in no journal, draft, paper or export, and is erased when the machine is handed back. "
    "Copies of the file that are made meanwhile hold it."
)


class AccessWordDialog(Dialog[bool]):
    """One field; what is typed is gone when the dialog is left."""

    send_label = "Keep it"
    send_action = "enter"

    def __init__(self, job_id: int) -> None:
        super().__init__("Access word")
        self.job_id = job_id

    def body(self) -> Iterable[Widget]:
        """The field, and what becomes of the word."""
        word = TextField("word", "Word")
        word.password = True
        yield word
        yield Words(Content(SAYS), id="known")

    def work(self) -> Callable[[], Any] | None:
        """Keep it."""
        desk, job_id, word = self.desk, self.job_id, self.query_one(TextField).value
        return lambda: use_cases.unlocking.keep_access_word(desk, job_id, word)

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        event.stop()
        self.action_send()
