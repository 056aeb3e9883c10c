"""Task timers: start, stop, switch, finish, skip, reopen.

One person has one hands-on task at a time: starting another stops it at the same instant, without gap or
overlap. Machine-time tasks run side by side.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sqlmodel import col, select

from bench.desk import Desk
from bench.domain.amounts import Instant, Length
from bench.domain.durations import hours_and_minutes
from bench.domain.quantities import show_quantity
from bench.domain.text import clean_line, task_on
from bench.domain.timers import clock_step_us
from bench.domain.typed import read_field
from bench.errors import NotFound, OutcomeFirst, Refused
from bench.store.tables import Consumable, Task, TaskUse, TimeEntry, Unit
from bench.work.awaited import parts_here
from bench.work.change import Change, change
from bench.work.gates import cover_comes_off, may_alter, may_finish, may_start
from bench.work.issuing import Issued, issue
from bench.work.lookups import open_entries

# A clock set back by less than this is bridged; by more, the person is asked to correct the entry.
BRIDGED_STEP_US = 5 * 60 * 1_000_000


@dataclass(frozen=True, slots=True)
class Started:
    """A timer that now runs, and the names of the tasks stopped at the same instant."""

    entry_id: int
    unit_id: int
    tag: str
    task: str
    at_us: Instant
    attended: bool
    stopped: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Stopped:
    """A timer that no longer runs. `clock_note` is empty unless the wall clock was set meanwhile."""

    entry_id: int
    unit_id: int
    tag: str
    task: str
    length_us: Length
    clock_note: str


@dataclass(frozen=True, slots=True)
class Finished:
    """A finished task and what was issued for it. `stage_clear`: nothing is left to do at its stage."""

    task_id: int
    unit_id: int
    tag: str
    task: str
    issued: tuple[Issued, ...]
    stage_clear: bool


def start_task(desk: Desk, task_id: int, *, anyway: str = "") -> Started:
    """Start the task's timer for the desk's person; a hands-on task of theirs that runs is stopped.

    Raises BatteryFirst, CellAlarm or Refused when the unit may not be worked on; PartAwaited where a part
    that it needs is not here, unless `anyway` says why it goes on without.
    """
    with change(desk, "start") as made:
        task = made.get(Task, task_id, "task")
        unit = made.get(Unit, task.unit_id, "unit")
        may_start(made.session, unit, task)
        may_alter(made, unit)
        why = parts_here(made.session, unit, task, anyway)
        _not_twice(made, task, unit)
        stopped: tuple[str, ...] = ()
        at_us = made.now_us
        if not task.unattended:
            stopped = _stop_hands_on(made)
            at_us = _after_last_entry(made)
        if task.lid_off:
            cover_comes_off(made, unit)
        entry = made.add(
            TimeEntry(
                task_id=task_id,
                person_id=desk.person_id,
                started_us=at_us,
                attended=int(not task.unattended),
                steady_us=desk.clock.steady_us(),
                boot=desk.clock.boot(),
            )
        )
        words = f"Started {task_on(task.name, unit.tag)}"
        words += f", stopping {', '.join(stopped)}" if stopped else ""
        made.tells(words, unit_id=unit.id, reason=why)
        assert entry.id is not None
        return Started(entry.id, task.unit_id, unit.tag, task.name, at_us, not task.unattended, stopped)


def stop_entry(desk: Desk, entry_id: int) -> Stopped:
    """Stop one running timer now. Refused when it does not run."""
    with change(desk, "stop") as made:
        entry = made.get(TimeEntry, entry_id, "time entry")
        if entry.stopped_us is not None:
            raise Refused("That timer has been stopped already.", "Correct the entry if its times are wrong.")
        stopped = _stop(made, entry)
        made.tells(_stop_words(stopped), unit_id=stopped.unit_id)
        return stopped


def stop_person(desk: Desk) -> Stopped:
    """Stop the person's running hands-on timer now; NotFound when none runs."""
    with change(desk, "stop") as made:
        entry = _hands_on_running(made)
        if entry is None:
            raise NotFound("No hands-on timer of yours is running.", "Start a task first.")
        stopped = _stop(made, entry)
        made.tells(_stop_words(stopped), unit_id=stopped.unit_id)
        return stopped


