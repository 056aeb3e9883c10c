"""The settings' screen: the shop, its people and its stages, changed, added, put in order, removed."""

from __future__ import annotations

import pytest

from bench.dashboard.screens.dialogs.settings_forms import shop_form
from bench.dashboard.screens.routes import RoutesScreen
from bench.dashboard.screens.settings import SettingsScreen
from bench.dashboard.screens.trade import TradeScreen
from bench.desk import Desk
from bench.views.shop import read_people, read_shop, read_stages
from tests.screen.host import Host, opened, runs, settled, texts, typed, until
from tests.screen.undoing import undo_newest


def stages(desk: Desk) -> list[str]:
    return [one.name for one in read_stages(desk)]


def put_cursor(app: Host, words: str) -> None:
    assert isinstance(app.screen, SettingsScreen)
    rows = app.screen.table("rows").rows
    rows.move_to(next(n for n, row in enumerate(rows.items) if words in row.cells[0].text))


@pytest.mark.parametrize("size", [(80, 24), (120, 36), (200, 50)])
async def test_all_that_is_set_is_shown(desk: Desk, size: tuple[int, int]) -> None:
    async with opened(desk, SettingsScreen(), size) as (app, _):
        for words in ("My workshop", "Europe/Berlin", "Ada", "refitted", "cover off", "listed"):
            assert words in texts(app.screen)


async def test_the_way_to_trading_and_routes_is_there(desk: Desk) -> None:
    async with opened(desk, SettingsScreen()) as (app, pilot):
        for words, screen in (("Trading", TradeScreen), ("Routes", RoutesScreen)):
            put_cursor(app, words)
            await pilot.press("enter")
            await until(pilot, lambda screen=screen: runs(app.screen, screen))
            await settled(pilot)
            await pilot.press("escape")
            await until(pilot, lambda: isinstance(app.screen, SettingsScreen))


async def test_the_shop_is_changed_and_a_wrong_zone_keeps_the_typing(desk: Desk) -> None:
    async with opened(desk, SettingsScreen()) as (app, pilot):
        await pilot.press("enter")
        await until(pilot, lambda: runs(app.screen, shop_form))
        await settled(pilot)
        form = app.screen
        assert runs(form, shop_form)
        form.field("name").put("[b]Bench[/b]")
        form.field("zone").put("Here/There")
        await pilot.press("ctrl+s")
        await settled(pilot)
        assert "is not a time zone" in form.field("zone").said
        assert form.value("name") == "[b]Bench[/b]"
        form.field("zone").put("UTC")
        form.field("rate_text").put("24")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "[b]Bench[/b]" in texts(app.screen))
    shop = read_shop(desk)
    assert (shop.zone, shop.rate_minor_per_hour) == ("UTC", 2400)


async def test_people_come_are_renamed_and_go(desk: Desk) -> None:
    async with opened(desk, SettingsScreen()) as (app, pilot):
        put_cursor(app, "Ada")
        await pilot.press("n")
        await settled(pilot)
        await typed(pilot, "Bo")
        await pilot.press("enter")
        await until(pilot, lambda: "Bo" in texts(app.screen))
        put_cursor(app, "Bo")
        await pilot.press("e")
        await settled(pilot)
        await pilot.press("end", "b", "enter")
        await until(pilot, lambda: "Bob" in texts(app.screen))
        put_cursor(app, "Bob")
        await pilot.press("x")
        await until(pilot, lambda: [one.name for one in read_people(desk)] == ["Ada"])


async def test_stages_are_added_ordered_opened_and_removed(desk: Desk) -> None:
    async with opened(desk, SettingsScreen()) as (app, pilot):
        put_cursor(app, "closed")
        await pilot.press("n")
        await settled(pilot)
        await typed(pilot, "painted")
        await pilot.press("enter")
        await until(pilot, lambda: "painted" in texts(app.screen))
        at = stages(desk).index("closed")
        assert stages(desk)[at + 1] == "painted"
        put_cursor(app, "painted")
        await pilot.press("minus")
        await until(pilot, lambda: stages(desk).index("painted") == at)
        await pilot.press("l")
        await until(pilot, lambda: next(one.lid_off for one in read_stages(desk) if one.name == "painted"))
        await pilot.press("s")
        await until(pilot, lambda: next(one.lists for one in read_stages(desk) if one.name == "painted"))
        await pilot.press("x")
        await until(pilot, lambda: "painted" not in stages(desk))
        await undo_newest(pilot)
        await until(pilot, lambda: "painted" in stages(desk))


async def test_what_means_a_stage_says_so_elsewhere_and_escape_goes_back(desk: Desk) -> None:
    before = stages(desk)
    async with opened(desk, SettingsScreen()) as (app, pilot):
        await pilot.press("plus", "l")
        await settled(pilot)
        assert stages(desk) == before
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])
