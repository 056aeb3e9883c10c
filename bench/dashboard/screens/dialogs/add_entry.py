"""Time that was worked but not timed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from bench.dashboard.screens.dialogs.field import MOMENT, Field, NumberField, TextField
from bench.dashboard.screens.dialogs.form import Form


class AddEntry(Form[bool]):
    """Enters time on one task for the person who acts."""

    def __init__(self, task_id: int, task: str) -> None:
        super().__init__(f"Add time to {task}", draft=f"add_entry {task_id}")
        self.task_id = task_id

    def fields(self) -> Sequence[Field]:
        """From when to when, and why it was not timed."""
        return (
            NumberField("start_text", "Start", like=MOMENT, hint="9:15, yesterday 18:05 or 2026-11-24 18:05"),
            NumberField("stop_text", "Stop", like=MOMENT, hint="14:30, or +90 for that long after the start"),
            TextField("reason", "Reason"),
        )

    def work(self) -> Callable[[], Any]:
        """Add the entry."""
        desk, task_id = self.desk, self.task_id
        start_text, stop_text, reason = (self.value(one) for one in ("start_text", "stop_text", "reason"))

        def add() -> object:
            from bench.work.corrections import add_entry

            return add_entry(desk, task_id, start_text=start_text, stop_text=stop_text, reason=reason)

        return add