def finish_task(desk: Desk, task_id: int, *, uses: Mapping[int, int] | None = None) -> Finished:
    """Stop the task's timers, mark it done and issue what it took, in one step.

    `uses`: consumable to thousandths of its base unit, 0 for none; None takes what the route says.
    Raises OutOfStock, and nothing is changed, when more is asked than is on hand; OutcomeFirst for a test,
    which `outcomes.end_test` ends.
    """
    with change(desk, "finish") as made:
        task = made.get(Task, task_id, "task")
        unit = made.get(Unit, task.unit_id, "unit")
        issued = finish_within(made, task, unit, uses)
        took = ", ".join(f"{show_quantity(one.quantity, one.base_unit)} {one.name}" for one in issued)
        words = f"Finished {task_on(task.name, unit.tag)}"
        made.tells(words + (f", took {took}" if took else ""), unit_id=unit.id)
        statement = select(Task.id).where(
            Task.unit_id == unit.id, Task.stage_id == task.stage_id, Task.state == "todo", Task.removed == 0
        )
        clear = made.session.exec(statement).first() is None and unit.stage_id == task.stage_id
        return Finished(task_id, task.unit_id, unit.tag, task.name, issued, clear)


def skip_task(desk: Desk, task_id: int, reason: str) -> None:
    """Leave a task out, with the reason why; a running timer on it stops."""
    with change(desk, "skip") as made:
        task = made.get(Task, task_id, "task")
        unit = made.get(Unit, task.unit_id, "unit")
        if task.state != "todo":
            raise Refused(f"{task_on(task.name, unit.tag)} is {task.state} already.", "Reopen it first.")
        why = read_field("reason", clean_line, reason, "The reason")
        skip_within(made, task, why)
        made.tells(f"Skipped {task_on(task.name, unit.tag)}", unit_id=unit.id, reason=why)


def reopen_task(desk: Desk, task_id: int) -> None:
    """Put a done or skipped task back to be done; what it issued stays issued."""
    with change(desk, "reopen") as made:
        task = made.get(Task, task_id, "task")
        unit = made.get(Unit, task.unit_id, "unit")
        if task.state == "todo":
            raise Refused(f"{task_on(task.name, unit.tag)} is not done yet.", "There is nothing to reopen.")
        reopen_within(task)
        made.tells(f"Reopened {task_on(task.name, unit.tag)}", unit_id=unit.id)


def finish_within(
    made: Change, task: Task, unit: Unit, uses: Mapping[int, int] | None, *, tested: bool = False
) -> tuple[Issued, ...]:
    """Finish a task inside a transaction that does more, such as a move.

    `tested`: its outcome was recorded with it. OutcomeFirst for a test without.
    """
    entries = list(made.session.exec(select(TimeEntry).where(TimeEntry.task_id == task.id)))
    may_finish(made.session, unit, task, was_started=bool(entries))
    if task.test and not tested:
        raise OutcomeFirst(
            f"{task_on(task.name, unit.tag)} is a test: it is done with its outcome.",
            "Say whether it passed, failed or was broken off, as `bench test` does.",
            unit_id=unit.id or 0,
            task_id=task.id or 0,
            kind=task.test,
        )
    if not entries:
        may_alter(made, unit)
        parts_here(made.session, unit, task)
    for entry in entries:
        if entry.stopped_us is None:
            _stop(made, entry)
    task.state, task.ended_us = "done", made.now_us
    assert task.id is not None
    wanted = _route_uses(made, task.id) if uses is None else uses
    return tuple(issue(made, task.id, one, quantity) for one, quantity in wanted.items() if quantity != 0)


def skip_within(made: Change, task: Task, reason: str) -> None:
    """Skip a task inside a transaction that does more."""
    stop_task(made, task)
    task.state, task.ended_us, task.skip_reason = "skipped", made.now_us, reason


def reopen_within(task: Task) -> None:
    """Put a task back to be done inside a transaction that does more."""
    task.state, task.ended_us, task.skip_reason = "todo", None, None


def stop_task(made: Change, task: Task) -> None:
    """Stop a task's running timers inside a transaction that does more."""
    for entry in open_entries(made.session, task.unit_id):
        if entry.task_id == task.id:
            _stop(made, entry)


def stop_unit(made: Change, unit_id: int | None, *, hands_on_only: bool) -> int:
    """Stop a unit's running timers inside a transaction that does more; answer how many."""
    entries = [one for one in open_entries(made.session, unit_id) if one.attended or not hands_on_only]
    for entry in entries:
        _stop(made, entry)
    return len(entries)


def _route_uses(made: Change, task_id: int) -> dict[int, int]:
    statement = (
        select(TaskUse)
        .join(Consumable, col(Consumable.id) == TaskUse.consumable_id)
        .where(TaskUse.task_id == task_id, Consumable.removed == 0)
        .order_by(col(TaskUse.id))
    )
    rows = made.session.exec(statement)
    return {row.consumable_id: row.quantity for row in rows}


