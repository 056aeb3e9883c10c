"""Units move between stages, are held and released."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from bench.desk import Desk
from bench.domain.text import clean_line
from bench.domain.typed import read_field
from bench.domain.ways_out import HANDED_BACK, KEPT, SOLD
from bench.errors import BadInput, Refused, TasksDone, TasksOpen
from bench.store.tables import Stage, StageMove, Task, Unit
from bench.work.change import Change, change
from bench.work.gates import (
    comes_back,
    cover_comes_off,
    may_alter,
    may_close,
    may_leave,
    may_list,
    may_move,
    may_open,
)
from bench.work.handing_back import collected_within
from bench.work.lookups import stages_in_order, tasks_in_order
from bench.work.standing import comes_in, goes_out, natural_way
from bench.work.timers import finish_within, reopen_within, skip_within, stop_unit
from bench.work.turned_out import turned_out

# The drives of what goes back to whose it is, or stays in the shop, hold what is its owner's to keep.
WIPE_NOT_ASKED = (HANDED_BACK, KEPT)

OpenTasks = Literal["ask", "done", "skip"]
DoneTasks = Literal["ask", "reopen", "keep"]


@dataclass(frozen=True, slots=True)
class Moved:
    """A unit at its new stage, how many tasks were finished, skipped or reopened, and consumables now low."""

    unit_id: int
    tag: str
    from_stage: str
    to_stage: str
    finished: int
    skipped: int
    low: tuple[str, ...]
    reopened: int = 0


def move_unit(
    desk: Desk,
    unit_id: int,
    to_stage_id: int,
    *,
    open_tasks: OpenTasks = "ask",
    done_tasks: DoneTasks = "reopen",
    reason: str = "",
) -> Moved:
    """Move a unit to any stage.

    Unfinished tasks of the stages it leaves behind raise TasksOpen unless they are marked done or skipped
    (with a reason). Moving back, `done_tasks` says what becomes of those that are no longer to do at the
    stages gone back over, its own and the one gone to among them: they are reopened, or kept as they are;
    "ask" raises TasksDone. Coming to the cover-off stages raises BatteryFirst until the opening checklist's
    first part is ticked, leaving them ClosingFirst until the closing checklist is; being listed or sold
    raises WipeFirst while a drive in the unit has no passed wipe record.
    """
    with change(desk, "move") as made:
        unit = made.get(Unit, unit_id, "unit")
        target = made.get(Stage, to_stage_id, "stage")
        moved = move_within(made, unit, target, open_tasks=open_tasks, done_tasks=done_tasks, reason=reason)
        again = f", {moved.reopened} tasks to do again" if moved.reopened else ""
        words = f"Moved {moved.tag} from {moved.from_stage} to {moved.to_stage}{again}"
        made.tells(words, unit_id=unit_id, reason=reason.strip())
        return moved


def move_within(
    made: Change,
    unit: Unit,
    target: Stage,
    *,
    open_tasks: OpenTasks = "ask",
    done_tasks: DoneTasks = "keep",
    reason: str = "",
    way: str | None = None,
) -> Moved:
    """Move a unit inside a transaction that does more, such as a sale, through the same gates.

    `way`: how it leaves at a final stage; without one it goes back to whose it is, or out to be sold.
    """
    assert unit.id is not None
    assert target.id is not None
    origin = made.get(Stage, unit.stage_id, "stage")
    if target.id == origin.id:
        raise Refused(f"Unit {unit.tag} is at {target.name} already.", "Choose another stage.")
    leaves = (way or natural_way(made, unit)) if target.final else ""
    may_move(unit, origin, leaves)
    if target.lid_off or target.final:
        may_alter(made, unit)
    if origin.final and not target.final:
        comes_back(made, unit)
    if leaves not in WIPE_NOT_ASKED:
        may_list(made.session, unit, target, drives_only=leaves not in ("", SOLD))
    may_leave(unit, origin, target, leaves)
    tasks = _left_behind(made, unit, origin, target)
    finished, skipped, low = _settle(made, unit, tasks, open_tasks, reason)
    reopened = _reopen(unit, _gone_back_over(made, unit, origin, target), done_tasks)
    _cover(made, unit, target)
    if target.final:
        stop_unit(made, unit.id, hands_on_only=False)
    _go(made, unit, origin, target)
    if leaves and not origin.final:
        out = goes_out(made, unit, leaves, reason.strip())
        if leaves == HANDED_BACK:
            collected_within(made, unit, out)
    elif origin.final and not target.final:
        comes_in(made, unit)
    if not target.final:
        turned_out(made, unit.id)
    return Moved(unit.id, unit.tag, origin.name, target.name, finished, skipped, low, reopened)


def hold_unit(desk: Desk, unit_id: int, reason: str) -> None:
    """Set a unit aside where it is, with the reason; hands-on timers on it stop, machine-time ones run on."""
    with change(desk, "hold") as made:
        unit = made.get(Unit, unit_id, "unit")
        why = read_field("reason", clean_line, reason, "The reason for holding")
        hold_within(made, unit, why)
        made.tells(f"Put {unit.tag} on hold", unit_id=unit_id, reason=why)


def release_unit(desk: Desk, unit_id: int) -> None:
    """Let a held unit go on. Refused while a bad cell is recorded."""
    with change(desk, "release") as made:
        unit = made.get(Unit, unit_id, "unit")
        release_within(unit)
        made.tells(f"Released {unit.tag}", unit_id=unit_id)


def hold_within(made: Change, unit: Unit, why: str) -> None:
    """Set a unit aside inside a transaction that does more."""
    if unit.held_reason is not None:
        raise Refused(f"Unit {unit.tag} is on hold already: {unit.held_reason}.", "Release it first.")
    stop_unit(made, unit.id, hands_on_only=True)
    unit.held_reason, unit.held_us = why, made.now_us


def release_within(unit: Unit) -> None:
    """Let a unit go on inside a transaction that does more."""
    if unit.held_reason is None:
        raise Refused(f"Unit {unit.tag} is not on hold.", "There is nothing to release.")
    if unit.cell_finding is not None:
        raise Refused(
            f"Unit {unit.tag} is on hold for its cell.", "Clear the cell finding with a reason first."
        )
    unit.held_reason, unit.held_us = None, None


def _go(made: Change, unit: Unit, origin: Stage, target: Stage) -> None:
    """The row of the move first: the file lets a unit change its stage along one alone."""
    assert unit.id is not None
    assert origin.id is not None
    assert target.id is not None
    made.add(
        StageMove(
            unit_id=unit.id,
            from_stage_id=origin.id,
            from_since_us=unit.stage_since_us,
            to_stage_id=target.id,
            at_us=made.now_us,
            person_id=made.desk.person_id,
        )
    )
    unit.stage_id, unit.stage_since_us = target.id, made.now_us


def _position(stages: list[Stage], stage_id: int) -> int:
    return next((at for at, stage in enumerate(stages) if stage.id == stage_id), -1)


def _left_behind(made: Change, unit: Unit, origin: Stage, target: Stage) -> list[Task]:
    stages = stages_in_order(made.session)
    from_here, to_there = _position(stages, origin.id or 0), _position(stages, target.id or 0)
    passed = {stage.id for stage in stages[max(from_here, 0) : to_there]}
    return [
        task
        for task in tasks_in_order(made.session, unit.id)
        if task.state == "todo" and task.stage_id in passed
    ]


def _gone_back_over(made: Change, unit: Unit, origin: Stage, target: Stage) -> list[Task]:
    """The tasks no longer to do at the stages from the one gone back to up to the unit's own."""
    stages = stages_in_order(made.session)
    from_here, to_there = _position(stages, origin.id or 0), _position(stages, target.id or 0)
    if not 0 <= to_there < from_here:
        return []
    passed = {stage.id for stage in stages[to_there : from_here + 1]}
    tasks = tasks_in_order(made.session, unit.id)
    return [task for task in tasks if task.state != "todo" and task.stage_id in passed]


