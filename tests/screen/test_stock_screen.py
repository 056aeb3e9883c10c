"""The stock book's screen: levels, marks, the forms its keys open, what is removed and taken back."""

from __future__ import annotations

import pytest

from bench.dashboard.screens.dialogs.stock_forms import consumable_form, count_form, restock_form
from bench.dashboard.screens.stock import ConsumableScreen, StockScreen
from bench.desk import Desk
from bench.domain.starting_set import ISOPROPYL
from bench.work.consumables import add_consumable, edit_consumable
from bench.work.stock import count_stock, restock
from tests.screen.host import opened, runs, settled, texts, typed, until
from tests.screen.undoing import undo_newest
from tests.screen.workshop import fill_shelf, level

SIZES = [(80, 24), (120, 36), (200, 50)]


@pytest.mark.parametrize("size", SIZES)
async def test_levels_stand_in_the_table(desk: Desk, size: tuple[int, int]) -> None:
    fill_shelf(desk)
    add_consumable(
        desk, name="[/] grease", base_unit="g", pack_text="5", lead_days_text="3", reorder_text="4"
    )
    async with opened(desk, StockScreen(), size) as (app, _):
        shown = texts(app.screen)
        assert "1000 ml" in shown
        assert "[/] grease" in shown
        assert "↓ NONE" in shown
        assert "1 low" in shown


async def test_each_key_opens_its_form_for_the_line_under_the_cursor(desk: Desk) -> None:
    fill_shelf(desk)
    opens = {"r": restock_form, "k": count_form, "e": consumable_form, "n": consumable_form}
    async with opened(desk, StockScreen()) as (app, pilot):
        await pilot.press("down")
        for key, dialog in opens.items():
            await pilot.press(key)
            await until(pilot, lambda dialog=dialog: runs(app.screen, dialog))
            await settled(pilot)
            await pilot.press("escape")
            await until(pilot, lambda: isinstance(app.screen, StockScreen))
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, ConsumableScreen))


@pytest.mark.parametrize("size", SIZES[1:])
async def test_what_moved_of_the_one_under_the_cursor_stands_below(desk: Desk, size: tuple[int, int]) -> None:
    fill_shelf(desk)
    count_stock(desk, level(desk).consumable_id, quantity_text="900", reason="[b]spilt[/b]")
    async with opened(desk, StockScreen(), size) as (app, pilot):
        screen = app.screen
        assert isinstance(screen, StockScreen)
        rows, moved = screen.table("rows").rows, screen.table("moved")
        rows.move_to(next(n for n, row in enumerate(rows.items) if row.key == level(desk).consumable_id))
        await until(pilot, lambda: "[b]spilt[/b]" in texts(moved))
        assert [row.cells[3].text for row in moved.rows.items] == ["-100 ml", "+1000 ml"]
        rows.move_to(next(n for n, row in enumerate(rows.items) if row.key != level(desk).consumable_id))
        await until(pilot, lambda: len(moved.rows.items) == 1)
        count_stock(desk, screen.consumable_here() or 0, quantity_text="1", reason="lost")
        await until(pilot, lambda: "lost" in texts(moved))


async def test_a_delivery_is_shown_at_once(desk: Desk) -> None:
    async with opened(desk, StockScreen()) as (app, pilot):
        await pilot.press("r")
        await settled(pilot)
        await typed(pilot, "2")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "40 pieces" in texts(app.screen))


async def test_removing_can_be_taken_back(desk: Desk) -> None:
    add_consumable(desk, name="a grease", base_unit="g", pack_text="5", lead_days_text="3")
    async with opened(desk, StockScreen()) as (app, pilot):
        await pilot.press("home", "x")
        await until(pilot, lambda: "a grease" not in texts(app.screen))
        await undo_newest(pilot)
        await until(pilot, lambda: "a grease" in texts(app.screen))
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])


async def test_low_ones_come_first_and_the_cursor_stays_on_its_line(desk: Desk) -> None:
    fill_shelf(desk)
    async with opened(desk, StockScreen()) as (app, pilot):
        await pilot.press("down")
        screen = app.screen
        assert isinstance(screen, StockScreen)
        here = screen.consumable_here()
        line = level(desk)
        edit_consumable(
            desk,
            line.consumable_id,
            name=ISOPROPYL,
            base_unit="ml",
            pack_text="1000",
            lead_days_text="5",
            reorder_text="5000",
        )
        await until(pilot, lambda: texts(screen.table("rows")).index(ISOPROPYL) < 200)
        assert screen.consumable_here() == here


async def test_what_expired_is_flagged(desk: Desk) -> None:
    line = level(desk)
    restock(desk, line.consumable_id, packs_text="1", date_text="2026-01-05", expires_text="2026-02-01")
    async with opened(desk, StockScreen(), (120, 36)) as (app, _):
        assert "! EXPIRED" in texts(app.screen)


async def test_the_mouse_does_what_the_keys_do(desk: Desk) -> None:
    async with opened(desk, StockScreen()) as (app, pilot):
        screen = app.screen
        assert isinstance(screen, StockScreen)
        first = screen.consumable_here()
        await pilot.click(screen.table("rows").rows, offset=(5, 2))
        assert screen.consumable_here() != first
        bar = texts(screen.query_one("KeyBar"))
        await pilot.click("KeyBar", offset=(bar.index("count"), 0))
        await until(pilot, lambda: runs(app.screen, count_form))
        await pilot.click("#do-cancel")
        await until(pilot, lambda: app.screen is screen)
        await pilot.click(screen.table("rows").rows, offset=(5, 3), times=2)
        await until(pilot, lambda: isinstance(app.screen, ConsumableScreen))
