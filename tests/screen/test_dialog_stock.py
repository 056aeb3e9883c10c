"""Restocking and counting: the suggestion, the choice of consumable, errors that keep the typing."""

from __future__ import annotations

from textual.widgets import Static

from bench.dashboard.screens.dialogs.stock_forms import count_form, restock_form
from bench.desk import Desk
from bench.views.shop import read_draft
from bench.views.stock import read_history
from bench.work.consumables import edit_consumable
from bench.work.drafts import save_draft
from bench.work.stock import restock
from tests.screen.host import opened, runs, settled, typed, until
from tests.screen.workshop import fill_shelf, level


def make_low(desk: Desk) -> int:
    line = level(desk)
    edit_consumable(
        desk,
        line.consumable_id,
        name=line.name,
        base_unit=line.base_unit,
        pack_text="1000",
        lead_days_text="5",
        reorder_text="2500",
    )
    return line.consumable_id


async def test_the_suggested_packs_stand_there_and_are_booked(desk: Desk) -> None:
    consumable_id = make_low(desk)
    async with opened(desk, restock_form(consumable_id)) as (app, pilot):
        dialog = app.screen
        assert runs(dialog, restock_form)
        assert dialog.value("packs_text") == "3"
        assert "1000 ml" in str(dialog.query_one("#known", Static).render())
        dialog.field("price_text").put("36")
        dialog.field("supplier").put("A [b]shop[/b]")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.answers == [True])
    movement = read_history(desk, consumable_id).movements[0]
    assert (movement.quantity, movement.cost_minor, movement.supplier) == (3_000_000, 3600, "A [b]shop[/b]")


async def test_without_a_consumable_the_low_one_is_offered(desk: Desk) -> None:
    fill_shelf(desk)
    consumable_id = make_low(desk)
    async with opened(desk, restock_form()) as (app, pilot):
        dialog = app.screen
        assert runs(dialog, restock_form)
        assert dialog.value("consumable") == str(consumable_id)
        dialog.field("quantity_text").put("750 ml")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.answers == [True])
    assert level(desk).on_hand == 1_750_000


async def test_where_nothing_is_low_one_is_chosen_first(desk: Desk) -> None:
    fill_shelf(desk)
    async with opened(desk, restock_form()) as (app, pilot):
        await pilot.press("ctrl+s")
        await settled(pilot)
        dialog = app.screen
        assert runs(dialog, restock_form)
        assert "not chosen" in dialog.field("consumable").said
        assert dialog.value("price_text") == ""


async def test_price_and_supplier_are_those_of_the_last_delivery(desk: Desk) -> None:
    consumable_id = make_low(desk)
    restock(desk, consumable_id, packs_text="1", price_text="12.50", supplier="Oxlip Supply")
    async with opened(desk, restock_form()) as (app, pilot):
        dialog = app.screen
        assert runs(dialog, restock_form)
        offered = {name: dialog.value(name) for name in ("packs_text", "price_text", "supplier")}
        assert offered == {"packs_text": "2", "price_text": "25.00", "supplier": "Oxlip Supply"}
        assert "look at the bill" in str(dialog.query_one("#known", Static).render())
        dialog.field("packs_text").put("3")
        await settled(pilot)
        assert dialog.value("price_text") == "37.50"
        dialog.field("price_text").put("40")
        dialog.field("quantity_text").put("500")
        await settled(pilot)
        assert dialog.value("price_text") == "40", "what was typed stays"
        dialog.field("packs_text").put("")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.answers == [True])
    movement = read_history(desk, consumable_id).movements[0]
    assert (movement.quantity, movement.cost_minor, movement.supplier) == (500_000, 4000, "Oxlip Supply")


async def test_an_amount_that_cannot_be_read_keeps_the_typing(desk: Desk) -> None:
    consumable_id = level(desk).consumable_id
    async with opened(desk, restock_form(consumable_id)) as (app, pilot):
        dialog = app.screen
        assert runs(dialog, restock_form)
        dialog.field("quantity_text").put("2 kg")
        dialog.field("price_text").put("12")
        await pilot.press("ctrl+s")
        await settled(pilot)
        assert "kept in ml" in dialog.field("quantity_text").said
        assert dialog.value("price_text") == "12"
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])
    assert level(desk).on_hand == 0


async def test_a_count_sets_the_level(desk: Desk) -> None:
    fill_shelf(desk)
    async with opened(desk, count_form(level(desk).consumable_id)) as (app, pilot):
        await typed(pilot, "640")
        await pilot.press("enter", "enter")
        await settled(pilot)
        dialog = app.screen
        assert runs(dialog, count_form)
        assert "reason is empty" in dialog.field("reason").said
        assert "1000 ml" in str(dialog.query_one("#known", Static).render())
        await typed(pilot, "spill")
        await pilot.press("enter")
        await until(pilot, lambda: app.answers == [True])
    assert level(desk).on_hand == 640_000


async def test_a_half_filled_count_is_there_after_a_crash_with_its_consumable(desk: Desk) -> None:
    fill_shelf(desk)
    consumable_id = level(desk).consumable_id
    save_draft(desk, "count", {"consumable": str(consumable_id), "reason": "spill"})
    async with opened(desk, count_form()) as (app, pilot):
        dialog = app.screen
        assert runs(dialog, count_form)
        assert dialog.value("consumable") == str(consumable_id)
        assert dialog.value("reason") == "spill"
        dialog.field("quantity_text").put("10")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.answers == [True])
        await until(pilot, lambda: read_draft(desk, "count") == {})
    assert level(desk).on_hand == 10_000
