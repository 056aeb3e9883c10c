"""Moving back: the tasks of the stages gone back over are to do again, or stay as they are."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any, ClassVar, Literal

from textual.binding import BindingType
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Button, Static

from bench.dashboard.keys import bindings_for
from bench.dashboard.screens.dialogs.ask_list import ask_list
from bench.dashboard.screens.dialogs.dialog import Dialog
from bench.dashboard.screens.dialogs.open_tasks import SHOWN
from bench.domain.safety import CLOSE_UP, OPENING
from bench.domain.text import for_display
from bench.errors import BatteryFirst, BenchError, CloseUpFirst


class DoneTasksDialog(Dialog[bool]):
    """Answers True once the unit has moved back."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("done_tasks")
    AUTO_FOCUS = "#do-reopen"

    def __init__(self, unit_id: int, to_stage_id: int, tasks: Sequence[tuple[int, str]]) -> None:
        what = "1 task is" if len(tasks) == 1 else f"{len(tasks)} tasks are"
        super().__init__(f"{what} done or skipped at the stages gone back over")
        self.unit_id = unit_id
        self.to_stage_id = to_stage_id
        self.tasks = tuple(tasks)
        self._done_tasks: Literal["reopen", "keep"] = "reopen"

    def body(self) -> Iterable[Widget]:
        """The tasks by name."""
        more = len(self.tasks) - SHOWN
        names = [f"· {for_display(name)}" for _, name in self.tasks[:SHOWN]]
        yield Static(Content("\n".join([*names, f"… and {more} more"] if more > 0 else names)))

    def buttons(self) -> Iterable[Button]:
        """The two ways on."""
        yield self.button("To do again", "reopen", variant="primary")
        yield self.button("Keep as done", "keep")
        yield self.button(self.cancel_label, "cancel")

    def action_reopen(self) -> None:
        """Reopen the tasks, and move."""
        self._done_tasks = "reopen"
        self.action_send()

    def action_keep(self) -> None:
        """Leave the tasks as they are, and move."""
        self._done_tasks = "keep"
        self.action_send()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """There is no one thing to do here: each way on has its own key."""
        return False if action == "enter" else super().check_action(action, parameters)

    def work(self) -> Callable[[], Any]:
        """Move the unit back, its tasks as chosen."""
        desk, unit_id, to_stage_id, done_tasks = self.desk, self.unit_id, self.to_stage_id, self._done_tasks

        def move() -> object:
            from bench.work.moves import move_unit

            return move_unit(desk, unit_id, to_stage_id, done_tasks=done_tasks)

        return move

    def refused(self, error: BenchError) -> bool:
        """A list that is not ticked is opened; the move is tried again after it."""
        if isinstance(error, CloseUpFirst):
            ask_list(self, self.unit_id, CLOSE_UP, self.action_send)
        elif isinstance(error, BatteryFirst):
            ask_list(self, self.unit_id, OPENING, self.action_send, error.items)
        else:
            return super().refused(error)
        return True
