"""Moving a unit from any screen, with the questions a move may raise on the way."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from bench.dashboard.acts import places
from bench.dashboard.acts.act import call
from bench.dashboard.doing import Doing, say
from bench.dashboard.screens.starting import ask_opening
from bench.domain.safety import CLOSING
from bench.errors import BatteryFirst, BenchError, ClosingFirst, ListingFirst, TasksDone, TasksOpen

if TYPE_CHECKING:
    from bench.dashboard.acting import Acting
    from bench.work.moves import Moved
    from bench.work.several import Several


def move_on(screen: Doing, unit_id: int, tag: str) -> None:
    """To the next stage."""
    _move_one(screen, "bench.views.tasks:next_stage_of", unit_id, f"{tag} stands at the last stage.")


def move_back(screen: Doing, unit_id: int, tag: str) -> None:
    """To the stage before."""
    _move_one(screen, "bench.views.tasks:previous_stage_of", unit_id, f"{tag} stands at the first stage.")


def move_to(screen: Doing, to_stage_id: int, unit_id: int) -> None:
    """To the stage that was chosen for it."""
    move(screen, unit_id, to_stage_id)


def move_marked_on(screen: Acting, unit_ids: tuple[int, ...]) -> None:
    """Each of the marked to the stage that comes next for it: all of them, or none."""
    _move_marked(screen, "move_units_on", unit_ids)


def move_marked_back(screen: Acting, unit_ids: tuple[int, ...]) -> None:
    """Each of the marked to the stage before."""
    _move_marked(screen, "move_units_back", unit_ids)


def move_marked_to(screen: Acting, to_stage_id: int, unit_ids: tuple[int, ...]) -> None:
    """All of the marked to the stage that was chosen for them."""
    _move_marked(screen, "move_units_to", unit_ids, to_stage_id)


def _move_marked(screen: Acting, use_case: str, *given: object) -> None:
    def then(moved: Several) -> None:
        screen.unmark()
        low = f" Low now: {', '.join(moved.low)}." if moved.low else ""
        say(screen.app, f"Moved {moved.named}.{low}")

    screen.run_use_case(f"bench.work.several:{use_case}", *given, then=then)


def move(screen: Doing, unit_id: int, to_stage_id: int) -> None:
    """Move the unit; what is in the way is asked about, then the move is tried again."""
    again = partial(move, screen, unit_id, to_stage_id)

    def then(moved: Moved) -> None:
        low = f" Low now: {', '.join(moved.low)}." if moved.low else ""
        say(screen.app, f"{moved.tag} moved to {moved.to_stage}.{low}")

    def failed(error: BenchError) -> bool:
        if isinstance(error, TasksOpen):
            screen.open_screen(OPEN_TASKS, unit_id, to_stage_id, error.tasks)
        elif isinstance(error, ClosingFirst):
            screen.open_screen(places.SAFETY_LIST, unit_id, CLOSING, then=lambda _: again())
        elif isinstance(error, TasksDone):
            screen.open_screen(DONE_TASKS, unit_id, to_stage_id, error.tasks)
        elif isinstance(error, BatteryFirst):
            ask_opening(screen, error, again)
        elif isinstance(error, ListingFirst):
            call(ASK_BEFORE_LISTING, screen, error, again)
        return isinstance(error, (TasksOpen, TasksDone, ClosingFirst, BatteryFirst, ListingFirst))

    screen.run_use_case(
        "bench.work.moves:move_unit", unit_id, to_stage_id, done_tasks="ask", then=then, failed=failed
    )


OPEN_TASKS = "bench.dashboard.screens.dialogs.tasks_in_the_way:OpenTasksDialog"
DONE_TASKS = "bench.dashboard.screens.dialogs.tasks_in_the_way:DoneTasksDialog"
ASK_BEFORE_LISTING = "bench.dashboard.screens.dialogs.asking:ask_before_listing"


def _move_one(screen: Doing, stage_of: str, unit_id: int, says_where_none: str) -> None:
    def then(stage_id: int | None) -> None:
        if stage_id is None:
            say(screen.app, says_where_none)
        else:
            move(screen, unit_id, stage_id)

    screen.do(partial(call, stage_of, screen.desk, unit_id), then)
