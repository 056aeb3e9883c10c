"""Unfinished tasks in the way of a step that does more than move: how they are to be settled."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, Literal

from bench.dashboard.screens.dialogs.open_tasks import OpenTasksDialog

Settled = tuple[Literal["done", "skip"], str]


class SettleTasks(OpenTasksDialog):
    """Answers True once it is chosen; `settled` then says how, and why they are skipped."""

    def __init__(self, unit_id: int, tasks: Sequence[tuple[int, str]]) -> None:
        super().__init__(unit_id, 0, tasks)

    @property
    def settled(self) -> Settled:
        """Mark done, or skip with a reason."""
        return self._settle

    def work(self) -> Callable[[], Any]:
        """Nothing is written here: whoever asked does it together with the rest."""
        return lambda: None
