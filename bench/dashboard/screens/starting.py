"""Starting a task from any screen: the opening list comes first when the lid is to come off."""

from __future__ import annotations

from bench.dashboard.doing import Doing, say
from bench.domain.safety import OPENING
from bench.errors import BatteryFirst, BenchError


def start(screen: Doing, task_id: int) -> None:
    """Start the task's timer; the opening list is asked for first where it must be, then it starts."""
    desk = screen.desk

    def work() -> tuple[str, ...]:
        from bench.work.timers import start_task

        return start_task(desk, task_id).stopped

    def then(stopped: tuple[str, ...]) -> None:
        if stopped:
            say(screen.app, f"Stopped meanwhile: {', '.join(stopped)}.")

    def failed(error: BenchError) -> bool:
        if isinstance(error, BatteryFirst):
            _ask_opening(screen, error.unit_id, task_id)
        return isinstance(error, BatteryFirst)

    screen.change(work, then, failed=failed)


def _ask_opening(screen: Doing, unit_id: int, task_id: int) -> None:
    from bench.dashboard.screens.dialogs.safety_list import SafetyListDialog

    def again(ticked: bool | None) -> None:
        if ticked:
            start(screen, task_id)

    screen.app.push_screen(SafetyListDialog(unit_id, OPENING), again)
