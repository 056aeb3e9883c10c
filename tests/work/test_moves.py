"""Moving asks about unfinished tasks, and about the closing checklist when the cover goes on."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.domain.safety import (
    BEFORE_THE_COVER,
    CLOSING,
    CLOSING_ITEMS,
    OPENING,
    OPENING_ITEMS,
    WITH_THE_COVER_OFF,
)
from bench.errors import BadInput, BatteryFirst, ClosingFirst, NotFound, Refused, TasksOpen
from bench.views.queue import read_queue
from bench.views.routes import read_routes
from bench.views.stock import read_stock
from bench.views.tasks import next_stage_of, previous_stage_of
from bench.views.unit import read_unit
from bench.work.moves import hold_unit, move_unit, release_unit
from bench.work.safety import go_on_without, report_cell, tick
from bench.work.stock import restock
from bench.work.timers import start_task
from bench.work.units import add_unit
from tests.clocks import HandSetClock
from tests.work.looked_into import looked_into


def stage(desk: Desk, name: str) -> int:
    return next(one.stage_id for one in read_queue(desk).stages if one.name == name)


def bare(desk: Desk) -> int:
    return looked_into(desk, add_unit(desk, maker="", model="Bare").unit_id)


def test_unfinished_tasks_are_asked_about_and_nothing_moves(desk: Desk) -> None:
    unit_id = looked_into(desk, add_unit(desk, maker="", model="Full", route_id=1).unit_id)
    with pytest.raises(TasksOpen) as question:
        move_unit(desk, unit_id, stage(desk, "inspected"))
    here = [task for task in read_unit(desk, unit_id).tasks if task.stage == "received"]
    assert question.value.tasks == tuple((task.task_id, task.name) for task in here)
    assert read_unit(desk, unit_id).stage == "received"


def test_marking_done_finishes_and_skipping_needs_a_reason(desk: Desk) -> None:
    unit_id = looked_into(desk, add_unit(desk, maker="", model="Full", route_id=1).unit_id)
    with pytest.raises(BadInput):
        move_unit(desk, unit_id, stage(desk, "inspected"), open_tasks="skip")
    moved = move_unit(desk, unit_id, stage(desk, "inspected"), open_tasks="skip", reason="seen before")
    assert (moved.from_stage, moved.to_stage, moved.skipped) == ("received", "inspected", 1)
    tick(desk, unit_id, OPENING, list(OPENING_ITEMS))
    moved = move_unit(desk, unit_id, stage(desk, "opened"), open_tasks="done")
    assert moved.finished == 2
    states = {task.stage: task.state for task in read_unit(desk, unit_id).tasks}
    assert (states["received"], states["inspected"], states["opened"]) == ("skipped", "done", "todo")


def test_marking_done_issues_and_says_what_ran_low(desk: Desk, clock: HandSetClock) -> None:
    unit_id = looked_into(desk, add_unit(desk, maker="", model="Full", route_id=1).unit_id)
    for line in read_stock(desk).lines:
        restock(desk, line.consumable_id, packs_text="1")
    tick(desk, unit_id, OPENING, list(OPENING_ITEMS))
    move_unit(desk, unit_id, stage(desk, "opened"), open_tasks="done")
    before = {line.name: line.on_hand for line in read_stock(desk).lines}
    move_unit(desk, unit_id, stage(desk, "cleaned"), open_tasks="done")
    after = {line.name: line.on_hand for line in read_stock(desk).lines}
    uses = [u for t in read_unit(desk, unit_id).tasks if t.stage == "opened" for u in t.uses]
    assert uses
    assert all(after[use.name] == before[use.name] - use.quantity for use in uses)


def test_marking_lid_off_tasks_done_obeys_battery_first(desk: Desk) -> None:
    unit_id = looked_into(desk, add_unit(desk, maker="", model="Full", route_id=1).unit_id)
    with pytest.raises(BatteryFirst):
        move_unit(desk, unit_id, stage(desk, "cleaned"), open_tasks="done")
    assert read_unit(desk, unit_id).stage == "received"


def test_the_lid_goes_on_only_after_the_close_up_list(desk: Desk) -> None:
    unit_id = bare(desk)
    with pytest.raises(BatteryFirst, match="Shut down") as asked:
        move_unit(desk, unit_id, stage(desk, "opened"))
    assert asked.value.items == tuple(BEFORE_THE_COVER)
    tick(desk, unit_id, OPENING, list(BEFORE_THE_COVER), screws=10)
    move_unit(desk, unit_id, stage(desk, "opened"))
    assert not read_unit(desk, unit_id).safety.alarm
    assert not read_queue(desk).row(unit_id).battery_alarm  # type: ignore[union-attr]
    tick(desk, unit_id, OPENING, list(WITH_THE_COVER_OFF))
    assert not read_unit(desk, unit_id).safety.alarm
    for target in ("closed", "inspected", "sold"):
        with pytest.raises(ClosingFirst, match="Screws"):
            move_unit(desk, unit_id, stage(desk, target))
    move_unit(desk, unit_id, stage(desk, "refitted"))
    tick(desk, unit_id, CLOSING, list(CLOSING_ITEMS), screws=10)
    move_unit(desk, unit_id, stage(desk, "closed"))
    safety = read_unit(desk, unit_id).safety
    assert not safety.lid_off
    assert not any(line.person for line in (*safety.opening, *safety.closing))


def test_a_second_opening_starts_with_a_bare_list(desk: Desk) -> None:
    unit_id = bare(desk)
    tick(desk, unit_id, OPENING, list(OPENING_ITEMS))
    move_unit(desk, unit_id, stage(desk, "opened"))
    go_on_without(desk, unit_id, CLOSING, "donor, stays open in a box")
    move_unit(desk, unit_id, stage(desk, "closed"))
    with pytest.raises(BatteryFirst):
        move_unit(desk, unit_id, stage(desk, "opened"))


def test_next_passes_over_lid_off_stages_without_work(desk: Desk) -> None:
    lead = next(route for route in read_routes(desk) if "lead" in route.name)
    unit_id = add_unit(desk, maker="", model="Lead job", route_id=lead.route_id).unit_id
    looked_into(desk, unit_id)
    seen = []
    while (to_stage := next_stage_of(desk, unit_id)) is not None:
        move_unit(desk, unit_id, to_stage, open_tasks="skip", reason="test")
        seen.append(read_unit(desk, unit_id).stage)
    assert not {"opened", "cleaned", "refitted"} & set(seen)
    assert seen[-1] == "sold"


def test_next_and_previous_at_the_ends(desk: Desk) -> None:
    unit_id = bare(desk)
    assert previous_stage_of(desk, unit_id) is None
    assert next_stage_of(desk, unit_id) == stage(desk, "inspected")
    move_unit(desk, unit_id, stage(desk, "sold"))
    assert next_stage_of(desk, unit_id) is None
    assert previous_stage_of(desk, unit_id) == stage(desk, "listed")


def test_moving_nowhere_or_to_no_stage(desk: Desk) -> None:
    unit_id = bare(desk)
    with pytest.raises(Refused, match="already"):
        move_unit(desk, unit_id, stage(desk, "received"))
    with pytest.raises(NotFound):
        move_unit(desk, unit_id, 999)
    with pytest.raises(NotFound):
        move_unit(desk, 999, 1)


def test_hold_stops_attended_timers_and_lets_unattended_run(desk: Desk) -> None:
    unit_id = looked_into(desk, add_unit(desk, maker="", model="Full", route_id=1).unit_id)
    tasks = read_unit(desk, unit_id).tasks
    start_task(desk, next(t.task_id for t in tasks if t.unattended))
    start_task(desk, tasks[0].task_id)
    hold_unit(desk, unit_id, "hinge on order")
    assert [timer.attended for timer in read_queue(desk).running()] == [False]
    assert read_queue(desk).row(unit_id).held == "hinge on order"  # type: ignore[union-attr]
    with pytest.raises(Refused, match="already"):
        hold_unit(desk, unit_id, "again")
    with pytest.raises(Refused, match="Release"):
        move_unit(desk, unit_id, stage(desk, "sold"))
    release_unit(desk, unit_id)
    with pytest.raises(Refused, match="not on hold"):
        release_unit(desk, unit_id)


def test_a_unit_held_for_its_cell_is_not_released_by_that_key(desk: Desk) -> None:
    unit_id = bare(desk)
    report_cell(desk, unit_id, "swollen")
    with pytest.raises(Refused, match="cell"):
        release_unit(desk, unit_id)


def test_a_unit_that_leaves_takes_no_running_timer_along(desk: Desk) -> None:
    unit_id = looked_into(desk, add_unit(desk, maker="", model="Full", route_id=1).unit_id)
    start_task(desk, read_unit(desk, unit_id).tasks[0].task_id)
    move_unit(desk, unit_id, stage(desk, "sold"), open_tasks="skip", reason="sold as seen")
    assert not read_queue(desk).running()
    assert read_queue(desk).row(unit_id) is None
    with pytest.raises(Refused, match="skipped"):
        start_task(desk, read_unit(desk, unit_id).tasks[0].task_id)
