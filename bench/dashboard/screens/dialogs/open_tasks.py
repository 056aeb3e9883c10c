"""Unfinished tasks in the way of a move: mark them done, skip them with a reason, or stay."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any, ClassVar, Literal

from textual.binding import BindingType
from textual.widgets import Button

from bench.dashboard.keys import bindings_for
from bench.dashboard.screens.dialogs.before_listing import ask_before_listing
from bench.dashboard.screens.dialogs.tasks_in_the_way import TasksInTheWay
from bench.errors import BenchError, ListingFirst


class OpenTasksDialog(TasksInTheWay):
    """Answers True once the unit has moved."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("open_tasks")
    AUTO_FOCUS = "#do-mark_done"
    cancel_label = "Stay"

    def __init__(self, unit_id: int, to_stage_id: int, tasks: Sequence[tuple[int, str]]) -> None:
        what = f"{len(tasks)} unfinished task{'s' if len(tasks) != 1 else ''}"
        super().__init__(f"{what} would be left behind", unit_id, to_stage_id, tasks)
        self._settle: tuple[Literal["done", "skip"], str] = ("done", "")

    def buttons(self) -> Iterable[Button]:
        """The three ways on."""
        yield self.button("Mark done", "mark_done", variant="primary")
        yield self.button("Skip…", "skip")
        yield self.button(self.cancel_label, "cancel")

    def action_mark_done(self) -> None:
        """Mark the tasks done, issuing what their route says, and move."""
        self._settle = ("done", "")
        self.action_send()

    def action_skip(self) -> None:
        """Ask why, skip the tasks and move."""
        from bench.dashboard.screens.dialogs.reason import ReasonDialog

        def given(reason: str | None) -> None:
            if reason is not None:
                self._settle = ("skip", reason)
                self.action_send()

        self.app.push_screen(ReasonDialog("Skip the tasks", "Why", draft=f"skip all {self.unit_id}"), given)

    def work(self) -> Callable[[], Any]:
        """Move the unit, settling its tasks as chosen."""
        desk, unit_id, to_stage_id = self.desk, self.unit_id, self.to_stage_id
        open_tasks, reason = self._settle

        def move() -> object:
            from bench.work.moves import move_unit

            return move_unit(desk, unit_id, to_stage_id, open_tasks=open_tasks, reason=reason)

        return move

    def refused(self, error: BenchError) -> bool:
        """What must be looked at before listing is asked about too."""
        if not isinstance(error, ListingFirst):
            return super().refused(error)
        ask_before_listing(self, error, self.action_send)
        return True
