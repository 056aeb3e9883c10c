"""A use case says of each wrong value which one it is, of several at once, and changes nothing."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from bench.desk import Desk
from bench.domain.lots import LotUnit
from bench.domain.offers import OfferTyped
from bench.domain.party import PartyTyped
from bench.errors import BadInput
from bench.views.journal import read_journal
from bench.views.particulars import unit_by_tag
from bench.views.unit import read_unit
from bench.work.buying import save_offer
from bench.work.comebacks import take_return
from bench.work.consumables import add_consumable
from bench.work.corrections import add_entry
from bench.work.drives import add_drive
from bench.work.lots import buy_lot
from bench.work.parts import fit_part, swap_parts
from bench.work.purchases import edit_purchase
from bench.work.readings import add_reading
from bench.work.route_tasks import add_route_task
from bench.work.selling import sell_unit
from bench.work.shop import edit_shop
from bench.work.stock import count_stock, restock
from bench.work.tasks import add_task
from bench.work.trade import add_channel, edit_trade
from bench.work.units import add_unit, edit_unit
from bench.work.wipes import record_wipe
from tests.work.looked_into import looked_into

UNIT, CONSUMABLE, STAGE, ROUTE = 1, 1, 2, 1


@pytest.fixture
def unit_id(desk: Desk) -> int:
    return add_unit(desk, maker="Maker", model="Model 9", route_id=ROUTE).unit_id


def fields_wrong(act: Callable[[], object]) -> list[str]:
    with pytest.raises(BadInput) as caught:
        act()
    assert all(str(fault) in str(caught.value) for fault in caught.value.faults)
    return [fault.field for fault in caught.value.faults]


CASES: dict[str, tuple[Callable[[Desk, int], object], list[str]]] = {
    "a new unit": (
        lambda desk, _: add_unit(
            desk, maker="a\nb", model="", due_text="someday", price_text="much", tag_text="12345"
        ),
        ["tag_text", "maker", "model", "due_text", "price_text"],
    ),
    "a unit corrected": (
        lambda desk, unit: edit_unit(
            desk,
            unit,
            maker="",
            model="",
            serial="",
            note="",
            due_text="x",
            price_text="",
            tag_text="77777",
        ),
        ["tag_text", "model", "due_text"],
    ),
    "a consumable": (
        lambda desk, _: add_consumable(
            desk, name="", base_unit="ml", pack_text="0", lead_days_text="-1", shelf_life_text="x"
        ),
        ["name", "pack_text", "lead_days_text", "shelf_life_text"],
    ),
    "a delivery": (
        lambda desk, _: restock(desk, CONSUMABLE, packs_text="x", price_text="-2", date_text="2999-01-01"),
        ["packs_text", "price_text", "date_text"],
    ),
    "a delivery by amount": (
        lambda desk, _: restock(desk, CONSUMABLE, quantity_text="x", expires_text="x"),
        ["quantity_text", "expires_text"],
    ),
    "a count": (
        lambda desk, _: count_stock(desk, CONSUMABLE, quantity_text="x", reason=""),
        ["quantity_text", "reason"],
    ),
    "a lot": (
        lambda desk, _: buy_lot(desk, name="", price_text="x", units=(LotUnit(maker="", model="M"),)),
        ["name_of_lot", "price_text"],
    ),
    "a lot's units": (
        lambda desk, _: buy_lot(
            desk,
            name="Lot",
            price_text="10",
            units=(
                LotUnit(maker="", model="M", tag_text="11111"),
                LotUnit(maker="", model="M"),
                LotUnit(maker="a\nb", model="M"),
            ),
        ),
        ["tag_text_1", "maker_3"],
    ),
    "an offer": (
        lambda desk, _: save_offer(
            desk,
            OfferTyped(
                model="",
                expected_text="x",
                asking_text="y",
                seller=PartyTyped(name="", address="Road 1", contact=""),
            ),
        ),
        ["name", "model", "asking_text", "expected_text"],
    ),
    "a purchase": (
        lambda desk, unit: edit_purchase(
            desk, unit, expected_text="x", bought_on_text="2999-01-01", invoice="a\nb"
        ),
        ["expected_text", "bought_on_text", "invoice"],
    ),
    "a sale": (
        lambda desk, unit: sell_unit(
            desk, unit, price_text="x", shipping_text="y", sold_on_text="2999-01-01", warranty_days_text="z"
        ),
        ["price_text", "shipping_text", "sold_on_text", "warranty_days_text"],
    ),
    "a part": (
        lambda desk, unit: fit_part(desk, unit, name="", cost_text="", serial="a\nb"),
        ["name", "serial", "cost_text"],
    ),
    "a swap": (
        lambda desk, unit: swap_parts(
            desk,
            unit,
            add_unit(desk, maker="", model="M").unit_id,
            name="fan",
            cost_a_text="x",
            cost_b_text="y",
        ),
        ["cost_a_text", "cost_b_text"],
    ),
    "a drive": (
        lambda desk, unit: add_drive(desk, unit, maker="a\nb", serial="S1", size_text="big"),
        ["maker", "size_text"],
    ),
    "a wipe": (
        lambda desk, unit: record_wipe(
            desk, add_drive(desk, unit, serial="S1"), method="", technique="", at_text="x"
        ),
        ["method", "technique", "at_text"],
    ),
    "a task": (
        lambda desk, unit: add_task(
            desk, unit, name="", stage_id=STAGE, estimate_text="x", unattended=False, lid_off=False
        ),
        ["name", "estimate_text"],
    ),
    "a route's task": (
        lambda desk, _: add_route_task(
            desk, ROUTE, name="", stage_id=STAGE, estimate_text="x", unattended=False, lid_off=False
        ),
        ["name", "estimate_text"],
    ),
    "a time entry": (
        lambda desk, unit: add_entry(
            desk, read_unit(desk, unit).tasks[0].task_id, start_text="x", stop_text="y", reason=""
        ),
        ["start_text", "reason"],
    ),
    "a reading": (
        lambda desk, unit: add_reading(
            desk, unit, moment="before", subject="battery", fields={"cycles": "x", "design": "y"}
        ),
        ["design", "cycles"],
    ),
    "the shop": (
        lambda desk, _: edit_shop(
            desk,
            name="",
            currency="EUR",
            zone="Nowhere",
            rate_text="",
            forgotten_times_text="x",
            forgotten_least_text="y",
        ),
        ["name", "zone", "forgotten_times_text", "forgotten_least_text"],
    ),
    "trading": (
        lambda desk, _: edit_trade(
            desk,
            margin_scheme=False,
            margin_tax_text="x",
            hold_days_text="x",
            keep_private_text="x",
            risk_reserve_text="x",
            wanted_margin_text="x",
            warranty_text="x",
        ),
        [
            "margin_tax_text",
            "hold_days_text",
            "keep_private_text",
            "risk_reserve_text",
            "wanted_margin_text",
            "warranty_text",
        ],
    ),
    "a channel": (
        lambda desk, _: add_channel(desk, "", share_text="x", fixed_text="y"),
        ["name", "share_text", "fixed_text"],
    ),
    "a tag": (lambda desk, _: unit_by_tag(desk, "12345"), ["tag_text"]),
}


@pytest.mark.parametrize("what", CASES)
def test_each_wrong_value_is_named_at_once(desk: Desk, unit_id: int, what: str) -> None:
    act, wrong = CASES[what]
    assert fields_wrong(lambda: act(desk, unit_id)) == wrong


def test_nothing_is_changed_by_what_is_wrong(desk: Desk, unit_id: int) -> None:
    before = read_journal(desk)
    assert fields_wrong(lambda: CASES["a unit corrected"][0](desk, unit_id))
    assert read_journal(desk) == before
    assert read_unit(desk, unit_id).model == "Model 9"


def test_a_refund_above_the_price_is_the_refunds_fault(desk: Desk) -> None:
    unit_id = looked_into(desk, add_unit(desk, maker="", model="M").unit_id)
    sell_unit(desk, unit_id, price_text="10")
    wrong = fields_wrong(lambda: take_return(desk, unit_id, reason="", refund_text="x", stage_id=STAGE))
    assert wrong == ["reason", "refund_text"]
    wrong = fields_wrong(lambda: take_return(desk, unit_id, reason="why", refund_text="11", stage_id=STAGE))
    assert wrong == ["refund_text"]
