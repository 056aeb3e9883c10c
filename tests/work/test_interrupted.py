"""What was interrupted is told by the times alone: left for another task, until it is taken up or done."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.errors import NotFound
from bench.views.interrupted import read_before
from bench.views.journal import read_journal
from bench.views.queue import QueueRow, read_queue
from bench.views.unit import read_unit
from bench.work.shop import add_person
from bench.work.timers import finish_task, skip_task, start_task, stop_person
from bench.work.undo import undo
from tests.clocks import HandSetClock
from tests.screen.workshop import new_unit


def plain_tasks(desk: Desk, unit_id: int) -> list[int]:
    tasks = read_unit(desk, unit_id).tasks
    return [one.task_id for one in tasks if not one.unattended and not one.lid_off and not one.test]


def row(desk: Desk, unit_id: int) -> QueueRow:
    found = read_queue(desk).row(unit_id)
    assert found is not None
    return found


def left_by(desk: Desk, unit_id: int) -> dict[int, str]:
    return {one.task_id: one.left_by for one in read_unit(desk, unit_id).tasks if one.left_by}


@pytest.fixture
def two_units(desk: Desk, clock: HandSetClock) -> tuple[int, int]:
    """The first was left for the second, half an hour into it."""
    units = new_unit(desk, "First"), new_unit(desk, "Second")
    start_task(desk, plain_tasks(desk, units[0])[0])
    clock.advance(minutes=30)
    start_task(desk, plain_tasks(desk, units[1])[0])
    clock.advance(minutes=5)
    return units


def test_what_was_left_for_another_is_marked(desk: Desk, two_units: tuple[int, int]) -> None:
    first, second = two_units
    assert row(desk, first).left
    assert not row(desk, second).left
    assert list(left_by(desk, first)) == plain_tasks(desk, first)[:1]
    assert not left_by(desk, second)


def test_before_leads_back_and_then_the_other_one_was_left(desk: Desk, two_units: tuple[int, int]) -> None:
    first, second = two_units
    before = read_before(desk)
    assert before.unit_id == first
    start_task(desk, before.task_id)
    assert not row(desk, first).left
    assert row(desk, second).left
    assert read_before(desk).unit_id == second


def test_what_is_done_is_no_longer_before(desk: Desk, two_units: tuple[int, int]) -> None:
    first, second = two_units
    finish_task(desk, plain_tasks(desk, second)[0], uses={})
    assert read_before(desk).unit_id == first
    finish_task(desk, plain_tasks(desk, first)[0], uses={})
    assert not row(desk, first).left
    with pytest.raises(NotFound, match="Nothing else of yours"):
        read_before(desk)


def test_after_a_stop_before_is_what_was_stopped(desk: Desk, two_units: tuple[int, int]) -> None:
    _, second = two_units
    stop_person(desk)
    assert read_before(desk).unit_id == second
    assert not left_by(desk, second), "it was stopped, and left for nothing"


def test_what_is_not_to_do_any_more_is_passed_over(desk: Desk, two_units: tuple[int, int]) -> None:
    skip_task(desk, plain_tasks(desk, two_units[0])[0], "not needed")
    assert not row(desk, two_units[0]).left
    with pytest.raises(NotFound):
        read_before(desk)


def test_each_goes_back_to_what_was_their_own(desk: Desk, two_units: tuple[int, int]) -> None:
    other = desk.as_person(add_person(desk, "Someone"))
    with pytest.raises(NotFound):
        read_before(other)
    assert read_before(desk).unit_id == two_units[0]


def test_a_start_undone_leaves_nothing_interrupted(desk: Desk, two_units: tuple[int, int]) -> None:
    undo(desk, read_journal(desk, limit=1).lines[0].journal_id)
    assert not row(desk, two_units[0]).left
    assert read_queue(desk).running()[0].unit_id == two_units[0]


def test_machine_time_that_is_up_is_told_on(desk: Desk, clock: HandSetClock) -> None:
    unit_id = new_unit(desk)
    task = next(one for one in read_unit(desk, unit_id).tasks if one.unattended)
    start_task(desk, task.task_id)
    clock.advance(task.estimate_minutes - 1)
    assert row(desk, unit_id).ran_out == ()
    clock.advance(1)
    assert row(desk, unit_id).ran_out == (task.name,)
