"""Timers: one hands-on task a person, no gap or overlap, no negative length, gates in the use case itself."""

from __future__ import annotations

import sqlite3
from itertools import pairwise

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bench.desk import Desk
from bench.domain.safety import OPENING, OPENING_ITEMS
from bench.errors import BadInput, BatteryFirst, CellAlarm, NotFound, OutOfStock, Refused
from bench.views.queue import read_queue
from bench.views.stock import read_stock
from bench.views.unit import read_unit
from bench.work.moves import hold_unit
from bench.work.safety import go_on_without, report_cell, tick
from bench.work.shop import add_person
from bench.work.stock import restock
from bench.work.timers import (
    finish_task,
    reopen_task,
    skip_task,
    start_task,
    stop_entry,
    stop_person,
)
from bench.work.units import add_unit
from tests.clocks import MINUTE_US, HandSetClock


@pytest.fixture
def unit_id(desk: Desk) -> int:
    return add_unit(desk, maker="Invented", model="One", route_id=1).unit_id


def tasks_of(desk: Desk, unit_id: int) -> dict[str, int]:
    return {task.name: task.task_id for task in read_unit(desk, unit_id).tasks}


def first_with(desk: Desk, unit_id: int, **wanted: object) -> int:
    tasks = read_unit(desk, unit_id).tasks
    return next(t.task_id for t in tasks if all(getattr(t, key) == value for key, value in wanted.items()))


def attended_tasks(desk: Desk, unit_id: int) -> list[int]:
    return [t.task_id for t in read_unit(desk, unit_id).tasks if not t.unattended and not t.lid_off]


def entries(desk: Desk) -> list[tuple[int, int | None]]:
    with desk.store.read() as connection:
        rows = connection.execute("SELECT started_us, stopped_us FROM time_entry ORDER BY id").fetchall()
    return [(row["started_us"], row["stopped_us"]) for row in rows]


def tick_opening(desk: Desk, unit_id: int) -> None:
    tick(desk, unit_id, OPENING, list(OPENING_ITEMS))


def test_switching_leaves_neither_gap_nor_overlap(desk: Desk, clock: HandSetClock, unit_id: int) -> None:
    first, second = attended_tasks(desk, unit_id)[:2]
    start_task(desk, first)
    clock.advance(minutes=25)
    started = start_task(desk, second)
    (a, b) = entries(desk)
    assert a == (started.at_us - 25 * MINUTE_US, started.at_us)
    assert b == (started.at_us, None)
    assert len(started.stopped) == 1


def test_unattended_tasks_run_beside_an_attended_one(desk: Desk, unit_id: int) -> None:
    start_task(desk, first_with(desk, unit_id, unattended=True))
    start_task(desk, attended_tasks(desk, unit_id)[0])
    assert [entry.attended for entry in read_queue(desk).running()] == [False, True]


def test_two_people_may_work_on_one_task(desk: Desk, unit_id: int) -> None:
    task_id = attended_tasks(desk, unit_id)[0]
    other = desk.as_person(add_person(desk, "Bo"))
    start_task(desk, task_id)
    start_task(other, task_id)
    assert {entry.person for entry in read_queue(desk).running()} == {"Ada", "Bo"}


@pytest.mark.parametrize("unattended", [True, False])
def test_a_task_does_not_run_twice(desk: Desk, unit_id: int, unattended: bool) -> None:
    task_id = first_with(desk, unit_id, unattended=unattended, lid_off=False)
    start_task(desk, task_id)
    with pytest.raises(Refused, match="running already"):
        start_task(desk, task_id)
    assert len(entries(desk)) == 1


def test_stop_by_person_and_by_entry(desk: Desk, clock: HandSetClock, unit_id: int) -> None:
    with pytest.raises(NotFound):
        stop_person(desk)
    started = start_task(desk, attended_tasks(desk, unit_id)[0])
    clock.advance(minutes=7)
    stopped = stop_person(desk)
    assert (stopped.entry_id, stopped.length_us, stopped.clock_note) == (started.entry_id, 7 * MINUTE_US, "")
    with pytest.raises(Refused, match="already"):
        stop_entry(desk, started.entry_id)
    with pytest.raises(NotFound):
        stop_entry(desk, 999)


