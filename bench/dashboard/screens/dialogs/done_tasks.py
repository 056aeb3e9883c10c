"""Moving back: the tasks of the stages gone back over are to do again, or stay as they are."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any, ClassVar, Literal

from textual.binding import BindingType
from textual.widgets import Button

from bench.dashboard.keys import bindings_for
from bench.dashboard.screens.dialogs.tasks_in_the_way import TasksInTheWay


class DoneTasksDialog(TasksInTheWay):
    """Answers True once the unit has moved back."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("done_tasks")
    AUTO_FOCUS = "#do-reopen"

    def __init__(self, unit_id: int, to_stage_id: int, tasks: Sequence[tuple[int, str]]) -> None:
        what = "1 task is" if len(tasks) == 1 else f"{len(tasks)} tasks are"
        super().__init__(f"{what} done or skipped at the stages gone back over", unit_id, to_stage_id, tasks)
        self._done_tasks: Literal["reopen", "keep"] = "reopen"

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

    def work(self) -> Callable[[], Any]:
        """Move the unit back, its tasks as chosen."""
        desk, unit_id, to_stage_id, done_tasks = self.desk, self.unit_id, self.to_stage_id, self._done_tasks

        def move() -> object:
            from bench.work.moves import move_unit

            return move_unit(desk, unit_id, to_stage_id, done_tasks=done_tasks)

        return move