def _not_twice(made: Change, task: Task, unit: Unit) -> None:
    for entry in open_entries(made.session, task.unit_id):
        mine = task.unattended or entry.person_id == made.desk.person_id
        if entry.task_id == task.id and mine:
            raise Refused(f"{task_on(task.name, unit.tag)} is running already.", "Stop it, or finish it.")


def _hands_on_running(made: Change) -> TimeEntry | None:
    statement = select(TimeEntry).where(
        TimeEntry.person_id == made.desk.person_id,
        TimeEntry.attended == 1,
        col(TimeEntry.stopped_us).is_(None),
    )
    return made.session.exec(statement).first()


def _stop_hands_on(made: Change) -> tuple[str, ...]:
    entry = _hands_on_running(made)
    if entry is None:
        return ()
    stopped = _stop(made, entry)
    made.session.flush()
    return (task_on(stopped.task, stopped.tag),)


def _after_last_entry(made: Change) -> int:
    """Now, or the end of the person's entry that covers now: a clock set back a little is bridged.

    An entry that lies wholly ahead, of a clock that once was, is in nobody's way.
    """
    at_us = made.now_us
    while (covering := _hands_on_within(made, made.desk.person_id, at_us, at_us + 1)) is not None:
        assert covering.stopped_us is not None
        at_us = covering.stopped_us
    if at_us - made.now_us > BRIDGED_STEP_US:
        raise Refused(
            f"Your last entry stops {hours_and_minutes(at_us - made.now_us)} after what the clock shows.",
            "Set the clock right, or correct that entry on the week screen.",
        )
    return at_us


def _hands_on_within(
    made: Change, person_id: int, start_us: int, stop_us: int, *, but: int | None = None
) -> TimeEntry | None:
    """The person's hands-on entry, stopped, that shares time with this span; the last one of several.

    No two of them share time: where the last that begins before the span's end does not reach into
    it, none does.
    """
    statement = (
        select(TimeEntry)
        .where(
            TimeEntry.person_id == person_id,
            TimeEntry.attended == 1,
            TimeEntry.started_us < stop_us,
            col(TimeEntry.stopped_us) > col(TimeEntry.started_us),
            col(TimeEntry.id).is_not(but),
        )
        .order_by(col(TimeEntry.started_us).desc())
        .limit(1)
    )
    last = made.session.exec(statement).first()
    return last if last is not None and (last.stopped_us or 0) > start_us else None


def _stop(made: Change, entry: TimeEntry) -> Stopped:
    task = made.get(Task, entry.task_id, "task")
    unit = made.get(Unit, task.unit_id, "unit")
    length_us, note = _measured(made, entry)
    start_us = entry.started_us
    if entry.attended:
        start_us = _clear_of_others(made, entry, length_us)
        if start_us != entry.started_us and not note:
            note = "It is booked behind the entry of a clock that was ahead, with the length that it had."
    entry.started_us, entry.stopped_us = start_us, start_us + length_us
    assert entry.id is not None
    return Stopped(entry.id, task.unit_id, unit.tag, task.name, length_us, note)


def _measured(made: Change, entry: TimeEntry) -> tuple[int, str]:
    """How long an entry ran until now, and a sentence when the wall clock was set meanwhile.

    The steady clock decides, unless the machine was off in between: then the wall clock is all there is.
    """
    clock = made.desk.clock
    if entry.steady_us is not None and entry.boot and entry.boot == clock.boot():
        steady_us = clock.steady_us()
        step_us = clock_step_us(entry.started_us, made.now_us, entry.steady_us, steady_us)
        if step_us:
            way = "forward" if step_us > 0 else "back"
            return steady_us - entry.steady_us, (
                f"The clock was set {way} by {hours_and_minutes(abs(step_us))} meanwhile: "
                "the length is what the steady clock measured."
            )
    back_us = entry.started_us - made.now_us
    if back_us > 0:
        back = hours_and_minutes(back_us)
        return 0, f"The clock stands {back} before the start: the entry was given no length."
    return -back_us, ""


def _clear_of_others(made: Change, entry: TimeEntry, length_us: int) -> int:
    """Where an entry of that length begins so as to overlap no other of its person: its start, or later."""
    start_us = entry.started_us
    while other := _hands_on_within(made, entry.person_id, start_us, start_us + length_us, but=entry.id):
        assert other.stopped_us is not None
        start_us = other.stopped_us
    return start_us


def _stop_words(stopped: Stopped) -> str:
    words = f"Stopped {task_on(stopped.task, stopped.tag)} after {hours_and_minutes(stopped.length_us)}"
    return f"{words}. {stopped.clock_note}" if stopped.clock_note else words
