"""The list of all else there is: every letter of it opens its screen, from the first screen and a unit's."""

from __future__ import annotations

import pytest
from textual.widgets import OptionList, Static

from bench.dashboard.acts.units import OF_A_UNIT, OF_THE_SHOP
from bench.dashboard.app import OPENS_DEMO
from bench.dashboard.keys import act_on
from bench.dashboard.screens.buying import BuyingScreen
from bench.dashboard.screens.condition import ConditionScreen
from bench.dashboard.screens.dialogs.file_forms import save_document_form
from bench.dashboard.screens.dialogs.leaving_forms import leave_form
from bench.dashboard.screens.dialogs.more_menu import MoreMenu
from bench.dashboard.screens.dialogs.selling_forms import return_form, sell_form
from bench.dashboard.screens.dialogs.specification_forms import intake_form, specification_form
from bench.dashboard.screens.expenses import ExpensesScreen
from bench.dashboard.screens.faults import FaultsScreen, ShopFaultsScreen
from bench.dashboard.screens.first import FirstScreen
from bench.dashboard.screens.grading import GradingScreen
from bench.dashboard.screens.lots import LotsScreen
from bench.dashboard.screens.model_page import ModelPageScreen
from bench.dashboard.screens.models import ModelsScreen
from bench.dashboard.screens.money import MoneyScreen
from bench.dashboard.screens.months import MonthsScreen
from bench.dashboard.screens.next_up import NextUpScreen
from bench.dashboard.screens.orders import OrdersScreen
from bench.dashboard.screens.papers import PapersScreen
from bench.dashboard.screens.parts import PartsScreen
from bench.dashboard.screens.parts_shelf import PartsShelfScreen
from bench.dashboard.screens.photographs import PhotographsScreen
from bench.dashboard.screens.register import RegisterScreen
from bench.dashboard.screens.repair_job import JobScreen
from bench.dashboard.screens.repair_jobs import JobsScreen
from bench.dashboard.screens.three_ways import ThreeWaysScreen
from bench.dashboard.screens.trade import TradeScreen
from bench.dashboard.screens.unit import UnitScreen
from bench.dashboard.screens.wiping import WipingScreen
from bench.desk import Desk
from tests.screen.host import opened, runs, settled, texts, until
from tests.screen.waiting import first_screen
from tests.screen.workshop import new_unit

OPENS = {
    "w": ThreeWaysScreen,
    "u": ModelPageScreen,
    "a": ModelsScreen,
    "n": NextUpScreen,
    "b": BuyingScreen,
    "l": LotsScreen,
    "r": RegisterScreen,
    "y": MonthsScreen,
    "1": ShopFaultsScreen,
    "2": JobsScreen,
    "3": ExpensesScreen,
    "t": TradeScreen,
    "i": intake_form,
    "e": specification_form,
    "c": ConditionScreen,
    "f": FaultsScreen,
    "d": WipingScreen,
    "p": PartsScreen,
    "g": GradingScreen,
    "o": PhotographsScreen,
    "m": MoneyScreen,
    "s": sell_form,
    "k": return_form,
    "x": leave_form,
    "h": PapersScreen,
    "j": JobScreen,
    "4": save_document_form,
    "q": OrdersScreen,
    "v": PartsShelfScreen,
    "z": OrdersScreen,
}
BEGINS, OPENS_THE_DEMO = "5", "6"
AT_ONCE = {"f2": NextUpScreen, "f3": BuyingScreen, "f4": LotsScreen, "f5": RegisterScreen, "f6": MonthsScreen}


def test_every_line_has_a_screen_behind_it() -> None:
    """The papers alone have two: of the unit, or of all that are marked."""
    several = {one.keys for one in (*OF_THE_SHOP, *OF_A_UNIT) if len(one.ways) != 1}
    assert several == {"h"}
    assert {one.keys for one in (*OF_THE_SHOP, *OF_A_UNIT)} == {*OPENS, BEGINS, OPENS_THE_DEMO}


async def test_a_shop_that_has_begun_is_not_begun_again(desk: Desk) -> None:
    unit_id = new_unit(desk)
    async with opened(desk, UnitScreen(unit_id)) as (app, pilot):
        await pilot.press("f", BEGINS)
        await until(pilot, lambda: isinstance(app.screen, UnitScreen) and bool(app._notifications))
        assert "has begun already" in next(iter(app._notifications)).message


async def test_the_demo_is_asked_of_whoever_started_the_program(desk: Desk) -> None:
    async with first_screen(desk) as (screen, pilot):
        await pilot.press("f", OPENS_THE_DEMO)
        await until(pilot, lambda: screen.app.return_code == OPENS_DEMO)


