"""What the first screen shows: people and what each is timing, and the queue of units by stage.

Units at a final stage, and removed ones, are left out. Light: the first paint reads it.
"""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from bench.desk import Desk
from bench.domain.amounts import Instant, Length
from bench.domain.safety import CLOSING, LIST_NAMES, battery_alarm
from bench.domain.ways_out import counted_by_way
from bench.domain.weeks import IsoWeek, day_bounds_us, local_day
from bench.views.binder import Query, pairs
from bench.views.hours import DayHours, Worked, by_person
from bench.views.interrupted import interrupted
from bench.views.orders import AWAITED, NOTHING_DUE, Awaited, OrdersDue, awaited, orders_due
from bench.views.shop import PersonLine, ShopFacts, facts, is_demo, people, stages
from bench.views.standing import IN_QUEUE, WORKED_INSIDE
from bench.views.stock import ON_HAND
from bench.views.timers import Running, has_run_out, running


@dataclass(frozen=True, slots=True)
class PersonNow:
    """Someone at the bench, and today's hands-on time of closed entries."""

    person_id: int
    name: str
    running: tuple[Running, ...]
    today_us: Length


@dataclass(frozen=True, slots=True)
class QueueRow:
    """One unit in the queue. `spent_us`: closed hands-on time; running time comes on top while it ticks.

    `awaits`: the parts that tasks of it wait for; such a task does not come next. `left`: tasks that someone
    left for another one. `ran_out`: tasks of machine time that have run as long as they should take.
    """

    unit_id: int
    tag: str
    model: str
    stage_id: int
    next_task_id: int | None
    next_task: str
    next_machine_time: bool
    spent_us: Length
    estimate_minutes: int
    running: tuple[Running, ...]
    held: str | None
    due_on: date | None
    overdue: bool
    battery_alarm: bool
    cell_finding: str | None
    short_of: tuple[str, ...]
    awaits: tuple[str, ...] = ()
    left: tuple[str, ...] = ()
    ran_out: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class QueueStage:
    """A stage heading and the units that stand there. A final stage lists none, only their count.

    `ways`: of a final stage each way by which units left, as `ways_out` names it, with how many.
    """

    stage_id: int
    name: str
    lid_off: bool
    final: bool
    count: int
    rows: tuple[QueueRow, ...]
    ways: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True)
class QueueView:
    """The first screen's data at one instant, read in one snapshot. `demo`: of the made-up workshop."""

    read_us: Instant
    shop: ShopFacts
    people: tuple[PersonNow, ...]
    stages: tuple[QueueStage, ...]
    week: tuple[DayHours, ...]
    due: OrdersDue = NOTHING_DUE
    demo: bool = False

    def row(self, unit_id: int) -> QueueRow | None:
        """The row of a unit, or None when it is not in the queue."""
        for stage in self.stages:
            for row in stage.rows:
                if row.unit_id == unit_id:
                    return row
        return None

    def running(self) -> tuple[Running, ...]:
        """Every open time entry, by person."""
        return tuple(entry for person in self.people for entry in person.running)


@dataclass(frozen=True, slots=True)
class _Unit:
    """A unit as its own row and its ticks tell it."""

    unit_id: int
    tag: str
    model: str
    stage_id: int
    held: str | None
    due_on: date | None
    lid_off: bool
    cell_finding: str | None
    battery_in: bool
    opening: tuple[str, ...]
    worked_inside: bool

    @property
    def alarm(self) -> bool:
        """Whether its battery is connected where it may not be."""
        return battery_alarm(
            cover_off=self.lid_off,
            opening_ticked=self.opening,
            closing_ticked=("battery_in",) if self.battery_in else (),
            worked_inside=self.worked_inside,
        )


@dataclass(frozen=True, slots=True)
class NextTask:
    """The task of a unit that comes next; `turn`: where it stands in the order of the work."""

    unit_id: int
    task_id: int
    name: str
    unattended: bool
    turn: int


@dataclass(frozen=True, slots=True)
class _Short:
    """A task, and a consumable of which it takes more than is on hand."""

    task_id: int
    name: str


@dataclass(frozen=True, slots=True)
class _Way:
    """How many units that stand at a final stage left by one way."""

    stage_id: int
    way: str
    units: int


