"""Moving a unit from any screen, with the questions a move may raise on the way."""

from __future__ import annotations

from bench.dashboard.doing import Doing, say
from bench.dashboard.screens.starting import ask_opening
from bench.domain.safety import CLOSE_UP
from bench.errors import BatteryFirst, BenchError, CloseUpFirst, ListingFirst, TasksDone, TasksOpen


def move(screen: Doing, unit_id: int, to_stage_id: int) -> None:
    """Move the unit; what is in the way is asked about, then the move is tried again."""
    desk = screen.desk

    def work() -> str:
        from bench.work.moves import move_unit

        moved = move_unit(desk, unit_id, to_stage_id, done_tasks="ask")
        low = f" Low now: {', '.join(moved.low)}." if moved.low else ""
        return f"{moved.tag} moved to {moved.to_stage}.{low}"

    def failed(error: BenchError) -> bool:
        if isinstance(error, TasksOpen):
            _ask_about_tasks(screen, unit_id, to_stage_id, error)
        elif isinstance(error, CloseUpFirst):
            _ask_close_up(screen, unit_id, to_stage_id)
        elif isinstance(error, TasksDone):
            _ask_about_done(screen, unit_id, to_stage_id, error)
        elif isinstance(error, BatteryFirst):
            ask_opening(screen, error, lambda: move(screen, unit_id, to_stage_id))
        elif isinstance(error, ListingFirst):
            _ask_before_listing(screen, unit_id, to_stage_id, error)
        return isinstance(error, (TasksOpen, TasksDone, CloseUpFirst, BatteryFirst, ListingFirst))

    screen.change(work, lambda sentence: say(screen.app, sentence), failed=failed)


def _ask_about_tasks(screen: Doing, unit_id: int, to_stage_id: int, error: TasksOpen) -> None:
    from bench.dashboard.screens.dialogs.tasks_in_the_way import OpenTasksDialog

    screen.app.push_screen(OpenTasksDialog(unit_id, to_stage_id, error.tasks))


def _ask_about_done(screen: Doing, unit_id: int, to_stage_id: int, error: TasksDone) -> None:
    from bench.dashboard.screens.dialogs.tasks_in_the_way import DoneTasksDialog

    screen.app.push_screen(DoneTasksDialog(unit_id, to_stage_id, error.tasks))


def _ask_close_up(screen: Doing, unit_id: int, to_stage_id: int) -> None:
    from bench.dashboard.screens.dialogs.safety_list import SafetyListDialog

    def again(ticked: bool | None) -> None:
        if ticked:
            move(screen, unit_id, to_stage_id)

    screen.app.push_screen(SafetyListDialog(unit_id, CLOSE_UP), again)


def _ask_before_listing(screen: Doing, unit_id: int, to_stage_id: int, error: ListingFirst) -> None:
    from bench.dashboard.screens.dialogs.asking import ask_before_listing

    ask_before_listing(screen, error, lambda: move(screen, unit_id, to_stage_id))
