"""Asking from a form whether what seems to be on record already is taken in all the same, and why."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from bench.dashboard.screens.dialogs.form import Form
from bench.domain.text import for_display
from bench.errors import KnownAlready


def ask_twice(form: Form[Any], error: KnownAlready, again: Callable[[str], None]) -> None:
    """Ask over the form; with the reason, send it again."""
    from bench.dashboard.screens.dialogs.reason import ReasonDialog

    def given(reason: str | None) -> None:
        if reason is not None:
            again(reason)

    form.app.push_screen(
        ReasonDialog(for_display(str(error)), "Why again", draft=f"{form.draft} again"), given
    )
