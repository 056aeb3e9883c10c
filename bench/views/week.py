"""The week as it is shown: hours by day, stage and person, what sold units earned, estimates."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.amounts import Instant, Length
from bench.domain.localtime import FIRST_YEAR
from bench.domain.statistics_of_work import spread
from bench.domain.unit_money import Earned, SoldUnit, earned
from bench.domain.ways_out import Repairs
from bench.domain.weeks import IsoWeek, day_bounds_us
from bench.views.binder import Query, pairs
from bench.views.entries import EntryLine, in_span
from bench.views.hours import DayHours, WorkedOn, by_person, by_task
from bench.views.shop import facts
from bench.views.units_sold import read_repairs, units_sold

WEEKS_BEFORE = 8


@dataclass(frozen=True, slots=True)
class StageHours:
    """A stage's hours on each of the week's seven days, Monday first, in microseconds."""

    stage: str
    hands_on_us: tuple[Length, ...]
    machine_us: tuple[Length, ...]


@dataclass(frozen=True, slots=True)
class PersonHours:
    """One person's hours in the week."""

    person_id: int
    person: str
    hands_on_us: Length
    machine_us: Length


@dataclass(frozen=True, slots=True)
class WeekTotal:
    """An earlier week's hours, for comparison."""

    week: IsoWeek
    hands_on_us: Length
    machine_us: Length


@dataclass(frozen=True, slots=True)
class TaskEstimate:
    """Estimate against actual of one task name among tasks finished in the week and the eight before."""

    task: str
    count: int
    estimate_minutes: int
    median_us: Length
    p80_us: Length
    week_us: Length
    route_task_ids: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class WeekSheet:
    """One ISO week in the shop's zone. Running entries count up to `read_us`.

    `earlier`: the last eight weeks, oldest first. `entries`: every entry that touches the week, by start.
    `sold`: units sold in the week and still sold, each with its margin, by day of sale.
    `repairs`: owners' machines handed back in the week.
    """

    week: IsoWeek
    shop: str
    currency: str
    zone: str
    read_us: Instant
    days: tuple[DayHours, ...]
    stages: tuple[StageHours, ...]
    people: tuple[PersonHours, ...]
    earlier: tuple[WeekTotal, ...]
    sold: tuple[SoldUnit, ...]
    repairs: Repairs
    estimates: tuple[TaskEstimate, ...]
    entries: tuple[EntryLine, ...]

    @property
    def hands_on_us(self) -> Length:
        """The week's hands-on time."""
        return sum(day.hands_on_us for day in self.days)

    @property
    def machine_us(self) -> Length:
        """The week's machine time."""
        return sum(day.machine_us for day in self.days)

    @property
    def earned(self) -> Earned:
        """What the units sold in the week earned together, beside the week's hands-on time."""
        return earned(str(self.week), self.sold, self.hands_on_us)

    def in_week_us(self, entry: EntryLine) -> int:
        """The part of an entry that lies in the week; these parts add up to the week's time."""
        from_us, to_us = self.week.bounds_us(self.zone)
        stopped_us = self.read_us if entry.stopped_us is None else entry.stopped_us
        return max(0, min(stopped_us, to_us) - max(entry.started_us, from_us))


@dataclass(frozen=True, slots=True)
class _Finished:
    """A task that was done: its time by all, and what its route estimates now where it has one."""

    task: str
    estimate_minutes: int
    route_task_id: int | None
    route_minutes: int | None
    spent_us: Length | None


_FINISHED = Query(
    _Finished,
    """
SELECT task.name AS task, task.estimate_minutes, route_task.id AS route_task_id,
       route_task.estimate_minutes AS route_minutes,
       (SELECT SUM(entry.stopped_us - entry.started_us) FROM time_entry AS entry
        WHERE entry.task_id = task.id AND entry.stopped_us IS NOT NULL) AS spent_us
FROM task
LEFT JOIN route_task ON route_task.id = task.route_task_id AND route_task.removed = 0
AND route_task.route_id IN (SELECT id FROM route WHERE removed = 0)
WHERE task.ended_us >= :lo AND task.ended_us < :hi AND task.state = 'done' AND task.removed = 0
ORDER BY task.ended_us, task.id
""",
)

# Removed ones too: their hours stay theirs.
_STAGE_NAMES = "SELECT id, name FROM stage ORDER BY position, id"
_PERSON_NAMES = "SELECT id, name FROM person ORDER BY name, id"