def test_a_clock_set_back_gives_no_negative_length_and_is_told(
    desk: Desk, clock: HandSetClock, unit_id: int
) -> None:
    started = start_task(desk, attended_tasks(desk, unit_id)[0])
    clock.start_anew()
    clock.set_wall(clock.wall_us - 90 * MINUTE_US)
    stopped = stop_entry(desk, started.entry_id)
    assert stopped.length_us == 0
    assert "1 h 30" in stopped.clock_note


def test_a_small_step_back_is_bridged_and_a_large_one_refused(
    desk: Desk, clock: HandSetClock, unit_id: int
) -> None:
    first, second = attended_tasks(desk, unit_id)[:2]
    start_task(desk, first)
    clock.advance(minutes=30)
    stopped_us = clock.now_us()
    stop_person(desk)
    clock.set_wall(stopped_us - 2 * MINUTE_US)
    assert start_task(desk, second).at_us == stopped_us
    stop_person(desk)
    clock.set_wall(stopped_us - 20 * MINUTE_US)
    with pytest.raises(Refused, match="clock"):
        start_task(desk, first)


def test_lid_off_work_waits_for_the_opening_list(desk: Desk, unit_id: int) -> None:
    lid_off = first_with(desk, unit_id, lid_off=True, opens=False)
    with pytest.raises(BatteryFirst, match="Battery disconnected") as refusal:
        start_task(desk, lid_off)
    assert refusal.value.unit_id == unit_id
    with pytest.raises(BatteryFirst):
        finish_task(desk, lid_off, uses={})
    tick(desk, unit_id, OPENING, [item for item in OPENING_ITEMS if item != "battery_out"])
    with pytest.raises(BatteryFirst):
        start_task(desk, lid_off)
    tick(desk, unit_id, OPENING, ["battery_out"])
    assert start_task(desk, lid_off).unit_id == unit_id
    assert read_unit(desk, unit_id).safety.lid_off


def test_going_on_without_the_list_needs_a_reason(desk: Desk, unit_id: int) -> None:
    lid_off = first_with(desk, unit_id, lid_off=True)
    with pytest.raises(BadInput):
        go_on_without(desk, unit_id, OPENING, "   ")
    with pytest.raises(BatteryFirst):
        start_task(desk, lid_off)
    go_on_without(desk, unit_id, OPENING, "the pack was out when it came")
    assert start_task(desk, lid_off).unit_id == unit_id


def test_a_bad_cell_and_a_hold_stop_work(desk: Desk, unit_id: int) -> None:
    task_id = attended_tasks(desk, unit_id)[0]
    hold_unit(desk, unit_id, "part on order")
    with pytest.raises(Refused, match="part on order"):
        start_task(desk, task_id)
    report_cell(desk, unit_id, "wet")
    with pytest.raises(CellAlarm):
        start_task(desk, task_id)


def test_finishing_issues_what_the_route_says_in_one_step(
    desk: Desk, clock: HandSetClock, unit_id: int
) -> None:
    tick_opening(desk, unit_id)
    task = next(t for t in read_unit(desk, unit_id).tasks if t.uses and t.lid_off)
    start_task(desk, task.task_id)
    clock.advance(minutes=12)
    with pytest.raises(OutOfStock):
        finish_task(desk, task.task_id)
    assert read_unit(desk, unit_id).tasks[0].state == "todo"
    assert read_queue(desk).running()
    for use in task.uses:
        restock(desk, use.consumable_id, packs_text="1", price_text="10")
    before = {line.consumable_id: line.on_hand for line in read_stock(desk).lines}
    finished = finish_task(desk, task.task_id)
    after = {line.consumable_id: line.on_hand for line in read_stock(desk).lines}
    assert {one.consumable_id: one.quantity for one in finished.issued} == {
        use.consumable_id: use.quantity for use in task.uses
    }
    for use in task.uses:
        assert after[use.consumable_id] == before[use.consumable_id] - use.quantity
    assert not read_queue(desk).running()
    assert read_unit(desk, unit_id).consumables_minor > 0