async def test_each_letter_opens_its_screen_from_a_unit(desk: Desk) -> None:
    unit_id = new_unit(desk)
    async with opened(desk, UnitScreen(unit_id), (120, 36)) as (app, pilot):
        for letter, screen in OPENS.items():
            await pilot.press("f")
            await until(pilot, lambda: isinstance(app.screen, MoreMenu))
            await pilot.press(letter)
            await until(pilot, lambda screen=screen: runs(app.screen, screen))
            await settled(pilot)
            await pilot.press("escape")
            await until(pilot, lambda: isinstance(app.screen, UnitScreen))


@pytest.mark.parametrize("size", [(80, 24), (120, 36), (200, 50)])
async def test_every_line_is_seen_whole_without_scrolling(desk: Desk, size: tuple[int, int]) -> None:
    unit_id = new_unit(desk)
    async with opened(desk, UnitScreen(unit_id), size) as (app, pilot):
        await pilot.press("f")
        await until(pilot, lambda: isinstance(app.screen, MoreMenu))
        await settled(pilot)
        assert app.screen.query_one("#box").max_scroll_y == 0
        for names in app.screen.query(OptionList):
            assert names.size.height == names.option_count
            assert names.virtual_size.height == names.option_count


async def test_at_80_columns_the_line_below_tells_what_the_one_under_the_cursor_opens(desk: Desk) -> None:
    unit_id = new_unit(desk)
    async with opened(desk, UnitScreen(unit_id), (80, 24)) as (app, pilot):
        await pilot.press("f")
        await until(pilot, lambda: isinstance(app.screen, MoreMenu))
        await pilot.press("down")
        await settled(pilot)
        assert str(app.screen.query_one("#opens", Static).content) == act_on("more", "wiping").tooltip
        await pilot.resize_terminal(120, 36)
        await settled(pilot)
        assert not app.screen.query_one("#opens").display
        assert act_on("more", "wiping").tooltip in str(
            app.screen.query_one("#of-unit", OptionList).get_option("wiping").prompt
        )


async def test_left_and_right_go_to_the_other_column(desk: Desk) -> None:
    unit_id = new_unit(desk)
    async with opened(desk, UnitScreen(unit_id), (80, 24)) as (app, pilot):
        await pilot.press("f", "down", "left", "left", "enter")
        await until(pilot, lambda: isinstance(app.screen, BuyingScreen))


async def test_it_opens_what_is_under_its_cursor_and_closes(desk: Desk) -> None:
    unit_id = new_unit(desk)
    async with opened(desk, UnitScreen(unit_id)) as (app, pilot):
        await pilot.press("f", "down", "enter")
        await until(pilot, lambda: isinstance(app.screen, WipingScreen))
        await settled(pilot)
        await pilot.press("escape", "f", "escape")
        await until(pilot, lambda: isinstance(app.screen, UnitScreen))


async def test_without_a_unit_only_the_shops_screens_are_offered(desk: Desk) -> None:
    async with opened(desk, MoreMenu(None)) as (app, pilot):
        await pilot.press("c")
        await settled(pilot)
        assert isinstance(app.screen, MoreMenu)
        await pilot.press("b")
        await until(pilot, lambda: app.answers == ["buying"])


@pytest.mark.parametrize("key", AT_ONCE)
async def test_the_first_screen_opens_them_at_once(desk: Desk, key: str) -> None:
    new_unit(desk)
    async with first_screen(desk) as (first, pilot):
        await pilot.press(key)
        await until(pilot, lambda: isinstance(pilot.app.screen, AT_ONCE[key]))
        await pilot.press("escape")
        await until(pilot, lambda: isinstance(pilot.app.screen, FirstScreen))
        await pilot.press("f", "m")
        await until(pilot, lambda: isinstance(pilot.app.screen, MoneyScreen))
        assert first.unit_here() is not None


async def test_the_mouse_does_what_the_keys_do(desk: Desk) -> None:
    unit_id = new_unit(desk)
    async with opened(desk, UnitScreen(unit_id)) as (app, pilot):
        bar = texts(app.screen.query_one("KeyBar"))
        await pilot.click("KeyBar", offset=(bar.index("more"), 0))
        await until(pilot, lambda: isinstance(app.screen, MoreMenu))
        await settled(pilot)
        await pilot.click("#of-shop", offset=(8, 2))
        await until(pilot, lambda: isinstance(app.screen, BuyingScreen))
