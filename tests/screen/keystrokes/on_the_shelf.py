"""Consumables: a low one restocked, all of them counted."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.quantities import THOUSANDTHS
from bench.domain.starting_set import ISOPROPYL
from bench.views.stock import read_history, read_stock
from bench.work.consumables import edit_consumable
from bench.work.stock import restock
from tests.screen.keystrokes.person import Person, Pressed
from tests.screen.waiting import first_screen
from tests.screen.workshop import fill_shelf, level

SUPPLIER, PRICE, REASON = "Oxlip Supply", "12.50", "month end"
COUNTED = 3  # counted of each


def _one_low(desk: Desk) -> int:
    """Everything on the shelf, isopropyl below its reorder point and bought once before."""
    fill_shelf(desk)
    line = level(desk, ISOPROPYL)
    restock(desk, line.consumable_id, packs_text="1", price_text=PRICE, supplier=SUPPLIER)
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


async def restock_a_low_one(desk: Desk) -> Pressed:
    consumable_id = _one_low(desk)
    suggested = level(desk).suggest_packs
    async with first_screen(desk) as (_, pilot):
        ada = Person(pilot)
        await ada.press("r", "ctrl+s")
    newest = read_history(desk, consumable_id).movements[0]
    assert (newest.quantity, newest.supplier) == (suggested * 1000 * THOUSANDTHS, SUPPLIER)
    assert newest.cost_minor == suggested * 1250
    return ada.pressed


async def stocktake(desk: Desk) -> Pressed:
    fill_shelf(desk)
    lines = read_stock(desk).lines
    async with first_screen(desk) as (_, pilot):
        ada = Person(pilot)
        await ada.press("t", "a")
        for _ in lines:
            await ada.write(str(COUNTED))
            await ada.press("enter")
        await ada.write(REASON)
        await ada.press("enter")
    assert {one.on_hand for one in read_stock(desk).lines} == {COUNTED * THOUSANDTHS}
    return ada.pressed
