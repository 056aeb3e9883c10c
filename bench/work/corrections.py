"""Set time entries right: correct one and keep its old values, add a forgotten one, remove a wrong one."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import func
from sqlmodel import col, select

from bench.desk import Desk
from bench.domain.amounts import Instant
from bench.domain.durations import MINUTE_US
from bench.domain.localtime import clock_time, day_and_time
from bench.domain.text import clean_line, task_on
from bench.domain.timers import check_interval
from bench.domain.typed import TypedFields, read_field
from bench.domain.weeks import local_day
from bench.errors import BadInput, Refused
from bench.store.tables import Correction, Task, TimeEntry, Unit
from bench.work.change import Change, change
from bench.work.gates import may_finish
from bench.work.lookups import shop_of
from bench.work.typed_time import read_instant

_ENDLESS_US = 2**63 - 1  # the stop of an entry that still runs, when spans are compared


@dataclass(frozen=True, slots=True)
class Corrected:
    """A corrected time entry, with its times before and after. A stop of None: it still runs."""

    entry_id: int
    unit_id: int
    tag: str
    task: str
    old_started_us: Instant
    old_stopped_us: Instant | None
    new_started_us: Instant
    new_stopped_us: Instant | None


def correct_entry(desk: Desk, entry_id: int, *, start_text: str, stop_text: str, reason: str) -> Corrected:
    """Give a time entry other times; the old ones are kept. An empty text leaves that end as it is.

    A time of day alone means the entry's own day. One typed to the minute that is already the entry's, or
    the minute in which the person's previous entry stopped, takes that exact instant: no slivers arise.
    BadInput for unusable times, no reason or no difference; Refused where it would overlap another
    hands-on entry of the same person.
    """
    with change(desk, "correct") as made:
        entry = made.get(TimeEntry, entry_id, "time entry")
        zone = shop_of(made.session).zone
        old, fields = (entry.started_us, entry.stopped_us), TypedFields()
        start_us = fields.read("start_text", _typed_start, made, entry, start_text, zone)
        why = fields.read("reason", clean_line, reason, "The reason")
        fields.check()
        stop_us = read_field("stop_text", _typed_stop, made, entry, stop_text, start_us, zone)
        if (start_us, stop_us) == old:
            raise BadInput("Those are the times it has already.", "Type the ones it should have.")
        _check(made, entry, start_us, stop_us, zone)
        entry.started_us, entry.stopped_us = start_us, stop_us
        entry.steady_us = None  # a start that was typed was not read from any clock
        made.add(
            Correction(
                time_entry_id=entry_id,
                person_id=desk.person_id,
                at_us=made.now_us,
                old_started_us=old[0],
                old_stopped_us=old[1],
                new_started_us=start_us,
                new_stopped_us=stop_us,
                reason=why,
            )
        )
        task, unit = _task_and_unit(made, entry.task_id)
        made.tells(
            f"Corrected {task_on(task.name, unit.tag)} to {_span(start_us, stop_us, zone)}; "
            f"it was {_span(*old, zone)}",
            unit_id=unit.id,
            reason=why,
        )
        return Corrected(entry_id, task.unit_id, unit.tag, task.name, *old, start_us, stop_us)


def add_entry(desk: Desk, task_id: int, *, start_text: str, stop_text: str, reason: str) -> int:
    """Enter time that was worked but not timed, for the desk's person; answer the entry's number.

    BadInput without a stop (a task that goes on is started, and its start corrected); Refused where it would
    overlap; BatteryFirst for a cover-off task that has no time yet while the opening checklist is not ticked.
    """
    with change(desk, "add entry") as made:
        task = made.get(Task, task_id, "task")
        unit = made.get(Unit, task.unit_id, "unit")
        if task.state == "todo":
            may_finish(made.session, unit, task, was_started=_has_entries(made, task_id), ends=False)
        if not stop_text.strip():
            raise BadInput(
                "The stop is empty.",
                "Type it; if the work goes on, start the task and correct its start.",
                field="stop_text",
            )
        zone = shop_of(made.session).zone
        entry = TimeEntry(
            task_id=task_id, person_id=desk.person_id, started_us=0, attended=int(not task.unattended)
        )
        fields = TypedFields()
        typed_us = fields.read("start_text", read_instant, start_text, zone=zone, now_us=made.now_us)
        why = fields.read("reason", clean_line, reason, "The reason")
        fields.check()
        start_us = _after_previous(made, entry, typed_us)
        stop_us = read_field(
            "stop_text", read_instant, stop_text, zone=zone, now_us=made.now_us, started_us=start_us
        )
        _check(made, entry, start_us, stop_us, zone)
        entry.started_us, entry.stopped_us = start_us, stop_us
        made.add(entry)
        made.tells(
            f"Added {_span(start_us, stop_us, zone)} to {task_on(task.name, unit.tag)}",
            unit_id=unit.id,
            reason=why,
        )
        assert entry.id is not None
        return entry.id


def remove_entry(desk: Desk, entry_id: int, reason: str) -> None:
    """Remove a time entry, with the reason why; the journal keeps its values."""
    with change(desk, "remove entry") as made:
        why = read_field("reason", clean_line, reason, "The reason")
        entry = made.get(TimeEntry, entry_id, "time entry")
        span = _span(entry.started_us, entry.stopped_us, shop_of(made.session).zone)
        task, unit = _task_and_unit(made, entry.task_id)
        remove_within(made, entry)
        made.tells(f"Removed {span} from {task_on(task.name, unit.tag)}", unit_id=unit.id, reason=why)


def remove_within(made: Change, entry: TimeEntry) -> None:
    """Remove an entry and what was corrected in it, inside a transaction that does more."""
    statement = select(Correction).where(Correction.time_entry_id == entry.id).order_by(col(Correction.id))
    for row in made.session.exec(statement).all():
        made.session.delete(row)
    made.session.flush()
    made.session.delete(entry)


def require_room(made: Change, entry: TimeEntry) -> None:
    """Pass, or raise Refused where the person did something else in the time of an entry."""
    if entry.attended:
        _check(made, entry, entry.started_us, entry.stopped_us, shop_of(made.session).zone)


def _typed_start(made: Change, entry: TimeEntry, text: str, zone: str) -> int:
    if not text.strip():
        return entry.started_us
    day = local_day(entry.started_us, zone)
    typed_us = read_instant(text, zone=zone, now_us=made.now_us, on=day)
    if _same_minute(typed_us, entry.started_us):
        return entry.started_us
    return _after_previous(made, entry, typed_us)


def _typed_stop(made: Change, entry: TimeEntry, text: str, start_us: int, zone: str) -> int | None:
    if not text.strip():
        return entry.stopped_us
    typed_us = read_instant(text, zone=zone, now_us=made.now_us, started_us=start_us)
    if entry.stopped_us is not None and _same_minute(typed_us, entry.stopped_us):
        return entry.stopped_us
    return typed_us


def _same_minute(typed_us: int, instant_us: int) -> bool:
    return typed_us % MINUTE_US == 0 and 0 <= instant_us - typed_us < MINUTE_US


def _after_previous(made: Change, entry: TimeEntry, typed_us: int) -> int:
    """The typed start, or the stop of the person's previous entry where it lies in that same minute."""
    if not entry.attended:
        return typed_us
    previous = _last_before(made, entry, typed_us + MINUTE_US)
    if previous is None or previous.stopped_us is None or not _same_minute(typed_us, previous.stopped_us):
        return typed_us
    return previous.stopped_us


