"""A reason, typed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from bench.dashboard.screens.dialogs.field import Field, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.domain.text import clean_line


class ReasonDialog(Form[str]):
    """Asks one question and answers what was typed; whoever asked does what follows."""

    send_label = "Go on"
    send_action = "enter"

    def __init__(self, title: str, question: str, *, draft: str) -> None:
        super().__init__(title, draft=draft)
        self.question = question

    def fields(self) -> Sequence[Field]:
        """One line."""
        return (TextField("reason", self.question),)

    def work(self) -> Callable[[], Any] | None:
        """Nothing is written here; an empty reason is not taken."""
        reason = clean_line(self.value("reason"), "The reason")
        self.drop()
        self.dismiss(reason)
        return None