def read_week(desk: Desk, week: IsoWeek | None = None) -> WeekSheet:
    """The week's sheet in one snapshot; without a week, the one it is now in the shop's zone.

    Every figure is in whole microseconds and all are sums of the same cells, so that days, stages and people
    add up to the same total.
    """
    now_us = desk.clock.now_us()
    with desk.store.read() as connection:
        shop = facts(connection)
        week = week or IsoWeek.at(now_us, shop.zone)
        days = week.days()
        bounds_us = week.bounds_us(shop.zone)
        cells = by_task(connection, [day_bounds_us(day, shop.zone) for day in days], now_us)
        before = _weeks_before(week)
        since_us = before[0].bounds_us(shop.zone)[0] if before else bounds_us[0]
        sold, _ = units_sold(connection, days[0], days[-1])
        return WeekSheet(
            week=week,
            shop=shop.name,
            currency=shop.currency,
            zone=shop.zone,
            read_us=now_us,
            days=_days(week, cells),
            stages=_stages(cells, pairs(connection, _STAGE_NAMES)),
            people=_people(cells, pairs(connection, _PERSON_NAMES)),
            earlier=_earlier(connection, before, shop.zone, now_us),
            sold=tuple(sorted(sold, key=lambda one: (one.sold_on, one.unit_id))),
            repairs=read_repairs(connection, bounds_us),
            estimates=_estimates(_FINISHED.all(connection, lo=since_us, hi=bounds_us[1]), cells),
            entries=in_span(connection, bounds_us, now_us),
        )


def _weeks_before(week: IsoWeek) -> list[IsoWeek]:
    """The eight weeks before, oldest first; none where the calendar of this program begins."""
    if week.year == FIRST_YEAR:
        return []
    return [week.previous(n) for n in range(WEEKS_BEFORE, 0, -1)]


def _days(week: IsoWeek, cells: Iterable[WorkedOn]) -> tuple[DayHours, ...]:
    sums = _sums((cell.number, cell.attended, cell.us) for cell in cells)
    days = enumerate(week.days())
    return tuple(DayHours(day, sums[number, True], sums[number, False]) for number, day in days)


def _stages(cells: Iterable[WorkedOn], names: Mapping[int, str]) -> tuple[StageHours, ...]:
    """The stages that have time in the week, in the order units pass them."""
    sums = _sums(((cell.stage_id, cell.number), cell.attended, cell.us) for cell in cells)
    worked = {cell.stage_id for cell in cells}
    return tuple(
        StageHours(
            stage=name,
            hands_on_us=tuple(sums[(stage_id, day), True] for day in range(7)),
            machine_us=tuple(sums[(stage_id, day), False] for day in range(7)),
        )
        for stage_id, name in names.items()
        if stage_id in worked
    )


def _people(cells: Iterable[WorkedOn], names: Mapping[int, str]) -> tuple[PersonHours, ...]:
    """The people who have time in the week, by name."""
    sums = _sums((cell.person_id, cell.attended, cell.us) for cell in cells)
    worked = {cell.person_id for cell in cells}
    return tuple(
        PersonHours(person_id, name, sums[person_id, True], sums[person_id, False])
        for person_id, name in names.items()
        if person_id in worked
    )


def _earlier(
    connection: sqlite3.Connection, weeks: list[IsoWeek], zone: str, now_us: int
) -> tuple[WeekTotal, ...]:
    if not weeks:
        return ()
    worked = by_person(connection, [week.bounds_us(zone) for week in weeks], now_us)
    sums = _sums((one.number, one.attended, one.us) for one in worked)
    return tuple(
        WeekTotal(week, sums[number, True], sums[number, False]) for number, week in enumerate(weeks)
    )


def _estimates(finished: Iterable[_Finished], cells: Iterable[WorkedOn]) -> tuple[TaskEstimate, ...]:
    """One line a task name, most time this week first. A task finished without time says nothing here."""
    in_week: defaultdict[str, int] = defaultdict(int)
    for cell in cells:
        in_week[cell.task] += cell.us
    jobs: defaultdict[str, list[_Finished]] = defaultdict(list)
    for job in finished:
        if job.spent_us:
            jobs[job.task].append(job)
    lines = [_estimate(task, done, in_week[task]) for task, done in jobs.items()]
    return tuple(sorted(lines, key=lambda line: (-line.week_us, line.task)))


def _estimate(task: str, jobs: list[_Finished], week_us: int) -> TaskEstimate:
    spent = spread([job.spent_us for job in jobs if job.spent_us])
    assert spent is not None  # a name is here because it has a job
    route_tasks = [job.route_task_id for job in jobs if job.route_task_id is not None]
    route_minutes = [job.route_minutes for job in jobs if job.route_minutes is not None]
    return TaskEstimate(
        task=task,
        count=spent.count,
        estimate_minutes=route_minutes[-1] if route_minutes else jobs[-1].estimate_minutes,
        median_us=spent.median_us,
        p80_us=spent.p80_us,
        week_us=week_us,
        route_task_ids=tuple(sorted(set(route_tasks))),
    )


def _sums(parts: Iterable[tuple[object, bool, int]]) -> defaultdict[tuple[object, bool], int]:
    sums: defaultdict[tuple[object, bool], int] = defaultdict(int)
    for key, attended, us in parts:
        sums[key, attended] += us
    return sums