_UNITS = Query(
    _Unit,
    """
SELECT unit.id AS unit_id, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS model, unit.stage_id,
       unit.held_reason AS held, unit.due_on, unit.lid_off, unit.cell_finding,
       EXISTS (SELECT 1 FROM safety_check AS tick WHERE tick.unit_id = unit.id
               AND tick.lid_count = unit.lid_count AND tick.list = 'close_up'
               AND tick.item = 'battery_in') AS battery_in,
       (SELECT json_group_array(tick.item) FROM safety_check AS tick WHERE tick.unit_id = unit.id
        AND tick.lid_count = unit.lid_count AND tick.list = 'opening') AS opening,
       {worked_inside} AS worked_inside
FROM {in_queue}
ORDER BY unit.due_on IS NULL, unit.due_on, unit.stage_since_us, unit.id
""".replace("{worked_inside}", WORKED_INSIDE).replace("{in_queue}", IN_QUEUE),
)

# Hands-on minutes by unit; skipped tasks do not count.
_ESTIMATES = """
SELECT task.unit_id, SUM(task.estimate_minutes) AS minutes
FROM {in_queue} CROSS JOIN task ON task.unit_id = unit.id
WHERE task.removed = 0 AND task.unattended = 0 AND task.state <> 'skipped'
GROUP BY task.unit_id
""".replace("{in_queue}", IN_QUEUE)

# With the cover off no task comes next that needs it on: one at a cover-on stage that does not open.
# SQLite fills the other columns from the row that holds the MIN (sqlite.org/lang_select.html, bare columns).
_NEXT_TASKS = Query(
    NextTask,
    """
SELECT task.unit_id, task.id AS task_id, task.name, task.unattended,
       MIN(stage.position * 1000000 + task.position) AS turn
FROM {in_queue} CROSS JOIN task ON task.unit_id = unit.id JOIN stage ON stage.id = task.stage_id
WHERE task.removed = 0 AND task.state = 'todo'
AND NOT (unit.lid_off = 1 AND task.lid_off = 0 AND stage.lid_off = 0)
AND NOT EXISTS (SELECT 1 FROM task_wait INDEXED BY ix_task_wait_task_id
                WHERE task_wait.task_id = task.id AND {awaited})
GROUP BY task.unit_id
""".replace("{in_queue}", IN_QUEUE).replace("{awaited}", AWAITED),
)

# Hands-on microseconds of closed entries, by unit.
_SPENT = """
SELECT task.unit_id, SUM(entry.stopped_us - entry.started_us) AS spent_us
FROM {in_queue} CROSS JOIN task ON task.unit_id = unit.id
CROSS JOIN time_entry AS entry ON entry.task_id = task.id AND entry.attended = 1
WHERE task.removed = 0 AND entry.stopped_us IS NOT NULL
GROUP BY task.unit_id
""".replace("{in_queue}", IN_QUEUE)

_SHORT = Query(
    _Short,
    """
SELECT task_use.task_id, consumable.name
FROM {in_queue} CROSS JOIN task ON task.unit_id = unit.id
CROSS JOIN task_use INDEXED BY ix_task_use_task_id ON task_use.task_id = task.id
JOIN consumable ON consumable.id = task_use.consumable_id
WHERE task.removed = 0 AND task.state = 'todo' AND consumable.removed = 0
AND task_use.quantity > {on_hand}
ORDER BY task_use.id
""".replace("{in_queue}", IN_QUEUE).replace("{on_hand}", ON_HAND),
)

# Units that are out otherwise than by a sale.
_WAYS = Query(_Way, "SELECT stage_id, way, units FROM way_count WHERE way <> 'sold'")


def read_queue(desk: Desk) -> QueueView:
    """Everything of the first screen but the stock, in one snapshot and a fixed number of statements."""
    now_us = desk.clock.now_us()
    with desk.store.read() as connection:
        shop = facts(connection)
        timers = running(connection)
        today = local_day(now_us, shop.zone)
        week = IsoWeek.at(now_us, shop.zone).days()
        worked = by_person(connection, [day_bounds_us(day, shop.zone) for day in week], now_us)
        here = people(connection)
        queue_stages = _stages(connection, _rows(connection, timers, today, now_us))
        due = orders_due(connection, today)
        demo = is_demo(connection)
    return QueueView(
        read_us=now_us,
        shop=shop,
        people=_people(here, timers, worked, week.index(today), now_us, shop.zone),
        stages=queue_stages,
        week=_week(week, worked),
        due=due,
        demo=demo,
    )


def next_tasks(connection: sqlite3.Connection) -> dict[int, NextTask]:
    """The task that comes next, by unit."""
    return {task.unit_id: task for task in _NEXT_TASKS.each(connection)}


