"""The first screen's data: who times what, units under their stages, flags, this week's days."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from bench.desk import Desk
from bench.domain.party import PartyTyped
from bench.domain.safety import BEFORE_THE_COVER, OPENING, OPENING_ITEMS
from bench.domain.ways_out import HANDED_BACK, KEPT, SCRAPPED, SOLD
from bench.views.queue import read_queue
from bench.views.stock import read_stock
from bench.views.unit import read_unit
from bench.work.leaving import leave_unit
from bench.work.moves import hold_unit, move_unit
from bench.work.safety import report_cell, tick, untick
from bench.work.shop import add_person
from bench.work.stock import restock
from bench.work.timers import finish_task, start_task, stop_person
from bench.work.units import add_unit
from tests.clocks import MINUTE_US, HandSetClock
from tests.work.sale_steps import sell, stocked, trading


def test_an_empty_queue_still_lists_every_stage(desk: Desk) -> None:
    view = read_queue(desk)
    assert [stage.name for stage in view.stages][:3] == ["received", "inspected", "opened"]
    assert all(stage.rows == () for stage in view.stages)
    assert [person.name for person in view.people] == ["Ada"]
    assert len(view.week) == 7


def test_a_row_tells_what_comes_next_and_what_was_spent(desk: Desk, clock: HandSetClock) -> None:
    unit_id = add_unit(desk, maker="Invented", model="One", route_id=1).unit_id
    tasks = read_unit(desk, unit_id).tasks
    start_task(desk, tasks[0].task_id)
    clock.advance(minutes=20)
    finish_task(desk, tasks[0].task_id)
    tick(desk, unit_id, OPENING, list(BEFORE_THE_COVER))
    start_task(desk, tasks[2].task_id)
    clock.advance(minutes=5)
    row = read_queue(desk).row(unit_id)
    assert row is not None
    assert (row.model, row.next_task, row.spent_us) == ("Invented One", tasks[2].name, 20 * MINUTE_US)
    assert not row.next_machine_time
    assert row.estimate_minutes == sum(task.estimate_minutes for task in tasks if not task.unattended)
    assert [(timer.task_id, timer.started_us) for timer in row.running] == [
        (tasks[2].task_id, clock.now_us() - 5 * MINUTE_US)
    ]
    assert read_queue(desk).row(99) is None


def test_today_counts_closed_time_and_the_week_counts_all(desk: Desk, clock: HandSetClock) -> None:
    unit_id = add_unit(desk, maker="", model="One", route_id=1).unit_id
    other = desk.as_person(add_person(desk, "Bo"))
    tasks = read_unit(desk, unit_id).tasks
    start_task(desk, tasks[0].task_id)
    clock.advance(minutes=30)
    stop_person(desk)
    start_task(desk, tasks[0].task_id)
    start_task(other, tasks[1].task_id)
    clock.advance(minutes=12)
    view = read_queue(desk)
    today = view.week[2]
    assert (today.hands_on_us, today.machine_us) == (42 * MINUTE_US, 12 * MINUTE_US)
    assert {person.name: person.today_us for person in view.people} == {"Ada": 30 * MINUTE_US, "Bo": 0}
    assert sum(day.hands_on_us for day in view.week) == 42 * MINUTE_US


def test_an_entry_over_midnight_is_cut_in_the_shops_zone(desk: Desk, clock: HandSetClock) -> None:
    unit_id = add_unit(desk, maker="", model="One", route_id=1).unit_id
    start_task(desk, read_unit(desk, unit_id).tasks[0].task_id)
    clock.advance(minutes=15 * 60)  # 10:00 to 01:00 in Berlin
    view = read_queue(desk)
    hours = [day.hands_on_us // (60 * MINUTE_US) for day in view.week]
    assert hours == [0, 0, 14, 1, 0, 0, 0]
    assert view.people[0].today_us == 0


def test_flags(desk: Desk, clock: HandSetClock) -> None:
    unit_id = add_unit(desk, maker="", model="One", route_id=1, due_text="yesterday").unit_id
    stages = {stage.name: stage.stage_id for stage in read_queue(desk).stages}
    tick(desk, unit_id, OPENING, list(OPENING_ITEMS))
    move_unit(desk, unit_id, stages["opened"], open_tasks="skip", reason="test")
    start_task(desk, next(one.task_id for one in read_unit(desk, unit_id).tasks if one.stage == "opened"))
    clock.advance(minutes=1)
    stop_person(desk)
    untick(desk, unit_id, OPENING, "battery_out")
    row = read_queue(desk).row(unit_id)
    assert row is not None
    assert (row.overdue, row.battery_alarm, row.held, row.cell_finding) == (True, True, None, None)
    tick(desk, unit_id, OPENING, list(OPENING_ITEMS))
    hold_unit(desk, unit_id, "hinge")
    row = read_queue(desk).row(unit_id)
    assert row is not None
    assert (row.battery_alarm, row.held) == (False, "hinge")
    report_cell(desk, unit_id, "swollen")
    assert read_queue(desk).row(unit_id).cell_finding == "swollen"  # type: ignore[union-attr]


def test_short_of_what_the_next_task_takes(desk: Desk) -> None:
    unit_id = add_unit(desk, maker="", model="One", route_id=1).unit_id
    stages = {stage.name: stage.stage_id for stage in read_queue(desk).stages}
    tick(desk, unit_id, OPENING, list(BEFORE_THE_COVER))
    move_unit(desk, unit_id, stages["opened"], open_tasks="skip", reason="test")
    task = next(task for task in read_unit(desk, unit_id).tasks if task.uses)
    for earlier in read_unit(desk, unit_id).tasks:
        if earlier.stage == "opened" and not earlier.uses:
            tick(desk, unit_id, OPENING, list(OPENING_ITEMS))
            finish_task(desk, earlier.task_id)
    names = {use.name for use in task.uses}
    assert set(read_queue(desk).row(unit_id).short_of) == names  # type: ignore[union-attr]
    for line in read_stock(desk).lines:
        restock(desk, line.consumable_id, packs_text="1")
    assert read_queue(desk).row(unit_id).short_of == ()  # type: ignore[union-attr]


def test_due_units_come_first(desk: Desk) -> None:
    for model, due in (("late", "+9"), ("none", ""), ("soon", "+1")):
        add_unit(desk, maker="", model=model, due_text=due)
    assert [row.model for row in read_queue(desk).stages[0].rows] == ["soon", "late", "none"]


def test_the_number_of_statements_does_not_grow_with_the_queue(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    def statements() -> int:
        seen: list[str] = []
        plain = desk.store.read

        @contextmanager
        def watched() -> Iterator[sqlite3.Connection]:
            with plain() as connection:
                connection.set_trace_callback(seen.append)
                yield connection
                connection.set_trace_callback(None)

        with monkeypatch.context() as patch:
            patch.setattr(desk.store, "read", watched)
            read_queue(desk)
        return len(seen)

    few = statements()
    for number in range(25):
        add_unit(desk, maker="", model=f"Unit {number}", route_id=1)
    assert statements() == few
    assert 0 < few <= 15


def test_the_ways_out_are_told_apart(desk: Desk) -> None:
    """One sold, two scrapped, one kept, an owner's handed back; a scrapped one that came in again is not."""
    trading(desk)
    ids = [stocked(desk) for _ in range(5)]
    sell(desk, ids[0], shipping_text="0")
    for unit_id, way in zip(ids[1:], (SCRAPPED, SCRAPPED, KEPT, SCRAPPED), strict=True):
        leave_unit(desk, unit_id, way=way, reason="x")
    move_unit(desk, ids[4], read_queue(desk).stages[0].stage_id)
    owners = add_unit(desk, maker="", model="M", owner=PartyTyped("An owner")).unit_id
    leave_unit(desk, owners, way=HANDED_BACK, reason="repaired")
    *working, last = read_queue(desk).stages
    assert (last.count, last.ways) == (5, ((SOLD, 1), (HANDED_BACK, 1), (KEPT, 1), (SCRAPPED, 2)))
    assert {stage.ways for stage in working} == {()}
