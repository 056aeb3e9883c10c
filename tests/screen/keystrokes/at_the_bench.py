"""The acts of every day: start on a tag, stop, finish, move on, close up, sell, take in with a scan."""

from __future__ import annotations

from bench.desk import Desk
from bench.views.queue import read_queue
from bench.views.safety import read_safety
from bench.views.unit import read_unit
from bench.work.timers import start_task
from bench.work.units import add_unit
from tests.screen.keystrokes.person import Person, Pressed
from tests.screen.waiting import first_screen
from tests.screen.workshop import LOOK_OVER, fill_shelf, new_unit, open_cover, stage, task
from tests.work.looked_into import looked_into

SCREWS = 9


def _two_units(desk: Desk) -> int:
    """Two units; the number of the one that the cursor is not on."""
    new_unit(desk, "Model 8")
    return new_unit(desk)


async def start_on_a_tag(desk: Desk) -> Pressed:
    unit_id = _two_units(desk)
    async with first_screen(desk) as (_, pilot):
        ada = Person(pilot)
        await ada.write(read_unit(desk, unit_id).tag)
        await ada.press("enter", "s")
    assert [one.unit_id for one in read_queue(desk).running()] == [unit_id]
    return ada.pressed


async def stop(desk: Desk) -> Pressed:
    start_task(desk, task(desk, _two_units(desk), LOOK_OVER).task_id)
    async with first_screen(desk) as (_, pilot):
        ada = Person(pilot)
        await ada.press("s")
    assert not read_queue(desk).running()
    return ada.pressed


async def finish(desk: Desk) -> Pressed:
    fill_shelf(desk)
    unit_id = _two_units(desk)
    start_task(desk, task(desk, unit_id, LOOK_OVER).task_id)
    async with first_screen(desk) as (_, pilot):
        ada = Person(pilot)
        await ada.press("d", "enter")
    assert task(desk, unit_id, LOOK_OVER).state == "done"
    return ada.pressed


async def move_on(desk: Desk) -> Pressed:
    unit_id = add_unit(desk, maker="Fenn", model="Model 9").unit_id
    async with first_screen(desk) as (_, pilot):
        ada = Person(pilot)
        await ada.press("m")
    assert read_unit(desk, unit_id).stage == "inspected"
    return ada.pressed


async def sell(desk: Desk) -> Pressed:
    unit_id = looked_into(desk, add_unit(desk, maker="Fenn", model="Model 9").unit_id)
    async with first_screen(desk) as (_, pilot):
        ada = Person(pilot)
        await ada.press("f", "s")
        await ada.write("240")
        await ada.press("ctrl+s")
    assert read_unit(desk, unit_id).stage_id == stage(desk, "sold")
    return ada.pressed


async def take_in_with_a_scan(desk: Desk) -> Pressed:
    async with first_screen(desk) as (_, pilot):
        ada = Person(pilot)
        await ada.scan("NEW-77")
        await ada.press("t")
        await ada.write("Fenn")
        await ada.press("down")
        await ada.write("Model 9")
        await ada.press("ctrl+s")
    (unit,) = (row for one in read_queue(desk).stages for row in one.rows)
    assert read_unit(desk, unit.unit_id).serial == "NEW-77"
    return ada.pressed


async def closing_checklist(desk: Desk) -> Pressed:
    unit_id = new_unit(desk)
    open_cover(desk, unit_id, SCREWS)
    async with first_screen(desk) as (_, pilot):
        ada = Person(pilot)
        await ada.press("c", *["space"] * 4)
        assert len(pilot.app.screen_stack) == 1
    safety = read_safety(desk, unit_id)
    assert [one.at_us is not None for one in safety.closing] == [True] * 4
    assert safety.screws_back == SCREWS
    return ada.pressed
