"""The trading settings on the screen: settings, channels, the scale of grades."""

from __future__ import annotations

import pytest
from textual.widgets import Static

from bench.dashboard.screens.dialogs.settings_forms import channel_form, step_form, trade_form
from bench.dashboard.screens.trade import TradeScreen
from bench.desk import Desk
from bench.views.grades import read_scale
from bench.views.trade import read_channels, read_trade
from bench.work.drafts import save_draft
from bench.work.trade import add_channel
from tests.screen.host import Host, opened, runs, sentences, settled, texts, typed, until
from tests.screen.undoing import undo_newest

SIZES = [(80, 24), (120, 36), (200, 50)]


def put_cursor(app: Host, key: tuple[str, int]) -> None:
    assert isinstance(app.screen, TradeScreen)
    rows = app.screen.table("rows").rows
    rows.move_to(next(n for n, row in enumerate(rows.items) if row.key == key))


@pytest.mark.parametrize("size", SIZES)
async def test_all_that_is_set_stands_there(desk: Desk, size: tuple[int, int]) -> None:
    add_channel(desk, "market [x]", share_text="10", fixed_text="0.35")
    async with opened(desk, TradeScreen(), size) as (app, pilot):
        assert "market [x]" in texts(app.screen)
        assert "10 % and 0.35 EUR" in texts(app.screen)
        await pilot.press("end")
        await until(pilot, lambda: read_scale(desk)[-1].name in texts(app.screen))
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])


async def test_the_settings_are_changed_and_an_error_keeps_the_typing(desk: Desk) -> None:
    async with opened(desk, TradeScreen(), (120, 36)) as (app, pilot):
        await pilot.press("e")
        await until(pilot, lambda: runs(app.screen, trade_form))
        await settled(pilot)
        form = app.screen
        assert runs(form, trade_form)
        assert "Not advice" in str(form.query_one("#known", Static).render())
        await pilot.press("space")
        form.field("hold_days_text").put("two weeks")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "waiting period" in sentences(app).casefold())
        form.field("hold_days_text").put("14")
        form.field("margin_tax_text").put("19")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "on, 19 % (not advice)" in texts(app.screen))
        await undo_newest(pilot)
        await until(pilot, lambda: "off" in texts(app.screen))
    assert read_trade(desk).hold_days == 0


async def test_channels_come_and_go(desk: Desk) -> None:
    async with opened(desk, TradeScreen(), (120, 36)) as (app, pilot):
        await pilot.press("n")
        await until(pilot, lambda: runs(app.screen, channel_form))
        await settled(pilot)
        await typed(pilot, "fair")
        app.screen.field("share_text").put("5 %")  # type: ignore[attr-defined]
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "fair" in texts(app.screen))
        channel = next(one for one in read_channels(desk) if one.name == "fair")
        put_cursor(app, ("channel", channel.channel_id))
        await pilot.press("enter")
        await settled(pilot)
        assert app.screen.field("share_text").value == "5 %"  # type: ignore[attr-defined]
        await pilot.press("escape")
        await settled(pilot)
        await pilot.press("x")
        await until(pilot, lambda: "fair" not in texts(app.screen))


async def test_the_scale_is_the_shops_own(desk: Desk) -> None:
    worst = [step for step in read_scale(desk) if step.side == "looks"][-1]
    async with opened(desk, TradeScreen(), (120, 36)) as (app, pilot):
        put_cursor(app, ("step", worst.step_id))
        await pilot.press("n")
        await until(pilot, lambda: runs(app.screen, step_form))
        await settled(pilot)
        await typed(pilot, "battered")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "meaning is empty" in sentences(app))
        app.screen.field("meaning").put("Dents [all] over.")  # type: ignore[attr-defined]
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "Dents [all] over." in texts(app.screen))
        step = next(one for one in read_scale(desk) if one.name == "battered")
        put_cursor(app, ("step", step.step_id))
        await pilot.press("minus")
        await until(pilot, lambda: [one.name for one in read_scale(desk)][-2] == "battered")
        await pilot.press("x")
        await until(pilot, lambda: "battered" not in texts(app.screen))


async def test_half_filled_settings_are_there_after_a_crash(desk: Desk) -> None:
    save_draft(desk, "trade_form", {"warranty_text": "90"})
    async with opened(desk, trade_form()) as (app, _):
        assert app.screen.field("warranty_text").value == "90"  # type: ignore[attr-defined]
