"""Read the first screen: people and their timers, the queue by stage, this week's hours by day."""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from datetime import date

from bench.desk import Desk
from bench.domain.queue import DayHours, PersonNow, QueueRow, QueueStage, QueueView, Running, ShopFacts
from bench.domain.safety import CLOSE_UP, LIST_NAMES, battery_alarm
from bench.domain.ways_out import counted_by_way
from bench.domain.weeks import IsoWeek, day_bounds_us, local_day
from bench.views import queue as reads
from bench.views import week as week_reads


def read_queue(desk: Desk) -> QueueView:
    """Everything of the first screen but the stock, in one snapshot and a fixed number of statements."""
    now_us = desk.clock.now_us()
    with desk.store.read() as connection:
        shop = read_shop_facts(connection)
        timers = tuple(running_from(row) for row in reads.running(connection))
        today = local_day(now_us, shop.zone)
        week = IsoWeek.at(now_us, shop.zone).days()
        parts = week_reads.by_person(connection, [day_bounds_us(day, shop.zone) for day in week], now_us)
        people = reads.people(connection)
        rows = _rows(connection, timers, today)
        ways = reads.ways_out(connection)
        stages = tuple(
            QueueStage(
                stage_id=stage["id"],
                name=stage["name"],
                lid_off=bool(stage["lid_off"]),
                final=bool(stage["final"]),
                count=stage["units"],
                rows=tuple(rows[stage["id"]]),
                ways=counted_by_way(ways.get(stage["id"], {}), stage["units"]) if stage["final"] else (),
            )
            for stage in reads.stages(connection)
        )
    return QueueView(
        read_us=now_us,
        shop=shop,
        people=_people(people, timers, parts, week.index(today), now_us, shop.zone),
        stages=stages,
        week=_week(week, parts),
    )


def read_shop_facts(connection: sqlite3.Connection) -> ShopFacts:
    """The shop's settings as plain values."""
    row = reads.shop(connection)
    return ShopFacts(*(row[field] for field in ShopFacts.__dataclass_fields__))


def running_from(row: sqlite3.Row) -> Running:
    """A row of the running timers as a value."""
    return Running(
        entry_id=row["entry_id"],
        task_id=row["task_id"],
        task=row["task"],
        unit_id=row["unit_id"],
        tag=row["tag"],
        person_id=row["person_id"],
        person=row["person"],
        started_us=row["started_us"],
        attended=bool(row["attended"]),
        estimate_minutes=row["estimate_minutes"],
        kept_us=row["kept_us"],
    )


def alarms_in(connection: sqlite3.Connection) -> frozenset[int]:
    """The units in the queue whose battery is connected where it may not be."""
    return frozenset(unit["id"] for unit in reads.units(connection) if _alarm(unit))


def _alarm(unit: sqlite3.Row) -> bool:
    return battery_alarm(
        cover_off=bool(unit["lid_off"]),
        opening_ticked=json.loads(unit["opening"]),
        close_up_ticked=("battery_in",) if unit["battery_in"] else (),
        worked_inside=bool(unit["worked_inside"]),
    )


def _rows(
    connection: sqlite3.Connection, timers: tuple[Running, ...], today: date
) -> defaultdict[int, list[QueueRow]]:
    next_tasks = reads.next_tasks(connection)
    estimates = reads.estimates(connection)
    spent = reads.spent(connection)
    short = reads.short(connection)
    on_unit: defaultdict[int, list[Running]] = defaultdict(list)
    for timer in timers:
        on_unit[timer.unit_id].append(timer)
    rows: defaultdict[int, list[QueueRow]] = defaultdict(list)
    closing = LIST_NAMES[CLOSE_UP]
    for unit in reads.units(connection):
        coming = next_tasks.get(unit["id"])
        due_on = date.fromisoformat(unit["due_on"]) if unit["due_on"] else None
        rows[unit["stage_id"]].append(
            QueueRow(
                unit_id=unit["id"],
                tag=unit["tag"],
                model=f"{unit['maker']} {unit['model']}".strip(),
                stage_id=unit["stage_id"],
                next_task_id=coming["id"] if coming else None,
                next_task=coming["name"] if coming else closing if unit["lid_off"] else "",
                next_unattended=bool(coming["unattended"]) if coming else False,
                spent_us=spent.get(unit["id"], 0),
                estimate_minutes=estimates.get(unit["id"], 0),
                running=tuple(on_unit.get(unit["id"], ())),
                held=unit["held_reason"],
                due_on=due_on,
                overdue=due_on is not None and due_on < today,
                battery_alarm=_alarm(unit),
                cell_finding=unit["cell_finding"],
                short_of=short.get(coming["id"], ()) if coming else (),
            )
        )
    return rows


def _people(
    people: list[sqlite3.Row],
    timers: tuple[Running, ...],
    parts: list[sqlite3.Row],
    today: int,
    now_us: int,
    zone: str,
) -> tuple[PersonNow, ...]:
    """Today's attended time of each, without what still runs: that ticks on the screen itself."""
    closed = {
        part["person_id"]: part["us"] for part in parts if part["number"] == today and part["attended"] == 1
    }
    midnight_us = day_bounds_us(local_day(now_us, zone), zone)[0]
    answer = []
    for person in people:
        own = tuple(timer for timer in timers if timer.person_id == person["id"])
        ticking = sum(max(0, now_us - max(timer.started_us, midnight_us)) for timer in own if timer.attended)
        answer.append(
            PersonNow(person["id"], person["name"], own, max(0, closed.get(person["id"], 0) - ticking))
        )
    return tuple(answer)


def _week(days: tuple[date, ...], parts: list[sqlite3.Row]) -> tuple[DayHours, ...]:
    sums: defaultdict[tuple[int, int], int] = defaultdict(int)
    for part in parts:
        sums[part["number"], part["attended"]] += part["us"]
    return tuple(DayHours(day, sums[number, 1], sums[number, 0]) for number, day in enumerate(days))
