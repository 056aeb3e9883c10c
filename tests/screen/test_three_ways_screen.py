"""Repair, sell as is or part out on the screen: estimates by key, what they rest on, own sales that open."""

from __future__ import annotations

import pytest
from textual.widgets import Static

from bench.dashboard.screens.dialogs.buying_forms import purchase_form
from bench.dashboard.screens.dialogs.selling_forms import way_form
from bench.dashboard.screens.faults import FaultsScreen
from bench.dashboard.screens.three_ways import ThreeWaysScreen
from bench.dashboard.screens.unit import UnitScreen
from bench.desk import Desk
from bench.domain.three_ways import AS_IS
from bench.views.three_ways import read_three_ways
from bench.work.faults import add_fault
from tests.screen.host import opened, runs, settled, texts, until
from tests.work.sale_steps import sell
from tests.work.trade_steps import COUNTER, new_unit, set_trade

SIZES = [(80, 24), (120, 36), (200, 50)]


@pytest.fixture
def unit_id(desk: Desk) -> int:
    set_trade(desk)
    return new_unit(desk, "100")


@pytest.mark.parametrize("size", SIZES)
async def test_an_estimate_by_key_stands_there(desk: Desk, unit_id: int, size: tuple[int, int]) -> None:
    async with opened(desk, ThreeWaysScreen(unit_id), size) as (app, pilot):
        assert "Not to be compared yet" in texts(app.screen)
        await pilot.press("a")
        await until(pilot, lambda: runs(app.screen, way_form))
        await settled(pilot)
        await pilot.press(*"150", "enter", *"10", "ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, ThreeWaysScreen))
        await until(pilot, lambda: "150.00" in texts(app.screen))
    assert read_three_ways(desk, unit_id).way(AS_IS).cash_minor == 15_000


async def test_what_a_line_rests_on_and_a_sale_that_opens(desk: Desk, unit_id: int) -> None:
    for price in ("200", "260", "280"):
        sold = new_unit(desk, "50")
        sell(desk, sold, price, channel_id=COUNTER)
    async with opened(desk, ThreeWaysScreen(unit_id), (120, 36)) as (app, pilot):
        assert "Repair: 3 sold, today" in texts(app.screen.query_one("#rests"))
        assert "280.00" in texts(app.screen.query_one("#sales"))
        await pilot.press("tab", "enter")
        await until(pilot, lambda: isinstance(app.screen, UnitScreen))
        assert app.screen.unit_id == sold  # type: ignore[attr-defined]


async def test_what_the_model_fetched_suggests_the_expected_price(desk: Desk, unit_id: int) -> None:
    for price in ("200", "260", "280"):
        sell(desk, new_unit(desk, "50"), price, channel_id=COUNTER)
    async with opened(desk, ThreeWaysScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("e")
        await until(pilot, lambda: runs(app.screen, purchase_form))
        await settled(pilot)
        assert app.screen.field("expected_text").placeholder == "by 3 sold: 260.00 EUR"  # type: ignore[attr-defined]
        assert "3 sold, today" in str(app.screen.query_one("#known", Static).render())


@pytest.mark.parametrize("size", SIZES)
async def test_the_open_faults_stand_there_and_open(desk: Desk, unit_id: int, size: tuple[int, int]) -> None:
    add_fault(desk, unit_id, symptom="hinge [b]cracks")
    async with opened(desk, ThreeWaysScreen(unit_id), size) as (app, pilot):
        assert "hinge [b]cracks" in texts(app.screen.query_one("#rests"))
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, FaultsScreen))
        await settled(pilot)
        assert "hinge [b]cracks" in texts(app.screen)
