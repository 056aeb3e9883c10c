"""The electricity of machine time within a span, as an estimate; and what each task is told to draw."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.machine_power import MachinePower, MachineTime, machine_power
from bench.views import trade
from bench.views.binder import Query
from bench.views.hours import PARTS, in_text


@dataclass(frozen=True, slots=True)
class TaskWatts:
    """What a machine draws while tasks of this name run."""

    name: str
    watts: int


_TIMES = Query(
    MachineTime,
    """
{parts}
SELECT task.name AS task, SUM(part.us) AS us, task_power.watts
FROM part JOIN task ON task.id = part.task_id
LEFT JOIN task_power ON task_power.name = task.name AND task_power.removed = 0
WHERE part.attended = 0 GROUP BY task.name, task_power.watts ORDER BY task.name
""".replace("{parts}", PARTS),
)
_WATTS = Query(TaskWatts, "SELECT name, watts FROM task_power WHERE removed = 0 ORDER BY name")


def power_of(connection: sqlite3.Connection, span: tuple[int, int], now_us: int) -> MachinePower | None:
    """What machine time within a span drew, by the watts that are set; None where none of it is known."""
    settings = trade.settings(connection)
    times = _TIMES.all(connection, spans=in_text([span]), now=now_us)
    power = machine_power(times, settings.machine_watts, settings.mwh_price_minor)
    return power if power.us > power.unknown_us else None


def read_task_watts(desk: Desk) -> tuple[TaskWatts, ...]:
    """The tasks that have watts of their own, by name."""
    with desk.store.read() as connection:
        return _WATTS.all(connection)
