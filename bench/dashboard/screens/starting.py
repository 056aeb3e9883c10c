"""Starting a task from any screen: the opening checklist comes first where the cover is to come off."""

from __future__ import annotations

from collections.abc import Callable

from bench.dashboard.doing import Doing, say
from bench.domain.safety import OPENING
from bench.errors import BatteryFirst, BenchError


def start(screen: Doing, task_id: int) -> None:
    """Start the task's timer; the opening checklist is asked for first where it must be, then it starts."""
    desk = screen.desk

    def work() -> tuple[str, ...]:
        from bench.work.timers import start_task

        return start_task(desk, task_id).stopped

    def then(stopped: tuple[str, ...]) -> None:
        if stopped:
            say(screen.app, f"Stopped meanwhile: {', '.join(stopped)}.")

    def failed(error: BenchError) -> bool:
        if isinstance(error, BatteryFirst):
            ask_opening(screen, error, lambda: start(screen, task_id))
        return isinstance(error, BatteryFirst)

    screen.change(work, then, failed=failed)


def ask_opening(screen: Doing, error: BatteryFirst, then: Callable[[], None]) -> None:
    """Ask what of the opening checklist the error names; once it is ticked, go on."""
    from bench.dashboard.screens.dialogs.safety_list import SafetyListDialog

    def again(ticked: bool | None) -> None:
        if ticked:
            then()

    screen.app.push_screen(SafetyListDialog(error.unit_id, OPENING, error.items), again)
