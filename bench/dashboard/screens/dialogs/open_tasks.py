"""Unfinished tasks in the way of a move: mark them done, skip them with a reason, or stay."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any, ClassVar, Literal

from textual.binding import BindingType
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Button, Static

from bench.dashboard.keys import bindings_for
from bench.dashboard.screens.dialogs.ask_list import ask_list
from bench.dashboard.screens.dialogs.before_listing import ask_before_listing
from bench.dashboard.screens.dialogs.dialog import Dialog
from bench.domain.safety import CLOSE_UP, OPENING
from bench.domain.text import for_display
from bench.errors import BatteryFirst, BenchError, CloseUpFirst, ListingFirst

SHOWN = 8


class OpenTasksDialog(Dialog[bool]):
    """Answers True once the unit has moved."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("open_tasks")
    AUTO_FOCUS = "#do-mark_done"
    cancel_label = "Stay"

    def __init__(self, unit_id: int, to_stage_id: int, tasks: Sequence[tuple[int, str]]) -> None:
        super().__init__(f"{len(tasks)} unfinished task{'s' if len(tasks) != 1 else ''} would be left behind")
        self.unit_id = unit_id
        self.to_stage_id = to_stage_id
        self.tasks = tuple(tasks)
        self._settle: tuple[Literal["done", "skip"], str] = ("done", "")

    def body(self) -> Iterable[Widget]:
        """The tasks by name."""
        more = len(self.tasks) - SHOWN
        names = [f"· {for_display(name)}" for _, name in self.tasks[:SHOWN]]
        yield Static(Content("\n".join([*names, f"… and {more} more"] if more > 0 else names)))

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

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """There is no one thing to do here: each way on has its own key."""
        return False if action == "enter" else super().check_action(action, parameters)

    def work(self) -> Callable[[], Any]:
        """Move the unit, settling its tasks as chosen."""
        desk, unit_id, to_stage_id = self.desk, self.unit_id, self.to_stage_id
        open_tasks, reason = self._settle

        def move() -> object:
            from bench.work.moves import move_unit

            return move_unit(desk, unit_id, to_stage_id, open_tasks=open_tasks, reason=reason)

        return move

    def refused(self, error: BenchError) -> bool:
        """A list that is not ticked is opened; the move is tried again after it."""
        if isinstance(error, CloseUpFirst):
            ask_list(self, self.unit_id, CLOSE_UP, self.action_send)
        elif isinstance(error, BatteryFirst):
            ask_list(self, self.unit_id, OPENING, self.action_send, error.items)
        elif isinstance(error, ListingFirst):
            ask_before_listing(self, error, self.action_send)
        else:
            return super().refused(error)
        return True