def _reopen(unit: Unit, tasks: list[Task], done_tasks: DoneTasks) -> int:
    if not tasks or done_tasks == "keep":
        return 0
    if done_tasks == "ask":
        names = ", ".join(task.name for task in tasks)
        raise TasksDone(
            f"Done or skipped on unit {unit.tag} at the stages gone back over: {names}.",
            "Reopen them, or keep them as they are.",
            tasks=tuple((task.id or 0, task.name) for task in tasks),
        )
    if done_tasks != "reopen":
        raise BadInput(f"Done tasks cannot be {done_tasks}.", "Choose reopen or keep.")
    for task in tasks:
        reopen_within(task)
    return len(tasks)


def _settle(
    made: Change, unit: Unit, tasks: list[Task], open_tasks: OpenTasks, reason: str
) -> tuple[int, int, tuple[str, ...]]:
    if not tasks:
        return 0, 0, ()
    if open_tasks == "ask":
        names = ", ".join(task.name for task in tasks)
        raise TasksOpen(
            f"Not finished on unit {unit.tag}: {names}.",
            "Mark them done, skip them with a reason, or cancel.",
            tasks=tuple((task.id or 0, task.name) for task in tasks),
        )
    if open_tasks == "skip":
        why = read_field("reason", clean_line, reason, "The reason for skipping")
        for task in tasks:
            skip_within(made, task, why)
        return 0, len(tasks), ()
    if open_tasks != "done":
        raise BadInput(f"Open tasks cannot be {open_tasks}.", "Choose done or skip.")
    issued = [one for task in tasks for one in finish_within(made, task, unit, None)]
    low = dict.fromkeys(one.name for one in issued if one.low)
    return len(tasks), 0, tuple(low)


def _cover(made: Change, unit: Unit, target: Stage) -> None:
    """The cover comes off before work inside, and goes on after it; a bad cell leaves as it stands."""
    if target.lid_off:
        may_open(made.session, unit)
        cover_comes_off(made, unit)
    elif unit.lid_off and unit.cell_finding is None:
        may_close(made.session, unit)
        unit.lid_off, unit.screws_out = 0, None
        unit.lid_count += 1
