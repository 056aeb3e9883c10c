"""The gates that undo and redo obey: those of the act they come to, on the state before and after.

Undoing a stop starts a timer, undoing a hold releases, undoing a move moves: each passes only what the act
itself would pass, and asks for a reason where the act itself would.
"""

from __future__ import annotations

from collections.abc import Iterator

from sqlmodel import col, select

from bench.domain.grading import FUNCTION, LOOKS
from bench.domain.safety import FINDINGS
from bench.domain.wipe import NOT_VERIFIED
from bench.errors import Refused, TasksOpen
from bench.store.tables import Channel, GradeStep, Shop, Stage, Task, TaskUse, TimeEntry, Unit
from bench.work.awaited import parts_here
from bench.work.change import Change
from bench.work.gates import may_alter, may_close, may_list, may_start, no_bad_cell
from bench.work.line_changes import RowChange
from bench.work.lookups import stages_in_order, tasks_in_order
from bench.work.part_rules import at_hand, covers_parts_out
from bench.work.shop import check_currency
from bench.work.undo_standing import Undoing
from bench.work.unlocking import forget_within


def reason_needed(undoing: Undoing) -> str:
    """What the reason is for, where the act that undoing comes to asks for one; empty where it does not."""
    for row in undoing.rows:
        what = _WHY.get(row.table)
        if what is not None and (row.goes or row.before is None) and row.table != "time_entry":
            return what
        if (
            row.table == "time_entry"
            and row.before is None
            and (row.after or {}).get("stopped_us") is not None
        ):
            return _WHY["time_entry"]
        if row.table == "unit" and row.sets_anew("cell_finding") and row.target("cell_finding") is None:
            return "What was done about the cell"
        if row.table == "wipe" and row.sets_anew("result") and row.target("result") == NOT_VERIFIED:
            return _WHY["wipe"]
    return ""


_WHY = {
    "wipe": "The reason for taking a wipe or its verification off the records",
    "reading": "The reason for taking a reading off the records",
    "drive": "The reason for taking a drive off the records",
    "fault": "The reason for taking a fault off the records",
    "test_run": "The reason for taking a test off the records",
    "time_entry": "The reason for removing a time entry",
    "correction": "The reason for giving a time entry its old times",
}


def before_undoing(made: Change, undoing: Undoing) -> None:
    """Pass, or raise what the act itself would raise where the state before decides."""
    for row in undoing.of("unit"):
        unit = made.session.get(Unit, row.row_id)
        if unit is None:
            continue
        closes = row.sets_anew("lid_count") and row.target("lid_count") > unit.lid_count
        if closes and unit.lid_off:
            may_close(made.session, unit)
        if row.sets_anew("held_reason") and row.target("held_reason") is None:
            _may_release(unit, row)
    _no_cell_found_since(made, undoing)
    _no_access_word_stays(made, undoing)
    for row in undoing.of("task_use"):
        if not row.comes_back:
            _task_is_open(made, row)
    for row in undoing.of("shop"):
        shop = made.session.get(Shop, row.row_id)
        if shop is not None and row.sets_anew("currency"):
            check_currency(made, shop, row.target("currency"))


def after_undoing(made: Change, undoing: Undoing) -> None:
    """Pass, or raise what the act itself would raise where the state after decides."""
    made.session.flush()
    for row in undoing.of("unit"):
        _unit_may_stand(made, row)
    for row in undoing.of("time_entry"):
        _may_run(made, row)
    _drives_may_be_there(made, undoing)
    _parts_may_be_there(made, undoing)
    _one_of_each_kind(made, undoing)


def _no_access_word_stays(made: Change, undoing: Undoing) -> None:
    for row in undoing.of("repair_job"):
        if row.goes:
            forget_within(made, row.row_id)


def _may_release(unit: Unit, row: RowChange) -> None:
    finding = row.target("cell_finding") if row.sets_anew("cell_finding") else unit.cell_finding
    if finding is not None:
        raise Refused(
            f"Unit {unit.tag} is on hold for its cell ({FINDINGS[finding]}).",
            "Clear the cell finding with a reason first.",
        )


def _task_is_open(made: Change, row: RowChange) -> None:
    """What a task takes is changed while it is still to do: it was booked when it was done."""
    use = made.session.get(TaskUse, row.row_id)
    task = made.session.get(Task, use.task_id) if use is not None else None
    if task is not None and task.state != "todo":
        raise Refused(f"{task.name} is {task.state} already.", "Reopen it first.")


