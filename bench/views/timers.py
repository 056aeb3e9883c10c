"""The timers that run, and those of them that were forgotten. Light: the first paint reads it."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.amounts import Instant
from bench.domain.durations import MINUTE_US, running_time
from bench.domain.timers import elapsed_us, is_forgotten
from bench.views.binder import Query
from bench.views.shop import facts


@dataclass(frozen=True, slots=True)
class Running:
    """A time entry that is still open."""

    entry_id: int
    task_id: int
    task: str
    unit_id: int
    tag: str
    person_id: int
    person: str
    started_us: Instant
    attended: bool
    estimate_minutes: int
    kept_us: Instant | None = None


HANDS_ON = "►"
MACHINE_TIME = "○"

_RUNNING = Query(
    Running,
    """
SELECT entry.id AS entry_id, entry.task_id, task.name AS task, unit.id AS unit_id, unit.tag,
       entry.person_id, person.name AS person, entry.started_us, entry.attended,
       task.estimate_minutes, entry.kept_us
FROM time_entry AS entry INDEXED BY ix_time_entry_open
CROSS JOIN task ON task.id = entry.task_id JOIN unit ON unit.id = task.unit_id
JOIN person ON person.id = entry.person_id
WHERE entry.stopped_us IS NULL
ORDER BY entry.started_us, entry.id
""",
)


def running(connection: sqlite3.Connection) -> tuple[Running, ...]:
    """Every open time entry, oldest first."""
    return _RUNNING.all(connection)


def chief(entries: Iterable[Running]) -> Running | None:
    """The entry to show where there is room for one: hands-on first, then the longest running."""
    return min(entries, key=lambda entry: (not entry.attended, entry.started_us), default=None)


def has_run_out(entry: Running, now_us: int) -> bool:
    """Whether machine time has run as long as its task should take: someone may look at it."""
    expected_us = entry.estimate_minutes * MINUTE_US
    return not entry.attended and 0 < expected_us <= elapsed_us(entry.started_us, now_us)


def ticking(entry: Running, now_us: int) -> str:
    """A running entry's time, such as ► 12 min; ○ where nobody's hands are on it."""
    mark = HANDS_ON if entry.attended else MACHINE_TIME
    return f"{mark} {running_time(elapsed_us(entry.started_us, now_us))}"


def read_forgotten(desk: Desk) -> tuple[Running, ...]:
    """The running timers, hands-on or not, that are past the shop's limit, oldest first."""
    now_us = desk.clock.now_us()
    with desk.store.read() as connection:
        shop = facts(connection)
        timers = running(connection)
    return tuple(
        timer
        for timer in timers
        if is_forgotten(
            timer.started_us,
            now_us,
            timer.estimate_minutes,
            shop.forgotten_times,
            shop.forgotten_least_minutes,
            timer.kept_us,
        )
    )
