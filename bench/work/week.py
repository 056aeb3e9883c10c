"""Read one week: hours by day, stage and person, the weeks before it, units sold, estimates."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Mapping

from bench.desk import Desk
from bench.domain.localtime import FIRST_YEAR
from bench.domain.queue import DayHours
from bench.domain.statistics_of_work import spread
from bench.domain.unit_sheet import EntryLine
from bench.domain.week_sheet import PersonHours, StageHours, TaskEstimate, WeekSheet, WeekTotal
from bench.domain.weeks import IsoWeek, day_bounds_us
from bench.views import week as reads
from bench.views.units_sold import read_repairs, units_sold
from bench.work.queue import read_shop_facts

WEEKS_BEFORE = 8

Cells = list[sqlite3.Row]


def read_week(desk: Desk, week: IsoWeek | None = None) -> WeekSheet:
    """The week's sheet in one snapshot; without a week, the one it is now in the shop's zone.

    Every figure is in whole microseconds and all are sums of the same cells, so that days, stages and people
    add up to the same total.
    """
    now_us = desk.clock.now_us()
    with desk.store.read() as connection:
        shop = read_shop_facts(connection)
        week = week or IsoWeek.at(now_us, shop.zone)
        bounds_us = week.bounds_us(shop.zone)
        days = [day_bounds_us(day, shop.zone) for day in week.days()]
        cells = reads.cells(connection, days, now_us)
        before = _weeks_before(week)
        sold = units_sold(connection, week.days()[0], week.days()[-1])[0]
        since_us = before[0].bounds_us(shop.zone)[0] if before else bounds_us[0]
        return WeekSheet(
            week=week,
            shop=shop.name,
            currency=shop.currency,
            zone=shop.zone,
            read_us=now_us,
            days=_days(week, cells),
            stages=_stages(cells, reads.stage_names(connection)),
            people=_people(cells, reads.person_names(connection)),
            earlier=_earlier(connection, before, shop.zone, now_us),
            sold=tuple(sorted(sold, key=lambda one: (one.sold_on, one.unit_id))),
            repairs=read_repairs(connection, bounds_us),
            estimates=_estimates(reads.finished(connection, (since_us, bounds_us[1])), cells),
            entries=tuple(entry_from(row) for row in reads.entries(connection, bounds_us, now_us)),
        )


def entry_from(row: sqlite3.Row) -> EntryLine:
    """A row of time entries as a value."""
    values = dict(row)
    values["attended"], values["corrected"] = bool(row["attended"]), bool(row["corrected"])
    return EntryLine(**values)


def _weeks_before(week: IsoWeek) -> list[IsoWeek]:
    """The eight weeks before, oldest first; none where the calendar of this program begins."""
    if week.year == FIRST_YEAR:
        return []
    return [week.previous(n) for n in range(WEEKS_BEFORE, 0, -1)]


def _days(week: IsoWeek, cells: Cells) -> tuple[DayHours, ...]:
    sums = _sums((cell["number"], cell["attended"], cell["us"]) for cell in cells)
    return tuple(DayHours(day, sums[number, 1], sums[number, 0]) for number, day in enumerate(week.days()))


def _stages(cells: Cells, names: Mapping[int, str]) -> tuple[StageHours, ...]:
    """The stages that have time in the week, in the order units pass them."""
    sums = _sums(((cell["stage_id"], cell["number"]), cell["attended"], cell["us"]) for cell in cells)
    worked = {cell["stage_id"] for cell in cells}
    return tuple(
        StageHours(
            stage=name,
            attended_us=tuple(sums[(stage_id, day), 1] for day in range(7)),
            unattended_us=tuple(sums[(stage_id, day), 0] for day in range(7)),
        )
        for stage_id, name in names.items()
        if stage_id in worked
    )


def _people(cells: Cells, names: Mapping[int, str]) -> tuple[PersonHours, ...]:
    """The people who have time in the week, by name."""
    sums = _sums((cell["person_id"], cell["attended"], cell["us"]) for cell in cells)
    worked = {cell["person_id"] for cell in cells}
    return tuple(
        PersonHours(person_id, name, sums[person_id, 1], sums[person_id, 0])
        for person_id, name in names.items()
        if person_id in worked
    )


def _earlier(
    connection: sqlite3.Connection, weeks: list[IsoWeek], zone: str, now_us: int
) -> tuple[WeekTotal, ...]:
    if not weeks:
        return ()
    totals = reads.totals(connection, [week.bounds_us(zone) for week in weeks], now_us)
    return tuple(
        WeekTotal(week, totals.get((number, True), 0), totals.get((number, False), 0))
        for number, week in enumerate(weeks)
    )


def _estimates(finished: list[sqlite3.Row], cells: Cells) -> tuple[TaskEstimate, ...]:
    """One line a task name, most time this week first. A task finished without time says nothing here."""
    in_week: defaultdict[str, int] = defaultdict(int)
    for cell in cells:
        in_week[cell["task"]] += cell["us"]
    jobs: defaultdict[str, list[sqlite3.Row]] = defaultdict(list)
    for row in finished:
        if row["spent_us"]:
            jobs[row["task"]].append(row)
    lines = [_estimate(task, rows, in_week[task]) for task, rows in jobs.items()]
    return tuple(sorted(lines, key=lambda line: (-line.week_us, line.task)))


def _estimate(task: str, rows: list[sqlite3.Row], week_us: int) -> TaskEstimate:
    spent = spread([row["spent_us"] for row in rows])
    assert spent is not None  # a name is here because it has a job
    on_route = [row for row in rows if row["route_task_id"] is not None]
    estimate_minutes = on_route[-1]["route_minutes"] if on_route else rows[-1]["estimate_minutes"]
    return TaskEstimate(
        task=task,
        count=spent.count,
        estimate_minutes=estimate_minutes,
        median_us=spent.median_us,
        p80_us=spent.p80_us,
        week_us=week_us,
        route_task_ids=tuple(sorted({row["route_task_id"] for row in on_route})),
    )


def _sums(parts: Iterable[tuple[object, int, int]]) -> defaultdict[tuple[object, int], int]:
    sums: defaultdict[tuple[object, int], int] = defaultdict(int)
    for key, attended, us in parts:
        sums[key, attended] += us
    return sums
