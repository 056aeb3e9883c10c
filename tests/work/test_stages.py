"""The stages: in an order the shop chooses, units leaving last, none removed that something needs."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.domain.starting_set import STAGES_AT_START
from bench.errors import BadInput, NotFound, Refused
from bench.views.shop import read_stages
from bench.work.moves import move_unit
from bench.work.route_tasks import add_route_task, remove_route, remove_route_task
from bench.work.shop import add_stage, remove_stage, rename_stage, reorder_stage, set_stage_cover
from bench.work.tasks import add_task
from bench.work.timers import skip_task
from bench.work.undo import undo
from bench.work.units import add_unit
from tests.work.bookkeeping import footprint
from tests.work.looked_into import looked_into

RECEIVED, INSPECTED, OPENED, LISTED, SOLD = 1, 2, 3, 9, 10
AT_START = [stage.name for stage in STAGES_AT_START]


def names(desk: Desk) -> list[str]:
    return [stage.name for stage in read_stages(desk)]


def bare(desk: Desk) -> int:
    """A unit without tasks, at the first stage."""
    return looked_into(desk, add_unit(desk, maker="Invented", model="One").unit_id)


def test_a_new_shop_has_the_usual_stages(desk: Desk) -> None:
    bare(desk)
    stages = read_stages(desk)
    assert [stage.name for stage in stages] == AT_START
    assert [stage.name for stage in stages if stage.lid_off] == ["opened", "cleaned", "refitted"]
    assert [stage.name for stage in stages if stage.final] == ["sold"]
    assert [stage.units for stage in stages] == [1] + [0] * 9


def test_a_stage_goes_behind_the_one_named(desk: Desk) -> None:
    dried = add_stage(desk, "dried", after_stage_id=OPENED, lid_off=True)
    assert names(desk) == [*AT_START[:3], "dried", *AT_START[3:]]
    assert next(stage for stage in read_stages(desk) if stage.stage_id == dried).lid_off
    undo(desk)
    assert names(desk) == AT_START


def test_a_stage_may_be_the_first(desk: Desk) -> None:
    add_stage(desk, "expected", after_stage_id=None, lid_off=False)
    assert names(desk) == ["expected", *AT_START]


def test_nothing_comes_after_units_have_left(desk: Desk) -> None:
    with pytest.raises(Refused, match="reach sold have left"):
        add_stage(desk, "missed", after_stage_id=SOLD, lid_off=False)


@pytest.mark.parametrize("name", ["", "Opened", "a\tb", "\u202e", "x" * 81])
def test_a_name_that_cannot_be(desk: Desk, name: str) -> None:
    before = footprint(desk)
    with pytest.raises(BadInput):
        add_stage(desk, name, after_stage_id=OPENED, lid_off=False)
    with pytest.raises(BadInput):
        rename_stage(desk, LISTED, name)
    assert (names(desk), footprint(desk)) == (AT_START, before)


def test_renaming(desk: Desk) -> None:
    rename_stage(desk, LISTED, "[for sale]")
    assert names(desk)[8] == "[for sale]"
    with pytest.raises(NotFound, match="no stage with number 99"):
        rename_stage(desk, 99, "x")


@pytest.mark.parametrize(
    ("stage", "steps", "place"),
    [(INSPECTED, -1, 0), (INSPECTED, 1, 2), (INSPECTED, -99, 0), (INSPECTED, 99, 8), (RECEIVED, 3, 3)],
)
def test_moving_a_stage(desk: Desk, stage: int, steps: int, place: int) -> None:
    reorder_stage(desk, stage, steps)
    order = [one.stage_id for one in read_stages(desk)]
    assert order.index(stage) == place
    assert order[-1] == SOLD
    assert [one for one in order if one != stage] == [one for one in range(1, 11) if one != stage]


@pytest.mark.parametrize(
    ("stage", "steps"), [(RECEIVED, -1), (LISTED, 1), (SOLD, -1), (SOLD, 1), (OPENED, 0)]
)
def test_a_stage_that_cannot_move_stays_without_a_trace(desk: Desk, stage: int, steps: int) -> None:
    before = footprint(desk)
    reorder_stage(desk, stage, steps)
    assert (names(desk), footprint(desk)) == (AT_START, before)


def test_the_lid_of_a_stage(desk: Desk) -> None:
    set_stage_cover(desk, INSPECTED, True)
    assert read_stages(desk)[1].lid_off
    before = footprint(desk)
    set_stage_cover(desk, INSPECTED, True)
    assert footprint(desk) == before
    set_stage_cover(desk, INSPECTED, False)
    assert not read_stages(desk)[1].lid_off


def test_the_lid_of_a_stage_stays_while_units_stand_there(desk: Desk) -> None:
    bare(desk)
    bare(desk)
    with pytest.raises(Refused, match="2 units stand at received"):
        set_stage_cover(desk, RECEIVED, True)


def test_a_stage_with_a_unit_is_not_removed(desk: Desk) -> None:
    move_unit(desk, bare(desk), LISTED)
    with pytest.raises(Refused, match="1 unit stands at listed"):
        remove_stage(desk, LISTED)


def test_a_unit_taken_back_does_not_stand_in_the_way(desk: Desk) -> None:
    dried = add_stage(desk, "dried", after_stage_id=None, lid_off=True)
    unit_id = bare(desk)
    add_task(desk, unit_id, name="dry", stage_id=dried, estimate_text="5", unattended=True, lid_off=False)
    undo(desk)
    undo(desk)
    undo(desk)
    remove_stage(desk, dried)
    assert names(desk) == AT_START


def test_a_task_taken_out_of_its_route_does_not_stand_in_the_way(desk: Desk) -> None:
    dried = add_stage(desk, "dried", after_stage_id=OPENED, lid_off=True)
    task_id = add_route_task(
        desk, 1, name="dry", stage_id=dried, estimate_text="5", unattended=True, lid_off=False
    )
    with pytest.raises(Refused, match="full refurbish has a task at dried"):
        remove_stage(desk, dried)
    remove_route_task(desk, task_id)
    remove_stage(desk, dried)
    assert names(desk) == AT_START


def test_a_stage_that_a_route_needs_is_not_removed(desk: Desk) -> None:
    with pytest.raises(Refused, match="route full refurbish has a task at opened"):
        remove_stage(desk, OPENED)
    for route_id in range(1, 7):
        remove_route(desk, route_id)
    remove_stage(desk, OPENED)
    assert "opened" not in names(desk)


def test_a_stage_with_an_open_task_is_not_removed(desk: Desk) -> None:
    dried = add_stage(desk, "dried", after_stage_id=OPENED, lid_off=True)
    unit_id = bare(desk)
    task_id = add_task(
        desk, unit_id, name="dry", stage_id=dried, estimate_text="5", unattended=True, lid_off=False
    )
    with pytest.raises(Refused, match="Unit 10014 still has an open task at dried"):
        remove_stage(desk, dried)
    skip_task(desk, task_id, "dry already")
    remove_stage(desk, dried)
    assert names(desk) == AT_START
    add_stage(desk, "dried", after_stage_id=OPENED, lid_off=True)


def test_there_is_always_a_stage_at_which_units_leave(desk: Desk) -> None:
    with pytest.raises(Refused, match="sold is the only stage at which units leave"):
        remove_stage(desk, SOLD)


def test_there_is_always_a_stage_at_which_work_is_done(desk: Desk) -> None:
    for route_id in range(1, 7):
        remove_route(desk, route_id)
    for stage_id in range(2, 10):
        remove_stage(desk, stage_id)
    with pytest.raises(Refused, match="received is the only stage at which work is done"):
        remove_stage(desk, RECEIVED)
    assert names(desk) == ["received", "sold"]