def test_numbers_typed_at_finishing_win_over_the_route(desk: Desk, unit_id: int) -> None:
    tick_opening(desk, unit_id)
    task = next(t for t in read_unit(desk, unit_id).tasks if t.uses and t.lid_off)
    use = task.uses[0]
    restock(desk, use.consumable_id, packs_text="1")
    start_task(desk, task.task_id)
    finished = finish_task(desk, task.task_id, uses={use.consumable_id: 3000, task.uses[1].consumable_id: 0})
    assert [(one.consumable_id, one.quantity) for one in finished.issued] == [(use.consumable_id, 3000)]


def test_skip_and_reopen(desk: Desk, unit_id: int) -> None:
    task_id = attended_tasks(desk, unit_id)[0]
    start_task(desk, task_id)
    with pytest.raises(BadInput):
        skip_task(desk, task_id, "")
    skip_task(desk, task_id, "came clean")
    task = read_unit(desk, unit_id).tasks[0]
    assert (task.state, task.skip_reason, task.running) == ("skipped", "came clean", ())
    for again in (start_task, finish_task):
        with pytest.raises(Refused, match="skipped already"):
            again(desk, task_id)
    with pytest.raises(Refused):
        skip_task(desk, task_id, "twice")
    reopen_task(desk, task_id)
    assert read_unit(desk, unit_id).tasks[0].state == "todo"
    with pytest.raises(Refused):
        reopen_task(desk, task_id)


def test_stage_clear_only_when_nothing_is_left_there(desk: Desk, unit_id: int) -> None:
    sheet = read_unit(desk, unit_id)
    here = [task for task in sheet.tasks if task.stage_id == sheet.stage_id]
    answers = [finish_task(desk, task.task_id, uses={}).stage_clear for task in here]
    assert answers == [False] * (len(here) - 1) + [True]


def test_the_database_itself_refuses_overlap(desk: Desk, clock: HandSetClock, unit_id: int) -> None:
    task_id = attended_tasks(desk, unit_id)[0]
    start_task(desk, task_id)
    clock.advance(minutes=10)
    stop_person(desk)
    with sqlite3.connect(desk.store.path) as connection:
        for lo, hi in ((-5, 5), (2, 3), (-5, 15), (5, 15)):
            base_us = clock.now_us() - 10 * MINUTE_US
            row = (task_id, base_us + lo * MINUTE_US, base_us + hi * MINUTE_US)
            with pytest.raises(sqlite3.IntegrityError, match="one hands-on task"):
                connection.execute(
                    "INSERT INTO time_entry (task_id, person_id, started_us, stopped_us, attended, note) "
                    "VALUES (?, 1, ?, ?, 1, '')",
                    row,
                )
    connection.close()


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(steps=st.lists(st.tuples(st.integers(0, 2), st.integers(0, 300)), min_size=1, max_size=8))
def test_any_order_of_starts_keeps_entries_apart(
    desk: Desk, clock: HandSetClock, steps: list[tuple[int, int]]
) -> None:
    unit_id = add_unit(desk, maker="Invented", model="Any", route_id=1).unit_id
    tasks = attended_tasks(desk, unit_id)[:3]
    for which, minutes in steps:
        running = read_queue(desk).running()
        if running and running[0].task_id == tasks[which]:
            stop_person(desk)
        else:
            start_task(desk, tasks[which])
        clock.advance(minutes=minutes)
    spans = sorted((start, stop or clock.now_us()) for start, stop in entries(desk))
    assert all(earlier[1] <= later[0] for earlier, later in pairwise(spans))
    assert all(start <= stop for start, stop in spans)
    if read_queue(desk).running():
        stop_person(desk)
