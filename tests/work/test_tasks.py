"""A unit's own tasks: added, renamed, ordered within their stage, and what each takes."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.errors import BadInput, NotFound, Refused
from bench.views.tasks import TaskLine
from bench.views.unit import read_unit
from bench.work.tasks import add_task, rename_task, reorder_task, set_task_use
from bench.work.timers import skip_task
from bench.work.undo import undo
from bench.work.units import add_unit
from tests.work.bookkeeping import PASTE, WIPES, footprint

RECEIVED, INSPECTED, SOLD = 1, 2, 10


@pytest.fixture
def unit_id(desk: Desk) -> int:
    return add_unit(desk, maker="Invented", model="One").unit_id


def added(desk: Desk, unit_id: int, name: str = "listen to the fan", **more: object) -> int:
    wanted = {
        "stage_id": INSPECTED,
        "estimate_text": "10",
        "unattended": False,
        "lid_off": False,
    }
    return add_task(desk, unit_id, name=name, **{**wanted, **more})  # type: ignore[arg-type]


def tasks(desk: Desk, unit_id: int) -> tuple[TaskLine, ...]:
    return read_unit(desk, unit_id).tasks


def names(desk: Desk, unit_id: int) -> list[str]:
    return [task.name for task in tasks(desk, unit_id)]


def test_a_task_is_added_last_at_its_stage(desk: Desk, unit_id: int) -> None:
    added(desk, unit_id, "first")
    added(desk, unit_id, "second", estimate_text="1h30", unattended=True, lid_off=True)
    added(desk, unit_id, "before both", stage_id=RECEIVED)
    assert names(desk, unit_id) == ["before both", "first", "second"]
    second = tasks(desk, unit_id)[2]
    assert (second.estimate_minutes, second.unattended, second.lid_off) == (90, True, True)
    assert (second.stage, second.state) == ("inspected", "todo")
    undo(desk)
    assert names(desk, unit_id) == ["first", "second"]


@pytest.mark.parametrize(
    "wrong",
    [
        {"name": " "},
        {"name": "a\rb"},
        {"estimate_text": "0"},
        {"estimate_text": "-5"},
        {"estimate_text": "nan"},
        {"estimate_text": "100001"},
        {"estimate_text": ""},
    ],
)
def test_what_cannot_be_a_task_changes_nothing(desk: Desk, unit_id: int, wrong: dict[str, str]) -> None:
    before = footprint(desk)
    with pytest.raises(BadInput):
        added(desk, unit_id, **wrong)
    assert (names(desk, unit_id), footprint(desk)) == ([], before)


def test_a_task_needs_a_unit_and_a_stage_before_it_leaves(desk: Desk, unit_id: int) -> None:
    with pytest.raises(NotFound, match="no unit with number 99"):
        added(desk, 99)
    with pytest.raises(NotFound, match="no stage with number 99"):
        added(desk, unit_id, stage_id=99)
    with pytest.raises(Refused, match="reach sold have left"):
        added(desk, unit_id, stage_id=SOLD)


def test_renaming(desk: Desk, unit_id: int) -> None:
    task_id = added(desk, unit_id)
    rename_task(desk, task_id, name="listen [twice]", estimate_text="15")
    now = tasks(desk, unit_id)[0]
    assert (now.name, now.estimate_minutes) == ("listen [twice]", 15)
    before = footprint(desk)
    rename_task(desk, task_id, name="listen [twice]", estimate_text="15 min")
    assert footprint(desk) == before
    with pytest.raises(BadInput):
        rename_task(desk, task_id, name="listen", estimate_text="soon")
    assert names(desk, unit_id) == ["listen [twice]"]


def test_moving_a_task_within_its_stage(desk: Desk, unit_id: int) -> None:
    one, two, three = (added(desk, unit_id, name) for name in ("one", "two", "three"))
    added(desk, unit_id, "earlier", stage_id=RECEIVED)
    reorder_task(desk, three, -1)
    assert names(desk, unit_id) == ["earlier", "one", "three", "two"]
    reorder_task(desk, one, 99)
    assert names(desk, unit_id) == ["earlier", "three", "two", "one"]
    undo(desk)
    assert names(desk, unit_id) == ["earlier", "one", "three", "two"]
    before = footprint(desk)
    reorder_task(desk, one, -1)
    reorder_task(desk, two, 1)
    assert footprint(desk) == before
    with pytest.raises(NotFound):
        reorder_task(desk, 99, 1)


def uses(desk: Desk, unit_id: int) -> list[tuple[str, int]]:
    return [(use.name, use.quantity) for use in tasks(desk, unit_id)[0].uses]


def test_what_a_task_takes(desk: Desk, unit_id: int) -> None:
    task_id = added(desk, unit_id)
    set_task_use(desk, task_id, PASTE, "0.3")
    set_task_use(desk, task_id, WIPES, "2")
    assert uses(desk, unit_id) == [("thermal paste", 300), ("lint-free wipes", 2_000)]
    set_task_use(desk, task_id, PASTE, "0,5 g")
    set_task_use(desk, task_id, WIPES, "0")
    assert uses(desk, unit_id) == [("thermal paste", 500)]
    undo(desk)
    assert uses(desk, unit_id) == [("thermal paste", 500), ("lint-free wipes", 2_000)]
    set_task_use(desk, task_id, PASTE, " ")
    assert uses(desk, unit_id) == [("lint-free wipes", 2_000)]
    before = footprint(desk)
    set_task_use(desk, task_id, PASTE, "0")
    set_task_use(desk, task_id, WIPES, "2")
    assert footprint(desk) == before


@pytest.mark.parametrize("quantity", ["-1", "nan", "1e3", "0.0001", "2 ml", "9999999999999", "[1]"])
def test_what_cannot_be_taken_changes_nothing(desk: Desk, unit_id: int, quantity: str) -> None:
    task_id = added(desk, unit_id)
    before = footprint(desk)
    with pytest.raises(BadInput):
        set_task_use(desk, task_id, PASTE, quantity)
    assert (uses(desk, unit_id), footprint(desk)) == ([], before)


def test_a_task_that_is_over_takes_nothing_else(desk: Desk, unit_id: int) -> None:
    task_id = added(desk, unit_id)
    skip_task(desk, task_id, "quiet")
    with pytest.raises(Refused, match='"listen to the fan" on 10014 is skipped already'):
        set_task_use(desk, task_id, PASTE, "1")
    with pytest.raises(NotFound, match="no consumable"):
        set_task_use(desk, task_id, 99, "1")