def _check(made: Change, entry: TimeEntry, start_us: int, stop_us: int | None, zone: str) -> None:
    """Pass, or raise where these times lie ahead, run backwards or overlap what the person did besides."""
    check_interval(start_us, stop_us, made.now_us)
    if not entry.attended:
        return
    # Hands-on entries of one person never overlap, so what started last before this stop also stops last.
    other = _last_before(made, entry, _ENDLESS_US if stop_us is None else stop_us)
    if other is None or (other.stopped_us is not None and other.stopped_us <= start_us):
        return
    task, unit = _task_and_unit(made, other.task_id)
    raise Refused(
        f"{_span(start_us, stop_us, zone)} overlaps {task_on(task.name, unit.tag)}, "
        f"{_span(other.started_us, other.stopped_us, zone)}.",
        "One person has one hands-on task at a time: type other times, or correct that entry first.",
    )


def _last_before(made: Change, entry: TimeEntry, before_us: int) -> TimeEntry | None:
    """The person's other hands-on entry that started last before an instant."""
    statement = (
        select(TimeEntry)
        .where(
            TimeEntry.person_id == entry.person_id,
            TimeEntry.attended == 1,
            col(TimeEntry.id).is_distinct_from(entry.id),
            TimeEntry.started_us < before_us,
        )
        .order_by(col(TimeEntry.started_us).desc(), func.coalesce(TimeEntry.stopped_us, _ENDLESS_US).desc())
        .limit(1)
    )
    return made.session.exec(statement).first()


def _has_entries(made: Change, task_id: int) -> bool:
    return made.session.exec(select(TimeEntry.id).where(TimeEntry.task_id == task_id)).first() is not None


def _task_and_unit(made: Change, task_id: int) -> tuple[Task, Unit]:
    """The entry's task and unit, removed ones too: their time stays open for correction."""
    task = made.session.get_one(Task, task_id)
    return task, made.session.get_one(Unit, task.unit_id)


def _span(start_us: int, stop_us: int | None, zone: str) -> str:
    start = day_and_time(start_us, zone)
    if stop_us is None:
        return f"{start} and running"
    same_day = local_day(start_us, zone) == local_day(stop_us, zone)
    return f"{start} to {clock_time(stop_us, zone) if same_day else day_and_time(stop_us, zone)}"
