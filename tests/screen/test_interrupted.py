"""Stopping one's own timer and going back to what was interrupted; what rings; clocks go on."""

from __future__ import annotations

from bench.dashboard.messages import Tick
from bench.dashboard.presenters.queue_cells import flags_of
from bench.dashboard.screens.week import WeekScreen
from bench.desk import Desk
from bench.views.queue import read_queue
from bench.views.unit import read_unit
from bench.work.timers import start_task
from tests.clocks import HandSetClock
from tests.screen.waiting import first_screen, text_of, until
from tests.screen.workshop import LOOK_OVER, new_unit, task


def running_tags(desk: Desk) -> list[str]:
    return [one.tag for one in read_queue(desk).running()]


async def test_f7_stops_mine_on_another_screen_and_f8_goes_back(desk: Desk, clock: HandSetClock) -> None:
    unit_id = new_unit(desk)
    start_task(desk, task(desk, unit_id, LOOK_OVER).task_id)
    clock.advance(12)
    async with first_screen(desk) as (_, pilot):
        await pilot.press("w")
        await until(pilot, lambda: isinstance(pilot.app.screen, WeekScreen))
        await pilot.press("f7")
        await until(pilot, lambda: running_tags(desk) == [])
        await pilot.press("f8")
        await until(pilot, lambda: running_tags(desk) == [read_unit(desk, unit_id).tag])
        assert isinstance(pilot.app.screen, WeekScreen)


async def test_f7_works_in_a_form_and_the_form_stays(desk: Desk) -> None:
    unit_id = new_unit(desk)
    start_task(desk, task(desk, unit_id, LOOK_OVER).task_id)
    async with first_screen(desk) as (_, pilot):
        await pilot.press("n")
        await until(pilot, lambda: pilot.app.screen.is_modal)
        await pilot.press("o", "f7")
        await until(pilot, lambda: running_tags(desk) == [])
        assert pilot.app.screen.is_modal
        await pilot.press("f8")
        await pilot.pause()
        assert running_tags(desk) == []


async def test_with_nothing_before_one_sentence_says_so(desk: Desk) -> None:
    new_unit(desk)
    async with first_screen(desk) as (first, pilot):
        await pilot.press("f8")
        await until(pilot, lambda: bool(first.query("Toast")))
        assert "Nothing else of yours" in str(first.query("Toast").last().render())


async def test_the_clock_goes_on_beneath_a_dialog(desk: Desk, clock: HandSetClock) -> None:
    async with first_screen(desk) as (first, pilot):
        await pilot.press("n")
        await until(pilot, lambda: pilot.app.screen.is_modal)
        before = text_of(first.query_one("#top"))
        clock.advance(2)
        first.bench.second_hand.tick()
        await until(pilot, lambda: text_of(first.query_one("#top")) != before)


async def test_machine_time_that_is_up_rings_once(desk: Desk, clock: HandSetClock) -> None:
    unit_id = new_unit(desk)
    machine = next(one for one in read_unit(desk, unit_id).tasks if one.unattended)
    start_task(desk, machine.task_id)
    async with first_screen(desk) as (first, pilot):
        rung: list[int] = []
        first.app.bell = lambda: rung.append(1)  # type: ignore[method-assign]
        first.post_message(Tick(clock.now_us()))
        await pilot.pause()
        assert rung == []
        clock.advance(machine.estimate_minutes)
        for _ in range(3):
            first.post_message(Tick(clock.now_us()))
            await pilot.pause()
        assert rung == [1]
        await until(pilot, lambda: bool(first.unit_here() and first.unit_here().ran_out))
        row = first.unit_here()
        assert row is not None
        assert next(part.text for part in flags_of(row)) == f"◷ time is up: {machine.name}"
