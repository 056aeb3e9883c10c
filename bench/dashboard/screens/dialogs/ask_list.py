"""Asking for a safety list from a dialog that cannot go on without it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from bench.dashboard.screens.dialogs.dialog import Dialog


def ask_list(
    dialog: Dialog[Any], unit_id: int, which: str, again: Callable[[], None], items: Sequence[str] = ()
) -> None:
    """Open the list over the dialog; once it, or these items of it, are ticked, try again."""
    from bench.dashboard.screens.dialogs.safety_list import SafetyListDialog

    def answered(ticked: bool | None) -> None:
        if ticked:
            again()

    dialog.app.push_screen(SafetyListDialog(unit_id, which, items), answered)
