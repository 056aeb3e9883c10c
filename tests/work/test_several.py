"""Several at once: all of them or none, each past its gates, told by name, undone as one."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from bench.desk import Desk
from bench.errors import BadInput, NotFound, Refused
from bench.views.journal import read_journal
from bench.views.queue import read_queue
from bench.views.routes import read_routes
from bench.views.shop import read_stages
from bench.views.stock import read_stock
from bench.views.unit import read_unit
from bench.work.check import check_newest
from bench.work.moves import hold_unit
from bench.work.several import (
    Several,
    finish_tasks,
    hold_units,
    move_units_back,
    move_units_on,
    move_units_to,
    release_units,
    reopen_tasks,
    skip_tasks,
)
from bench.work.stock import restock
from bench.work.timers import start_task
from bench.work.undo import redo, undo
from bench.work.units import add_unit
from tests.work.taking_back import kept


@contextmanager
def unchanged(desk: Desk) -> Iterator[None]:
    """What is refused here changes nothing, and writes no line."""
    before, lines = kept(desk), len(read_journal(desk).lines)
    yield
    assert kept(desk) == before
    assert len(read_journal(desk).lines) == lines


@pytest.fixture
def units(desk: Desk) -> list[int]:
    return [add_unit(desk, maker="Fenn", model=f"Model {n}").unit_id for n in range(3)]


@pytest.fixture
def routed(desk: Desk) -> int:
    route = next(one for one in read_routes(desk) if one.name == "full refurbish")
    return add_unit(desk, maker="Fenn", model="Routed", route_id=route.route_id).unit_id


def stage_of(desk: Desk, unit_id: int) -> str:
    return read_unit(desk, unit_id).stage


def tags(desk: Desk, units: list[int]) -> list[str]:
    return [read_unit(desk, one).tag for one in units]


def todo(desk: Desk, unit_id: int, *, tests: bool = False) -> list[int]:
    return [
        task.task_id
        for task in read_unit(desk, unit_id).tasks
        if task.state == "todo" and bool(task.test) == tests and not task.lid_off
    ]


def test_units_move_on_together_in_one_line_and_are_undone_and_redone_as_one(
    desk: Desk, units: list[int]
) -> None:
    before = len(read_journal(desk).lines)
    moved = move_units_on(desk, units)
    assert moved == Several(3, ", ".join(tags(desk, units)), ())
    assert {stage_of(desk, one) for one in units} == {"inspected"}
    assert len(read_journal(desk).lines) == before + 1
    undo(desk)
    assert {stage_of(desk, one) for one in units} == {"received"}
    redo(desk)
    assert {stage_of(desk, one) for one in units} == {"inspected"}
    assert check_newest(desk.store) == ()


def test_such_a_line_stands_in_the_journal_of_each_unit(desk: Desk, units: list[int]) -> None:
    move_units_on(desk, units[:2])
    told = [read_journal(desk, unit_id=one).lines[0].summary for one in units]
    assert told[0] == told[1] == f"Moved {', '.join(tags(desk, units[:2]))} to inspected"
    assert told[2].startswith("Added")


def test_one_that_may_not_move_stops_all_and_is_named(desk: Desk, units: list[int], routed: int) -> None:
    tag = read_unit(desk, routed).tag
    with unchanged(desk), pytest.raises(Refused, match=rf"{tag}.*Nothing was changed of any"):
        move_units_on(desk, [*units, routed])
    assert {stage_of(desk, one) for one in units} == {"received"}


def test_the_opening_checklist_is_nobodys_to_pass_over(desk: Desk, units: list[int]) -> None:
    opened = next(one.stage_id for one in read_stages(desk) if one.lid_off)
    with unchanged(desk), pytest.raises(Refused, match=tags(desk, units)[0]):
        move_units_to(desk, units, opened)


def test_units_move_back_and_their_tasks_are_to_do_again(desk: Desk, units: list[int], routed: int) -> None:
    tasks = [one.task_id for one in read_unit(desk, routed).tasks if one.stage == "received"]
    skip_tasks(desk, tasks, "seen at the door")
    move_units_on(desk, [*units, routed])
    moved = move_units_back(desk, [*units, routed])
    assert moved.count == 4
    assert {stage_of(desk, one) for one in (*units, routed)} == {"received"}
    again = [one.state for one in read_unit(desk, routed).tasks if one.task_id in tasks]
    assert set(again) <= {"todo"}
    with unchanged(desk), pytest.raises(Refused, match="stands at the first stage"):
        move_units_back(desk, units)


def test_units_are_held_for_one_reason_and_released(desk: Desk, units: list[int]) -> None:
    with unchanged(desk), pytest.raises(BadInput, match="reason for holding"):
        hold_units(desk, units, "  ")
    hold_units(desk, units, "no charger")
    assert [read_unit(desk, one).held for one in units] == ["no charger"] * 3
    assert read_journal(desk).lines[0].reason == "no charger"
    release_units(desk, units)
    assert [read_unit(desk, one).held for one in units] == [None] * 3
    undo(desk)
    assert [read_unit(desk, one).held for one in units] == ["no charger"] * 3
    with unchanged(desk), pytest.raises(Refused, match="is on hold already"):
        hold_units(desk, units, "again")


def test_one_that_is_not_on_hold_stops_the_release_of_all(desk: Desk, units: list[int]) -> None:
    hold_unit(desk, units[0], "no charger")
    with unchanged(desk), pytest.raises(Refused, match=rf"{tags(desk, units)[1]} is not on hold"):
        release_units(desk, units[:2])


def test_tasks_are_finished_with_what_they_take_and_undone_as_one(desk: Desk, routed: int) -> None:
    for line in read_stock(desk).lines:
        restock(desk, line.consumable_id, packs_text="1", price_text="10")
    tasks = todo(desk, routed)
    assert len(tasks) > 1
    before = {one.consumable_id: one.on_hand for one in read_stock(desk).lines}
    start_task(desk, tasks[0])
    done = finish_tasks(desk, tasks)
    assert done.count == len(tasks)
    states = {one.task_id: one.state for one in read_unit(desk, routed).tasks}
    assert {states[one] for one in tasks} == {"done"}
    assert read_queue(desk).running() == ()
    assert read_journal(desk).lines[0].unit_id == routed
    undo(desk)
    states = {one.task_id: one.state for one in read_unit(desk, routed).tasks}
    assert {states[one] for one in tasks} == {"todo"}
    assert {one.consumable_id: one.on_hand for one in read_stock(desk).lines} == before


def test_a_test_is_not_finished_without_its_outcome_and_stops_all(desk: Desk, routed: int) -> None:
    test = todo(desk, routed, tests=True)[0]
    with unchanged(desk), pytest.raises(Refused, match=r"is a test.*Nothing was changed"):
        finish_tasks(desk, [*todo(desk, routed)[:1], test])


def test_tasks_are_skipped_for_one_reason_and_reopened(desk: Desk, routed: int) -> None:
    tasks = todo(desk, routed)[:2]
    skip_tasks(desk, tasks, "done by the owner")
    told = {one.task_id: (one.state, one.skip_reason) for one in read_unit(desk, routed).tasks}
    assert {told[one] for one in tasks} == {("skipped", "done by the owner")}
    with unchanged(desk), pytest.raises(Refused, match="is skipped already"):
        skip_tasks(desk, tasks, "again")
    reopen_tasks(desk, tasks)
    with unchanged(desk), pytest.raises(Refused, match="is not done yet"):
        reopen_tasks(desk, tasks)


def test_nothing_marked_and_what_is_gone_are_said(desk: Desk, units: list[int]) -> None:
    with pytest.raises(BadInput, match="Nothing is marked"):
        move_units_on(desk, [])
    with unchanged(desk), pytest.raises(NotFound, match="no unit with number 999"):
        hold_units(desk, [units[0], 999], "why")


def test_many_names_are_told_by_the_first_of_them(desk: Desk) -> None:
    many = [add_unit(desk, maker="Fenn", model=f"M {n}").unit_id for n in range(11)]
    assert move_units_on(desk, many).named.endswith(" and 3 more")
