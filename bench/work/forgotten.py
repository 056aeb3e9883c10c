"""Timers that may be wrong: the forgotten are kept, stopped or dropped; a clock that was set is noted."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.durations import MINUTE_US, SECOND_US, hours_and_minutes
from bench.domain.localtime import day_and_time
from bench.domain.text import task_on
from bench.domain.timers import check_interval
from bench.domain.typed import read_field
from bench.errors import Refused
from bench.store.tables import Task, TimeEntry, Unit
from bench.work.change import Change, change
from bench.work.corrections import remove_within
from bench.work.lookups import shop_of
from bench.work.timers import Stopped
from bench.work.typed_time import read_instant


def keep_running(desk: Desk, entry_id: int) -> None:
    """Let a timer run on; the shop's limit counts again from now. Refused when it does not run."""
    with change(desk, "keep") as made:
        entry, task, unit = _running(made, entry_id)
        entry.kept_us = made.now_us
        made.tells(f"Kept {task_on(task.name, unit.tag)} running", unit_id=unit.id)


def stop_at(desk: Desk, entry_id: int, time_text: str) -> Stopped:
    """Stop a running timer at the time typed (14:30, yesterday 18:05, or 90 min after its start).

    Refused when it does not run; BadInput for a time that cannot be read, lies before the start or ahead.
    """
    with change(desk, "stop") as made:
        entry, task, unit = _running(made, entry_id)
        zone = shop_of(made.session).zone
        stop_us = read_field(
            "time_text", read_instant, time_text, zone=zone, now_us=made.now_us, started_us=entry.started_us
        )
        check_interval(entry.started_us, stop_us, made.now_us)
        entry.stopped_us = stop_us
        length_us = stop_us - entry.started_us
        made.tells(
            f"Stopped {task_on(task.name, unit.tag)} as of {day_and_time(stop_us, zone)}, "
            f"after {hours_and_minutes(length_us)}",
            unit_id=unit.id,
        )
        return Stopped(entry_id, task.unit_id, unit.tag, task.name, length_us, "")


def drop_entry(desk: Desk, entry_id: int) -> None:
    """Drop a running timer as if it had not been started; the journal keeps its values.

    Refused when it does not run: an entry that has stopped is removed with a reason.
    """
    with change(desk, "drop") as made:
        entry, task, unit = _running(made, entry_id)
        remove_within(made, entry)
        made.tells(f"Dropped the running timer of {task_on(task.name, unit.tag)}", unit_id=unit.id)


def _running(made: Change, entry_id: int) -> tuple[TimeEntry, Task, Unit]:
    entry = made.get(TimeEntry, entry_id, "time entry")
    if entry.stopped_us is not None:
        raise Refused("That timer has been stopped already.", "Correct the entry if its times are wrong.")
    task = made.session.get_one(Task, entry.task_id)
    return entry, task, made.session.get_one(Unit, task.unit_id)


def report_clock_step(desk: Desk, step_us: int) -> None:
    """Note by how much the wall clock was set (+ forward, - back); a step of nothing is not noted."""
    if step_us == 0:
        return
    with change(desk, "clock") as made:
        way = "jumped forward" if step_us > 0 else "was set back"
        made.tells(f"The clock {way} by {_length(abs(step_us))}: look at the entries of that time")


def _length(us: int) -> str:
    return hours_and_minutes(us) if us >= MINUTE_US else f"{-(-us // SECOND_US)} s"
