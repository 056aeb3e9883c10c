"""The bench view: large letters that are what they say, and one key that does the obvious next thing."""

from __future__ import annotations

import pytest
from textual.pilot import Pilot

from bench.dashboard.presenters.large_letters import SIZES, large, large_width, largest
from bench.dashboard.screens.bench_view import BenchView, read_on_the_bench
from bench.dashboard.widgets.large_key import LargeKey
from bench.desk import Desk
from bench.views.queue import read_queue
from bench.views.unit import read_unit
from bench.work.leaving import leave_unit
from bench.work.shop import add_person
from bench.work.timers import start_task
from tests.clocks import HandSetClock
from tests.screen.waiting import first_screen, text_of, until
from tests.screen.workshop import LOOK_OVER, fill_shelf, new_unit, task


async def open_view(pilot: Pilot[int]) -> BenchView:
    await pilot.press("f9")
    await until(pilot, lambda: isinstance(pilot.app.screen, BenchView) and pilot.app.screen.is_read)
    await pilot.pause()
    view = pilot.app.screen
    assert isinstance(view, BenchView)
    return view


@pytest.mark.parametrize("size", SIZES)
def test_every_digit_has_a_shape_of_its_own(size: tuple[int, int]) -> None:
    shapes = {large(str(digit), SIZES[SIZES.index(size)]) for digit in range(10)}
    assert len(shapes) == 10
    assert len({len(row) for shape in shapes for row in shape}) == 1


def test_the_largest_size_is_one_that_fits() -> None:
    assert largest(["10629", "0:23"], 4, 198, 30) == SIZES[0]
    assert largest(["10629", "0:23"], 4, 78, 10) == SIZES[-1]
    assert largest(["10629", "0:23"], 4, 40, 10) is None
    for width in range(60, 220, 7):
        size = largest(["10629"], 4, width, 20)
        assert size is None or large_width("10629", size) <= width


async def test_it_shows_what_one_times_its_tag_minutes_and_caution(desk: Desk, clock: HandSetClock) -> None:
    other, unit_id = new_unit(desk, "Other"), new_unit(desk, "Mine")
    start_task(desk, task(desk, unit_id, LOOK_OVER).task_id)
    clock.advance(23)
    async with first_screen(desk, (80, 24)) as (first, pilot):
        first.go_to_unit(other)
        view = await open_view(pilot)
        told = text_of(view.query_one("#told"))
        for row in large(read_unit(desk, unit_id).tag) + large("0:23"):
            assert row.strip() in told
        assert "Mine" in told
        assert LOOK_OVER in told
        assert read_unit(desk, unit_id).safety.caution[:30] in told
        assert all(key.region.height >= 3 for key in pilot.app.screen.query(LargeKey))


async def test_enter_starts_then_finishes_then_moves_on(desk: Desk) -> None:
    fill_shelf(desk)
    unit_id = new_unit(desk)
    first_task = task(desk, unit_id, LOOK_OVER)
    async with first_screen(desk) as (_, pilot):
        view = await open_view(pilot)
        await pilot.press("enter")
        await until(
            pilot, lambda: [one.task_id for one in read_queue(desk).running()] == [first_task.task_id]
        )
        await until(pilot, lambda: view.timed_task_here() == first_task.task_id)
        await pilot.press("enter")
        await until(pilot, lambda: pilot.app.screen.is_modal)
        await pilot.press("ctrl+s")
        await until(pilot, lambda: task(desk, unit_id, LOOK_OVER).state == "done")


async def test_a_tap_on_an_area_does_what_its_key_does(desk: Desk) -> None:
    unit_id = new_unit(desk)
    async with first_screen(desk, (80, 24)) as (first, pilot):
        await pilot.press("f9")
        await until(
            pilot, lambda: isinstance(pilot.app.screen, BenchView) and pilot.app.screen.facts is not None
        )
        await pilot.click("#large-start_stop")
        await until(pilot, lambda: [one.unit_id for one in read_queue(desk).running()] == [unit_id])
        await pilot.click("#large-back")
        await until(pilot, lambda: pilot.app.screen is first)


async def test_an_empty_bench_is_said_to_be_empty(desk: Desk) -> None:
    async with first_screen(desk) as (_, pilot):
        await open_view(pilot)
        assert "The bench is empty." in text_of(pilot.app.screen.query_one("#told"))
        await pilot.press("enter")
        assert read_on_the_bench(desk, None) is None


def test_another_persons_timer_does_not_take_ones_view(desk: Desk) -> None:
    mine, theirs = new_unit(desk, "Mine"), new_unit(desk, "Theirs")
    other = desk.as_person(add_person(desk, "Someone"))
    start_task(other, task(desk, theirs, LOOK_OVER).task_id)
    shown = read_on_the_bench(desk, mine)
    assert shown is not None
    assert shown.row.unit_id == mine


def test_a_unit_that_left_is_not_shown(desk: Desk) -> None:
    unit_id, other = new_unit(desk, "Gone"), new_unit(desk, "Here")
    leave_unit(desk, unit_id, way="kept", reason="For the shop")
    shown = read_on_the_bench(desk, unit_id)
    assert shown is not None
    assert shown.row.unit_id == other
