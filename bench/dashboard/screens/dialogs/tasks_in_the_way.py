"""Tasks in the way of a move, by name, with the ways on: what both askings about them share."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from bench.dashboard.screens.dialogs.ask_list import ask_list
from bench.dashboard.screens.dialogs.dialog import Dialog
from bench.domain.safety import CLOSE_UP, OPENING
from bench.domain.text import for_display
from bench.errors import BatteryFirst, BenchError, CloseUpFirst

SHOWN = 8


class TasksInTheWay(Dialog[bool]):
    """Answers True once the unit has moved."""

    def __init__(
        self, heading: str, unit_id: int, to_stage_id: int, tasks: Sequence[tuple[int, str]]
    ) -> None:
        super().__init__(heading)
        self.unit_id = unit_id
        self.to_stage_id = to_stage_id
        self.tasks = tuple(tasks)

    def body(self) -> Iterable[Widget]:
        """The tasks by name."""
        more = len(self.tasks) - SHOWN
        names = [f"· {for_display(name)}" for _, name in self.tasks[:SHOWN]]
        yield Static(Content("\n".join([*names, f"… and {more} more"] if more > 0 else names)))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """There is no one thing to do here: each way on has its own key."""
        return False if action == "enter" else super().check_action(action, parameters)

    def refused(self, error: BenchError) -> bool:
        """A list that is not ticked is opened; the move is tried again after it."""
        if isinstance(error, CloseUpFirst):
            ask_list(self, self.unit_id, CLOSE_UP, self.action_send)
        elif isinstance(error, BatteryFirst):
            ask_list(self, self.unit_id, OPENING, self.action_send, error.items)
        else:
            return super().refused(error)
        return True
