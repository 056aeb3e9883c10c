"""One consumable's screen: movements with balance and cost, and the way to the unit that used it up."""

from __future__ import annotations

import pytest

from bench.dashboard.screens.dialogs.stock_forms import count_form
from bench.dashboard.screens.stock import ConsumableScreen
from bench.dashboard.screens.unit import UnitScreen
from bench.desk import Desk
from bench.work.stock import count_stock
from bench.work.timers import finish_task
from tests.screen.host import opened, runs, settled, texts, typed, until
from tests.screen.undoing import undo_newest
from tests.screen.workshop import CLEANING, fill_shelf, level, new_unit, open_cover, task


@pytest.fixture
def consumable_id(desk: Desk) -> int:
    fill_shelf(desk)
    unit_id = new_unit(desk)
    open_cover(desk, unit_id)
    finish_task(desk, task(desk, unit_id, CLEANING).task_id)
    consumable_id = level(desk).consumable_id
    count_stock(desk, consumable_id, quantity_text="900", reason="a [b]spill[/b]")
    return consumable_id


@pytest.mark.parametrize("size", [(80, 24), (120, 36), (200, 50)])
async def test_movements_carry_their_balance(desk: Desk, consumable_id: int, size: tuple[int, int]) -> None:
    async with opened(desk, ConsumableScreen(consumable_id), size) as (app, _):
        lines = texts(app.screen.query_one("#rows")).splitlines()
        amounts = [line.split() for line in lines if " ml" in line]
        assert [one for one in amounts[0] if one in ("-80", "ml", "900")] == ["-80", "ml", "900", "ml"]
        assert "980" in amounts[1]
        assert "+1000" in amounts[2]
        assert "no flame or sparks" in texts(app.screen)


async def test_costs_are_those_of_the_oldest_receipt(desk: Desk, consumable_id: int) -> None:
    async with opened(desk, ConsumableScreen(consumable_id), (120, 36)) as (app, _):
        assert "-0.20" in texts(app.screen)
        assert "a [b]spill[/b]" in texts(app.screen)


async def test_enter_opens_the_unit_that_took_it(desk: Desk, consumable_id: int) -> None:
    async with opened(desk, ConsumableScreen(consumable_id)) as (app, pilot):
        await pilot.press("enter")
        assert isinstance(app.screen, ConsumableScreen)  # a count is about no unit
        await pilot.press("down", "enter")
        await until(pilot, lambda: isinstance(app.screen, UnitScreen))


async def test_counting_from_here_is_shown_at_once(desk: Desk, consumable_id: int) -> None:
    async with opened(desk, ConsumableScreen(consumable_id)) as (app, pilot):
        await pilot.press("k")
        await until(pilot, lambda: runs(app.screen, count_form))
        await settled(pilot)
        await typed(pilot, "850")
        await pilot.press("enter", "x", "enter")
        await until(pilot, lambda: "850 ml on hand" in texts(app.screen))
        await undo_newest(pilot)
        await until(pilot, lambda: "900 ml on hand" in texts(app.screen))
        await pilot.press("q")
        await until(pilot, lambda: app.answers == [None])
