"""Routes: those a shop begins with hold together, and every change counts for units to come only."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.desk import Desk
from bench.domain.starting_set import CONSUMABLES_AT_START, ROUTES_AT_START, STAGES_AT_START
from bench.errors import BadInput, NotFound, Refused
from bench.views.routes import RouteSheet, RouteTaskLine, read_route, read_routes
from bench.views.unit import read_unit
from bench.work.moves import move_unit
from bench.work.route_tasks import (
    add_route,
    add_route_task,
    copy_route,
    edit_route_task,
    remove_route,
    remove_route_task,
    rename_route,
    reorder_route_task,
    set_route_use,
    take_estimates,
)
from bench.work.undo import undo
from bench.work.units import add_unit
from tests.work.bookkeeping import PASTE, WIPES, footprint
from tests.work.looked_into import looked_into

FULL = 1
RECEIVED, INSPECTED, SOLD = 1, 2, 10
PLAIN = {"stage_id": INSPECTED, "estimate_text": "10", "unattended": False, "lid_off": False}


def task_names(desk: Desk, route_id: int) -> list[str]:
    return [task.name for task in read_route(desk, route_id).tasks]


def added(desk: Desk, route_id: int, name: str, **more: object) -> int:
    return add_route_task(desk, route_id, name=name, **{**PLAIN, **more})  # type: ignore[arg-type]


@pytest.fixture
def route_id(desk: Desk) -> int:
    return add_route(desk, "own way")


@pytest.mark.parametrize("name", list(ROUTES_AT_START))
def test_a_starting_route_holds_together(desk: Desk, name: str) -> None:
    line = next(line for line in read_routes(desk) if line.name == name)
    sheet = read_route(desk, line.route_id)
    given = ROUTES_AT_START[name]
    lids = {stage.name: stage.lid_off for stage in STAGES_AT_START}
    order = [stage.name for stage in STAGES_AT_START]
    known = {consumable.name for consumable in CONSUMABLES_AT_START}
    assert [task.name for task in sheet.tasks] == [task.name for task in given]
    assert [task.stage for task in sheet.tasks] == sorted((t.stage for t in given), key=order.index)
    assert all(lids[task.stage] for task in sheet.tasks if task.lid_off and not task.opens)
    assert {use.name for task in sheet.tasks for use in task.uses} <= known
    assert line.hands_on_minutes == sheet.hands_on_minutes > 0
    assert line.machine_minutes == sheet.machine_minutes
    assert line.hands_on_minutes + line.machine_minutes == sum(task.estimate_minutes for task in given)
    assert (line.tasks, line.units) == (len(given), 0)


@pytest.mark.parametrize("name", [n for n, tasks in ROUTES_AT_START.items() if any(t.lid_off for t in tasks)])
def test_the_battery_is_disconnected_before_the_first_lid_off_task(name: str) -> None:
    first = next(task for task in ROUTES_AT_START[name] if task.lid_off)
    assert (first.name, first.opens) == ("cover off, disconnect the battery", True)
    assert sum(task.opens for task in ROUTES_AT_START[name]) == 1


def test_a_units_count_while_they_are_in_the_shop(desk: Desk) -> None:
    add_unit(desk, maker="Invented", model="One", route_id=FULL)
    gone = looked_into(desk, add_unit(desk, maker="Invented", model="Two", route_id=FULL).unit_id)
    counts = {line.name: line.units for line in read_routes(desk)}
    assert (counts["full refurbish"], counts["drive swap"]) == (2, 0)
    move_unit(desk, gone, SOLD, open_tasks="skip", reason="sold as it is")
    assert {line.name: line.units for line in read_routes(desk)}["full refurbish"] == 1


def test_a_new_route_is_empty(desk: Desk, route_id: int) -> None:
    sheet = read_route(desk, route_id)
    assert (sheet.name, sheet.tasks, sheet.hands_on_minutes) == ("own way", (), 0)
    line = next(line for line in read_routes(desk) if line.route_id == route_id)
    assert (line.tasks, line.hands_on_minutes, line.machine_minutes) == (0, 0, 0)


@pytest.mark.parametrize("name", ["", "DRIVE swap", "a\x00", "x" * 81])
def test_a_name_that_cannot_be(desk: Desk, route_id: int, name: str) -> None:
    before = footprint(desk)
    with pytest.raises(BadInput):
        add_route(desk, name)
    with pytest.raises(BadInput):
        rename_route(desk, route_id, name)
    with pytest.raises(BadInput):
        copy_route(desk, route_id, name)
    assert footprint(desk) == before


def test_renaming_and_removing(desk: Desk, route_id: int) -> None:
    rename_route(desk, route_id, "[own] way")
    assert read_route(desk, route_id).name == "[own] way"
    remove_route(desk, route_id)
    with pytest.raises(NotFound, match=f"no route with number {route_id}"):
        read_route(desk, route_id)
    with pytest.raises(NotFound):
        rename_route(desk, route_id, "x")
    undo(desk)
    assert read_route(desk, route_id).name == "[own] way"


def test_units_keep_the_tasks_of_a_removed_route(desk: Desk) -> None:
    unit_id = looked_into(desk, add_unit(desk, maker="Invented", model="One", route_id=FULL).unit_id)
    remove_route(desk, FULL)
    assert len(read_unit(desk, unit_id).tasks) == len(ROUTES_AT_START["full refurbish"])


def test_a_copy_has_the_same_tasks_and_a_life_of_its_own(desk: Desk) -> None:
    copy_id = copy_route(desk, FULL, "full, quick")
    original, copy = read_route(desk, FULL), read_route(desk, copy_id)

    def contents(sheet: RouteSheet) -> list[RouteTaskLine]:
        return [replace(task, route_task_id=0) for task in sheet.tasks]

    assert contents(copy) == contents(original)
    remove_route_task(desk, copy.tasks[0].route_task_id)
    assert len(read_route(desk, copy_id).tasks) == len(original.tasks) - 1
    assert contents(read_route(desk, FULL)) == contents(original)


def test_a_removed_task_is_not_copied(desk: Desk) -> None:
    remove_route_task(desk, read_route(desk, FULL).tasks[0].route_task_id)
    copy_id = copy_route(desk, FULL, "shorter")
    assert task_names(desk, copy_id) == task_names(desk, FULL)


def test_tasks_stand_in_the_order_of_the_work(desk: Desk, route_id: int) -> None:
    added(desk, route_id, "one")
    two = added(desk, route_id, "two")
    added(desk, route_id, "early", stage_id=RECEIVED, estimate_text="1:30", unattended=True, lid_off=True)
    assert task_names(desk, route_id) == ["early", "one", "two"]
    early = read_route(desk, route_id).tasks[0]
    assert (early.stage, early.estimate_minutes) == ("received", 90)
    assert (early.unattended, early.lid_off) == (True, True)
    reorder_route_task(desk, two, -1)
    assert task_names(desk, route_id) == ["early", "two", "one"]
    before = footprint(desk)
    reorder_route_task(desk, two, -1)
    assert footprint(desk) == before
    reorder_route_task(desk, two, 5)
    assert task_names(desk, route_id) == ["early", "one", "two"]


@pytest.mark.parametrize(
    "wrong", [{"name": ""}, {"name": "\x1b"}, {"estimate_text": "0"}, {"estimate_text": "NaN"}]
)
def test_what_cannot_be_a_task_changes_nothing(desk: Desk, route_id: int, wrong: dict[str, str]) -> None:
    task_id = added(desk, route_id, "one")
    before = (read_route(desk, route_id), footprint(desk))
    with pytest.raises(BadInput):
        add_route_task(desk, route_id, **{**PLAIN, "name": "two", **wrong})  # type: ignore[arg-type]
    with pytest.raises(BadInput):
        edit_route_task(desk, task_id, **{**PLAIN, "name": "two", **wrong})  # type: ignore[arg-type]
    assert (read_route(desk, route_id), footprint(desk)) == before


def test_tasks_belong_to_stages_at_which_work_is_done(desk: Desk, route_id: int) -> None:
    with pytest.raises(Refused, match="reach sold have left"):
        added(desk, route_id, "too late", stage_id=SOLD)
    with pytest.raises(NotFound, match="no stage"):
        added(desk, route_id, "nowhere", stage_id=99)
    with pytest.raises(NotFound, match="no route"):
        added(desk, 99, "nowhere")


def test_editing_a_task(desk: Desk, route_id: int) -> None:
    added(desk, route_id, "early", stage_id=RECEIVED)
    moved = added(desk, route_id, "one")
    added(desk, route_id, "early too", stage_id=RECEIVED)
    edit_route_task(
        desk, moved, name="one more", stage_id=RECEIVED, estimate_text="7", unattended=True, lid_off=False
    )
    last = read_route(desk, route_id).tasks[-1]
    assert task_names(desk, route_id) == ["early", "early too", "one more"]
    assert (last.estimate_minutes, last.unattended) == (7, True)
    before = footprint(desk)
    edit_route_task(
        desk, moved, name="one more", stage_id=RECEIVED, estimate_text="7", unattended=True, lid_off=False
    )
    assert footprint(desk) == before
    remove_route_task(desk, moved)
    with pytest.raises(NotFound, match="no task of a route"):
        remove_route_task(desk, moved)


def test_what_is_changed_counts_for_units_to_come(desk: Desk, route_id: int) -> None:
    task_id = added(desk, route_id, "one")
    set_route_use(desk, task_id, PASTE, "0.3")
    before = looked_into(desk, add_unit(desk, maker="Invented", model="One", route_id=route_id).unit_id)
    take_estimates(desk, [task_id], 25)
    set_route_use(desk, task_id, PASTE, "0.4")
    after = looked_into(desk, add_unit(desk, maker="Invented", model="Two", route_id=route_id).unit_id)
    old, new = read_unit(desk, before).tasks[0], read_unit(desk, after).tasks[0]
    assert (old.estimate_minutes, old.uses[0].quantity) == (10, 300)
    assert (new.estimate_minutes, new.uses[0].quantity) == (25, 400)


def test_what_a_routes_task_takes(desk: Desk, route_id: int) -> None:
    task_id = added(desk, route_id, "one")
    set_route_use(desk, task_id, PASTE, "0.3")
    set_route_use(desk, task_id, WIPES, "2")
    set_route_use(desk, task_id, PASTE, "0")
    uses = read_route(desk, route_id).tasks[0].uses
    assert [(use.name, use.base_unit, use.quantity) for use in uses] == [("lint-free wipes", "piece", 2_000)]
    before = footprint(desk)
    set_route_use(desk, task_id, PASTE, "")
    with pytest.raises(BadInput):
        set_route_use(desk, task_id, WIPES, "1.5")
    with pytest.raises(NotFound):
        set_route_use(desk, task_id, 99, "1")
    assert footprint(desk) == before


def test_new_estimates_for_the_tasks_that_are_kept(desk: Desk, route_id: int) -> None:
    one, two = added(desk, route_id, "one"), added(desk, route_id, "two")
    remove_route_task(desk, two)
    take_estimates(desk, [one, two, 9999], 33)
    assert [task.estimate_minutes for task in read_route(desk, route_id).tasks] == [33]
    undo(desk)
    assert [task.estimate_minutes for task in read_route(desk, route_id).tasks] == [10]
    with pytest.raises(NotFound, match="No route has that task any more"):
        take_estimates(desk, [two], 33)
    for minutes in (0, -1, 100_001):
        with pytest.raises(BadInput, match="cannot be an estimate"):
            take_estimates(desk, [one], minutes)
