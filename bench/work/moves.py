"""Units move between stages, are held and released."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from bench.domain.text import clean_line
from bench.domain.typed_fields import read_field
from bench.domain.ways_out import HANDED_BACK, KEPT, SCRAPPED
from bench.errors import BadInput, Refused, TasksOpen
from bench.store.reads import unit as unit_reads
from bench.store.tables import Stage, Task, Unit
from bench.work.change import Change, change
from bench.work.desk import Desk
from bench.work.ending import comes_back, cover_comes_off
from bench.work.gates import may_alter, may_close, may_list
from bench.work.lookups import stages_in_order, tasks_in_order
from bench.work.standing import comes_in, goes_out, natural_way
from bench.work.timers import finish_within, skip_within, stop_unit

# The drives of what goes back to whose it is, or stays in the shop, hold what is its owner's to keep.
WIPE_NOT_ASKED = (HANDED_BACK, KEPT)

OpenTasks = Literal["ask", "done", "skip"]


@dataclass(frozen=True, slots=True)
class Moved:
    """A unit at its new stage, how many tasks were finished or skipped, and consumables now low."""

    unit_id: int
    tag: str
    from_stage: str
    to_stage: str
    finished: int
    skipped: int
    low: tuple[str, ...]


def move_unit(
    desk: Desk, unit_id: int, to_stage_id: int, *, open_tasks: OpenTasks = "ask", reason: str = ""
) -> Moved:
    """Move a unit to any stage.

    Unfinished tasks of the stages it leaves behind raise TasksOpen unless they are marked done or skipped
    (with a reason). Leaving the lid-off stages raises CloseUpFirst until the close-up list is ticked;
    being listed or sold raises WipeFirst while a drive in the unit has no passed wipe record.
    """
    with change(desk, "move") as made:
        unit = made.get(Unit, unit_id, "unit")
        target = made.get(Stage, to_stage_id, "stage")
        moved = move_within(made, unit, target, open_tasks=open_tasks, reason=reason)
        words = f"Moved {moved.tag} from {moved.from_stage} to {moved.to_stage}"
        made.tells(words, unit_id=unit_id, reason=reason.strip())
        return moved


def move_within(
    made: Change,
    unit: Unit,
    target: Stage,
    *,
    open_tasks: OpenTasks = "ask",
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
    _not_away_while_stopped(unit, target, leaves)
    if target.lid_off or target.final:
        may_alter(made, unit)
    if origin.final and not target.final:
        comes_back(made, unit)
    if leaves not in WIPE_NOT_ASKED:
        may_list(made.session, unit, target)
    tasks = _left_behind(made, unit, origin, target)
    finished, skipped, low = _settle(made, unit, tasks, open_tasks, reason)
    _lid(made, unit, target)
    if target.final:
        stop_unit(made, unit.id, attended_only=False)
    unit.stage_id, unit.stage_since_us = target.id, made.now_us
    if leaves and not origin.final:
        goes_out(made, unit, leaves, reason.strip())
    elif origin.final and not target.final:
        comes_in(made, unit)
    return Moved(unit.id, unit.tag, origin.name, target.name, finished, skipped, low)


def next_stage_of(desk: Desk, unit_id: int) -> int | None:
    """The stage that comes next for the unit; None at the last one.

    Lid-off stages are passed over by a unit that has tasks but none there.
    """
    with desk.store.read() as connection:
        stages = unit_reads.way_of(connection, unit_id)
    here = next((at for at, stage in enumerate(stages) if stage["here"]), -1)
    has_tasks = any(stage["tasks"] for stage in stages)
    for stage in stages[here + 1 :]:
        if not (stage["lid_off"] and has_tasks and not stage["tasks"]):
            return int(stage["id"])
    return None


def previous_stage_of(desk: Desk, unit_id: int) -> int | None:
    """The stage before the unit's own; None at the first one."""
    with desk.store.read() as connection:
        stages = unit_reads.way_of(connection, unit_id)
    here = next((at for at, stage in enumerate(stages) if stage["here"]), 0)
    return int(stages[here - 1]["id"]) if here > 0 else None


def hold_unit(desk: Desk, unit_id: int, reason: str) -> None:
    """Set a unit aside where it is, with the reason; attended timers on it stop, unattended ones run on."""
    with change(desk, "hold") as made:
        unit = made.get(Unit, unit_id, "unit")
        why = read_field("reason", clean_line, reason, "The reason for holding")
        if unit.held_reason is not None:
            raise Refused(f"Unit {unit.tag} is held already: {unit.held_reason}.", "Release it first.")
        stop_unit(made, unit_id, attended_only=True)
        unit.held_reason, unit.held_us = why, made.now_us
        made.tells(f"Held {unit.tag}", unit_id=unit_id, reason=why)


def release_unit(desk: Desk, unit_id: int) -> None:
    """Let a held unit go on. Refused while a bad cell is recorded."""
    with change(desk, "release") as made:
        unit = made.get(Unit, unit_id, "unit")
        if unit.held_reason is None:
            raise Refused(f"Unit {unit.tag} is not held.", "There is nothing to release.")
        if unit.cell_finding is not None:
            raise Refused(
                f"Unit {unit.tag} is held for its cell.", "Clear the cell finding with a reason first."
            )
        unit.held_reason, unit.held_us = None, None
        made.tells(f"Released {unit.tag}", unit_id=unit_id)


def _position(stages: list[Stage], stage_id: int) -> int:
    return next((at for at, stage in enumerate(stages) if stage.id == stage_id), -1)


def _not_away_while_stopped(unit: Unit, target: Stage, leaves: str) -> None:
    if leaves == SCRAPPED and unit.cell_finding is not None:
        return  # a bad cell holds a unit for good: being scrapped is its way out
    if target.final and unit.held_reason is not None:
        raise Refused(f"Unit {unit.tag} is held: {unit.held_reason}.", "Release it before it leaves.")


def _left_behind(made: Change, unit: Unit, origin: Stage, target: Stage) -> list[Task]:
    stages = stages_in_order(made.session)
    from_here, to_there = _position(stages, origin.id or 0), _position(stages, target.id or 0)
    passed = {stage.id for stage in stages[max(from_here, 0) : to_there]}
    return [
        task
        for task in tasks_in_order(made.session, unit.id)
        if task.state == "todo" and task.stage_id in passed
    ]


def _settle(
    made: Change, unit: Unit, tasks: list[Task], open_tasks: OpenTasks, reason: str
) -> tuple[int, int, tuple[str, ...]]:
    if not tasks:
        return 0, 0, ()
    if open_tasks == "ask":
        names = ", ".join(task.name for task in tasks)
        raise TasksOpen(
            f"Not finished on unit {unit.tag}: {names}.",
            "Mark them done, skip them with a reason, or stay.",
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


def _lid(made: Change, unit: Unit, target: Stage) -> None:
    if target.lid_off:
        cover_comes_off(made, unit)
    elif unit.lid_off:
        may_close(made.session, unit)
        unit.lid_off, unit.screws_out = 0, None
        unit.lid_count += 1
