"""Tasks in the way of a move, with the ways on: unfinished ones left behind, done ones gone back over."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any, ClassVar, Literal

from textual.binding import BindingType
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Button

from bench.dashboard import use_cases
from bench.dashboard.keys import bindings_for
from bench.dashboard.screens.dialogs.asking import ask_before_listing, ask_list, ask_outcome, ask_why
from bench.dashboard.screens.dialogs.dialog import Dialog
from bench.dashboard.widgets.steady import Words
from bench.domain.text import for_display
from bench.errors import BatteryFirst, BenchError, ClosingFirst, ListingFirst, OutcomeFirst

SHOWN = 8
Tasks = Sequence[tuple[int, str]]
Settled = tuple[Literal["done", "skip"], str]


class TasksInTheWay(Dialog[bool]):
    """Answers True once the unit has moved."""

    def __init__(self, heading: str, unit_id: int, to_stage_id: int, tasks: Tasks) -> None:
        super().__init__(heading)
        self.unit_id = unit_id
        self.to_stage_id = to_stage_id
        self.tasks = tuple(tasks)

    def body(self) -> Iterable[Widget]:
        """The tasks by name."""
        more = len(self.tasks) - SHOWN
        names = [f"· {for_display(name)}" for _, name in self.tasks[:SHOWN]]
        yield Words(Content("\n".join([*names, f"… and {more} more"] if more > 0 else names)))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """There is no one thing to do here: each way on has its own key."""
        return False if action == "enter" else super().check_action(action, parameters)

    def refused(self, error: BenchError) -> bool:
        """A list that is not ticked is opened; the move is tried again after it."""
        if isinstance(error, (ClosingFirst, BatteryFirst)):
            ask_list(self, error, self.action_send)
            return True
        if isinstance(error, OutcomeFirst):
            ask_outcome(self, error, self.action_send)
            return True
        return super().refused(error)


class OpenTasksDialog(TasksInTheWay):
    """Unfinished tasks: mark them done, skip them with a reason, or cancel."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("open_tasks")
    AUTO_FOCUS = "#do-mark_done"
    cancel_label = "Cancel"

    def __init__(self, unit_id: int, to_stage_id: int, tasks: Tasks, *, draft: str = "") -> None:
        what = f"{len(tasks)} unfinished task{'s' if len(tasks) != 1 else ''}"
        super().__init__(f"{what} would be left behind", unit_id, to_stage_id, tasks)
        self.draft = draft or f"skip all {unit_id}"
        self.settled: Settled = ("done", "")

    def buttons(self) -> Iterable[Button]:
        """The three ways on."""
        yield self.button("Mark done", "mark_done", variant="primary")
        yield self.button("Skip…", "skip")
        yield self.button(self.cancel_label, "cancel")

    def action_mark_done(self) -> None:
        """Mark the tasks done, issuing what their route says, and move."""
        self.settled = ("done", "")
        self.action_send()

    def action_skip(self) -> None:
        """Ask why, skip the tasks and move."""

        def given(reason: str) -> None:
            self.settled = ("skip", reason)
            self.action_send()

        ask_why(self, "Skip the tasks", "Why", self.draft, given)

    def work(self) -> Callable[[], Any]:
        """Move the unit, settling its tasks as chosen."""
        desk, unit_id, to_stage_id = self.desk, self.unit_id, self.to_stage_id
        how, reason = self.settled
        return lambda: use_cases.moves.move_unit(desk, unit_id, to_stage_id, open_tasks=how, reason=reason)

    def refused(self, error: BenchError) -> bool:
        """What must be looked at before listing is asked about too."""
        if not isinstance(error, ListingFirst):
            return super().refused(error)
        ask_before_listing(self, error, self.action_send)
        return True


class SettleTasks(OpenTasksDialog):
    """Unfinished tasks in the way of a step that does more than move.

    Answers True once it is chosen; `settled` then says how, and why they are skipped.
    """

    def __init__(self, tasks: Tasks, *, draft: str) -> None:
        super().__init__(0, 0, tasks, draft=draft)

    def work(self) -> Callable[[], Any]:
        """Nothing is written here: whoever asked does it together with the rest."""
        return lambda: None


class DoneTasksDialog(TasksInTheWay):
    """Tasks of the stages gone back over: they are to do again, or stay as they are."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("done_tasks")
    AUTO_FOCUS = "#do-reopen"

    def __init__(self, unit_id: int, to_stage_id: int, tasks: Tasks) -> None:
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
        return lambda: use_cases.moves.move_unit(desk, unit_id, to_stage_id, done_tasks=done_tasks)