def alarms_in(connection: sqlite3.Connection) -> frozenset[int]:
    """The units in the queue whose battery is connected where it may not be."""
    return frozenset(unit.unit_id for unit in _UNITS.each(connection) if unit.alarm)


def _stages(connection: sqlite3.Connection, rows: defaultdict[int, list[QueueRow]]) -> tuple[QueueStage, ...]:
    ways: defaultdict[int, dict[str, int]] = defaultdict(dict)
    for one in _WAYS.each(connection):
        ways[one.stage_id][one.way] = one.units
    return tuple(
        QueueStage(
            stage_id=stage.stage_id,
            name=stage.name,
            lid_off=stage.lid_off,
            final=stage.final,
            count=stage.units,
            rows=tuple(rows[stage.stage_id]),
            ways=counted_by_way(ways[stage.stage_id], stage.units) if stage.final else (),
        )
        for stage in stages(connection)
    )


def _rows(
    connection: sqlite3.Connection, timers: Iterable[Running], today: date, now_us: int
) -> defaultdict[int, list[QueueRow]]:
    coming_up, parts = next_tasks(connection), awaited(connection)
    estimates, spent = pairs(connection, _ESTIMATES), pairs(connection, _SPENT)
    short: defaultdict[int, tuple[str, ...]] = defaultdict(tuple)
    for use in _SHORT.each(connection):
        short[use.task_id] += (use.name,)
    on_unit: defaultdict[int, tuple[Running, ...]] = defaultdict(tuple)
    for timer in timers:
        on_unit[timer.unit_id] += (timer,)
    left: defaultdict[int, tuple[str, ...]] = defaultdict(tuple)
    for one in interrupted(connection):
        left[one.unit_id] += (one.task,)
    rows: defaultdict[int, list[QueueRow]] = defaultdict(list)
    for unit in _UNITS.each(connection):
        coming = coming_up.get(unit.unit_id)
        rows[unit.stage_id].append(
            QueueRow(
                unit_id=unit.unit_id,
                tag=unit.tag,
                model=unit.model,
                stage_id=unit.stage_id,
                next_task_id=coming.task_id if coming else None,
                next_task=coming.name if coming else _no_task(unit, parts[unit.unit_id]),
                next_machine_time=coming.unattended if coming else False,
                spent_us=spent.get(unit.unit_id, 0),
                estimate_minutes=estimates.get(unit.unit_id, 0),
                running=on_unit[unit.unit_id],
                held=unit.held,
                due_on=unit.due_on,
                overdue=unit.due_on is not None and unit.due_on < today,
                battery_alarm=unit.alarm,
                cell_finding=unit.cell_finding,
                short_of=short[coming.task_id] if coming else (),
                awaits=tuple(dict.fromkeys(one.what for one in parts[unit.unit_id])),
                left=left[unit.unit_id],
                ran_out=tuple(one.task for one in on_unit[unit.unit_id] if has_run_out(one, now_us)),
            )
        )
    return rows


def _no_task(unit: _Unit, parts: Iterable[Awaited]) -> str:
    """What comes next where no task does: a part that is waited for, the closing checklist, nothing."""
    for one in parts:
        return f"waits for {one.what}"
    return LIST_NAMES[CLOSING] if unit.lid_off else ""


def _people(
    here: Iterable[PersonLine],
    timers: tuple[Running, ...],
    worked: Iterable[Worked],
    today: int,
    now_us: int,
    zone: str,
) -> tuple[PersonNow, ...]:
    """Today's hands-on time of each, without what still runs: that ticks on the screen itself."""
    closed = {part.person_id: part.us for part in worked if part.number == today and part.attended}
    midnight_us = day_bounds_us(local_day(now_us, zone), zone)[0]
    answer = []
    for person in here:
        own = tuple(timer for timer in timers if timer.person_id == person.person_id)
        ticking = sum(max(0, now_us - max(timer.started_us, midnight_us)) for timer in own if timer.attended)
        today_us = max(0, closed.get(person.person_id, 0) - ticking)
        answer.append(PersonNow(person.person_id, person.name, own, today_us))
    return tuple(answer)


def _week(days: tuple[date, ...], worked: Iterable[Worked]) -> tuple[DayHours, ...]:
    sums: defaultdict[tuple[int, bool], int] = defaultdict(int)
    for part in worked:
        sums[part.number, part.attended] += part.us
    return tuple(DayHours(day, sums[number, True], sums[number, False]) for number, day in enumerate(days))
