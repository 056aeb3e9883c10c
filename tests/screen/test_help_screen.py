"""The help: made from the table of keys, the screen below first, a person's own keys in place."""

from __future__ import annotations

import pytest

from bench.dashboard.key_check import APP, SCREEN_KEYS
from bench.dashboard.screens.help import HelpScreen
from bench.dashboard.screens.stock import StockScreen
from bench.desk import Desk
from tests.screen.host import opened, texts, until
from tests.screen.waiting import first_screen


@pytest.mark.parametrize("size", [(80, 24), (120, 36), (200, 50)])
async def test_the_screen_below_comes_first(desk: Desk, size: tuple[int, int]) -> None:
    async with opened(desk, StockScreen(), size) as (app, pilot):
        await pilot.press("question_mark")
        await until(pilot, lambda: isinstance(app.screen, HelpScreen) and "Stock: " in texts(app.screen))
        first = texts(app.screen.query_one("#rows")).splitlines()[1]
        assert "Stock" in first
        assert "Book what was delivered" in texts(app.screen)
        await pilot.press("escape")
        await until(pilot, lambda: isinstance(app.screen, StockScreen))


async def test_over_the_first_screen_its_keys_come_first(desk: Desk) -> None:
    async with first_screen(desk) as (screen, pilot):
        await pilot.press("question_mark")
        await until(pilot, lambda: isinstance(screen.app.screen, HelpScreen))
        await until(pilot, lambda: "The first screen: unit" in texts(screen.app.screen))


async def test_no_key_is_left_out(desk: Desk) -> None:
    async with opened(desk, HelpScreen()) as (app, _):
        screen = app.screen
        assert isinstance(screen, HelpScreen)
        listed = {row.key for row in screen.table("rows").rows.items}
        missing = {key.id for table in (APP, *SCREEN_KEYS.values()) for key in table} - listed
        assert missing == {"help.back"}


async def test_own_keys_stand_in_place(desk: Desk) -> None:
    async with opened(desk, StockScreen()) as (app, pilot):
        app.own_keys["stock.restock"] = "f5"
        await pilot.press("question_mark")
        await until(pilot, lambda: isinstance(app.screen, HelpScreen) and "Stock: " in texts(app.screen))
        line = next(one for one in texts(app.screen).splitlines() if "Book what was delivered" in one)
        assert "F5" in line
