"""What next on the screen: the order with its reason, done-by, bottleneck; Enter opens the unit."""

from __future__ import annotations

import pytest

from bench.dashboard.screens.next_up import NextUpScreen
from bench.dashboard.screens.unit import UnitScreen
from bench.desk import Desk
from bench.work.moves import hold_unit, move_unit
from bench.work.purchases import edit_purchase
from bench.work.units import edit_unit
from tests.clocks import HandSetClock
from tests.screen.host import opened, settled, texts, until
from tests.screen.workshop import new_unit, stage

SIZES = [(80, 24), (120, 36), (200, 50)]


def expects(desk: Desk, unit_id: int, text: str) -> None:
    edit_purchase(desk, unit_id, expected_text=text, bought_on_text="", invoice="", shipping_text="0")


@pytest.fixture
def units(desk: Desk, clock: HandSetClock) -> list[int]:
    """The first earns least, the second most, the third is past due, the fourth is held."""
    found = [new_unit(desk, f"[/] model {number}") for number in range(4)]
    for unit_id, text in zip(found, ("100", "300", "50", "200"), strict=True):
        expects(desk, unit_id, text)
    edit_unit(
        desk,
        found[2],
        maker="Late",
        model="[/] model 2",
        serial="",
        note="",
        due_text="2026-11-24",
        price_text="",
        tag_text="",
    )
    hold_unit(desk, found[3], "part on [b]order[/b]")
    clock.advance(minutes=60)
    return found


@pytest.mark.parametrize("size", SIZES)
async def test_the_order_stands_there_with_its_reason(
    desk: Desk, units: list[int], size: tuple[int, int]
) -> None:
    async with opened(desk, NextUpScreen(), size) as (app, pilot):
        screen = app.screen
        assert isinstance(screen, NextUpScreen)
        keys = [row.key for row in screen.table("order").rows.items if not row.heading]
        assert keys == [units[2], units[1], units[0], units[3]]
        assert "Past due by 1 day" in texts(screen.query_one("#why"))
        assert app.screen.region.contains_region(screen.query_one("#why").region)
        await pilot.press("down")
        await until(pilot, lambda: "Earns at most 300.00 EUR more" in texts(screen.query_one("#why")))
        await pilot.press("end")
        await until(pilot, lambda: "part on [b]order[/b]" in texts(screen.query_one("#why")))


async def test_enter_opens_the_unit_and_escape_goes_back(desk: Desk, units: list[int]) -> None:
    async with opened(desk, NextUpScreen(), (120, 36)) as (app, pilot):
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, UnitScreen))
        await settled(pilot)
        assert isinstance(app.screen, UnitScreen)
        assert app.screen.unit_id == units[2]
        await pilot.press("escape")
        await until(pilot, lambda: isinstance(app.screen, NextUpScreen))
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])


async def test_the_forecast_says_what_it_rests_on_and_the_bottleneck(
    desk: Desk, units: list[int], clock: HandSetClock
) -> None:
    async with opened(desk, NextUpScreen(), (120, 36)) as (app, pilot):
        assert "no date yet" in texts(app.screen.query_one("#forecast"))
        assert "cannot be told" in texts(app.screen.query_one("#bottleneck"))
        move_unit(desk, units[0], stage(desk, "inspected"), open_tasks="skip", reason="seen")
        clock.advance(minutes=60)
        move_unit(desk, units[1], stage(desk, "inspected"), open_tasks="skip", reason="seen")
        await until(
            pilot, lambda: "Units stay longest at received" in texts(app.screen.query_one("#bottleneck"))
        )


async def test_an_empty_bench_says_so(desk: Desk) -> None:
    async with opened(desk, NextUpScreen()) as (app, _):
        assert "Nothing to work on" in texts(app.screen)
