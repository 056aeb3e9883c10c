"""The bench view: large letters that are what they say, and one key that does the obvious next thing."""

from __future__ import annotations

import string

import pytest
from textual.pilot import Pilot

from bench.dashboard.presenters.large_letters import (
    SIZES,
    capitals,
    large,
    large_width,
    large_words,
    largest,
)
from bench.dashboard.screens.bench_view import BenchView, read_on_the_bench
from bench.dashboard.widgets.large_key import LargeKey
from bench.desk import Desk
from bench.views.particulars import unit_by_tag
from bench.views.queue import read_queue
from bench.views.unit import read_unit
from bench.work.leaving import leave_unit
from bench.work.shop import add_person
from bench.work.tasks import add_task
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


def test_every_letter_has_a_shape_of_its_own_in_both_sizes() -> None:
    letters = string.ascii_uppercase + string.digits + "-+.,'/%():"
    for height in (5, 3):
        shapes = {large_words(one, 20, height) for one in letters}
        assert len(shapes) == len(letters)
        assert all(shape is not None and len(shape) == height for shape in shapes)


def test_words_stand_whole_on_two_lines_at_most_in_the_largest_letters_that_fit() -> None:
    assert capitals("lötstelle é") == "LOTSTELLE E"
    text = "renew thermal paste"
    heights = {room: len(large_words(text, *room) or ()) for room in ((198, 5), (118, 11), (78, 4), (60, 7))}
    assert heights == {(198, 5): 5, (118, 11): 11, (78, 4): 3, (60, 7): 7}
    assert large_words(text, 30, 20) is None
    assert large_words(text, 78, 2) is None
    assert large_words("смена пасты", 198, 20) is None
    for width in range(30, 200, 9):
        assert all(len(row) <= width for row in large_words(text, width, 12) or ())


@pytest.mark.parametrize(("size", "rows"), [((80, 24), 3), ((120, 36), 3), ((200, 50), 5)])
async def test_the_task_is_as_large_as_there_is_room_and_nothing_is_pushed_out(
    demo_desk: Desk, size: tuple[int, int], rows: int
) -> None:
    unit_id = unit_by_tag(demo_desk, "10629")
    async with first_screen(demo_desk, size) as (first, pilot):
        first.go_to_unit(unit_id)
        view = await open_view(pilot)
        told = text_of(view.query_one("#told"))
        letters = large_words("renew thermal paste", size[0] - 2, rows)
        assert letters is not None
        assert all(row.strip() in told for row in letters)
        assert "low: " in told
        assert "Local codes first." in told


async def test_a_task_without_large_letters_is_told_whole(desk: Desk) -> None:
    unit_id = new_unit(desk)
    name = "Замена термопасты на процессоре и видеокарте, очистка вентилятора от пыли и проверка"
    stage_id = read_unit(desk, unit_id).stage_id
    typed = {"name": name, "estimate_text": "20", "unattended": False, "lid_off": False}
    start_task(desk, add_task(desk, unit_id, stage_id=stage_id, **typed))
    async with first_screen(desk, (80, 24)) as (first, pilot):
        first.go_to_unit(unit_id)
        view = await open_view(pilot)
        assert name in " ".join(text_of(view.query_one("#told")).split())


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
        letters = large_words(LOOK_OVER, 76, 7)
        assert letters is not None
        assert all(row.strip() in told for row in letters)
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


@pytest.mark.parametrize("size", [(80, 24), (120, 36), (200, 50)])
async def test_what_is_said_covers_no_area_to_tap(desk: Desk, size: tuple[int, int]) -> None:
    new_unit(desk)
    async with first_screen(desk, size) as (_, pilot):
        view = await open_view(pilot)
        pilot.app.notify("A sentence that is as long as one that says what was done and what is low now.")
        await until(pilot, lambda: bool(view.query("Toast")))
        await pilot.pause()
        said = view.query("Toast").first().region
        assert said.height > 0
        assert not any(said.overlaps(key.region) for key in view.query(LargeKey))