def _no_cell_found_since(made: Change, undoing: Undoing) -> None:
    """A bad cell stops what undoing comes to: a move, a task done, a timer. Unless it is what is undone."""
    for unit_id in _units_worked_on_again(made, undoing):
        own = any(row.row_id == unit_id and row.sets_anew("cell_finding") for row in undoing.of("unit"))
        if not own:
            no_bad_cell(made.get(Unit, unit_id, "unit"))


def _units_worked_on_again(made: Change, undoing: Undoing) -> Iterator[int]:
    for row in undoing.of("unit"):
        unit = made.session.get(Unit, row.row_id)
        if unit is None or not row.sets_anew("stage_id"):
            continue
        if not made.get(Stage, unit.stage_id, "stage").final:
            yield row.row_id
    done = [row.row_id for row in undoing.of("task") if row.target("state") == "done"]
    for row in undoing.of("time_entry"):
        entry = made.session.get(TimeEntry, row.row_id)
        if entry is not None and row.sets_anew("stopped_us") and row.target("stopped_us") is None:
            done.append(entry.task_id)
    yield from made.session.exec(select(Task.unit_id).where(col(Task.id).in_(done)))


def _unit_may_stand(made: Change, row: RowChange) -> None:
    unit = made.session.get(Unit, row.row_id)
    if unit is None or unit.removed:
        return
    if row.sets_anew("price_minor"):
        covers_parts_out(made, unit)
    if not row.sets_anew("stage_id"):
        return
    stage = made.get(Stage, unit.stage_id, "stage")
    if stage.lid_off or stage.final:
        may_alter(made, unit)
    if stage.final and unit.held_reason is not None:
        raise Refused(f"Unit {unit.tag} is on hold: {unit.held_reason}.", "Release it before it leaves.")
    may_list(made.session, unit, stage)
    places = {one.id: at for at, one in enumerate(stages_in_order(made.session))}
    assert row.after is not None
    first, last = places.get(row.after["stage_id"], 0), places.get(unit.stage_id, 0)
    passed = {stage_id for stage_id, at in places.items() if first <= at < last}
    tasks = tasks_in_order(made.session, unit.id)
    still = [task for task in tasks if task.state == "todo" and task.stage_id in passed]
    if still:
        raise TasksOpen(
            f"Not finished on unit {unit.tag}: {', '.join(task.name for task in still)}.",
            "Finish or skip those first, or move the unit by hand.",
            tasks=tuple((task.id or 0, task.name) for task in still),
        )


def _may_run(made: Change, row: RowChange) -> None:
    """A timer that would run again starts: past the gates of a start."""
    entry = made.session.get(TimeEntry, row.row_id)
    if entry is None or entry.stopped_us is not None:
        return
    task = made.get(Task, entry.task_id, "task")
    unit = made.get(Unit, task.unit_id, "unit")
    may_start(made.session, unit, task)
    may_alter(made, unit)
    parts_here(made.session, unit, task)


def _drives_may_be_there(made: Change, undoing: Undoing) -> None:
    """No drive without a passed wipe, and no reason for going without, comes into a listed unit or goes."""
    touched = [row for table in ("drive", "wipe", "unwiped") for row in undoing.of(table)]
    for unit_id in sorted(set().union(*(row.units for row in touched))) if touched else ():
        unit = made.session.get(Unit, unit_id)
        if unit is not None and not unit.removed:
            may_list(made.session, unit, made.get(Stage, unit.stage_id, "stage"))


def _parts_may_be_there(made: Change, undoing: Undoing) -> None:
    rows = undoing.of("part")
    for unit_id in sorted(set().union(*(row.units for row in rows))) if rows else ():
        unit = at_hand(made, unit_id)
        covers_parts_out(made, unit)


def _one_of_each_kind(made: Change, undoing: Undoing) -> None:
    """A shop without a channel, a stage at which units leave, a step of its scale cannot go on."""
    finals = set(made.session.exec(select(Stage.final).where(Stage.removed == 0)))
    sides = set(made.session.exec(select(GradeStep.side).where(GradeStep.removed == 0)))
    enough = {
        "channel": 0 in set(made.session.exec(select(Channel.removed))),
        "stage": finals == {0, 1},
        "grade_step": sides == {FUNCTION, LOOKS},
    }
    for table, is_enough in enough.items():
        if any(row.goes for row in undoing.of(table)) and not is_enough:
            raise Refused(
                f"That would leave the shop without a {table.replace('_', ' ')} that it needs.",
                "Add another one first.",
            )
    if any(row.goes and row.row_id == made.desk.person_id for row in undoing.of("person")):
        raise Refused("You cannot remove yourself.", "Let someone else do it.")
