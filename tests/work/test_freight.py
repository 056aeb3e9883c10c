"""Buyer's premium, inward freight and shipping in cost so far, break-even and most to pay; and the tax.

The margin's purchase price takes no other costs in (UK HMRC VAT Notice 718, as in tests/published); a premium
is a part of what the supplier obtains (EU Directive 2006/112/EC, Article 312; from memory), freight is not.
"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.desk import Desk
from bench.domain.lots import LotUnit
from bench.domain.margin_tax import margin_tax_minor
from bench.domain.most_to_pay import TimeGuess, most_to_pay_for
from bench.domain.offers import OfferTyped
from bench.domain.unit_money import fee_minor, total
from bench.errors import BadInput, Refused
from bench.views.lots import read_lot
from bench.views.money_rows import read_money_rows
from bench.views.months import read_month
from bench.views.most_to_pay import read_most_to_pay, read_offer_price
from bench.views.offers import read_offer
from bench.views.purchase import read_purchase
from bench.views.register import read_register
from bench.views.unit_money import read_unit_money
from bench.work.buying import buy_offer, save_offer
from bench.work.lots import buy_lot, reshare_lot
from bench.work.purchases import edit_purchase
from tests.work.bookkeeping import footprint
from tests.work.sale_steps import sell, stocked, trading

EXTRA: dict[str, Any] = {"bought_on_text": "", "invoice": ""}


def bought(desk: Desk, **typed: str) -> int:
    unit_id = stocked(desk)
    edit_purchase(desk, unit_id, expected_text="700", **EXTRA, **typed)
    return unit_id


def test_freight_is_cost_and_no_part_of_the_price_that_is_taxed(desk: Desk) -> None:
    """300 + 12 freight, sold for 700 at 20 %: tax a sixth of 400, not of 388; margin 400 - 66.67 - 12."""
    trading(desk)
    unit_id = bought(desk, freight_text="12")
    money = read_unit_money(desk, unit_id)
    assert [(line.words, line.amount_minor) for line in money.cost_so_far] == [
        ("price paid", 30_000),
        ("inward freight", 1_200),
    ]
    assert sell(desk, unit_id).tax_minor == 6_667
    assert read_unit_money(desk, unit_id).margin_minor == 40_000 - 6_667 - 1_200
    month = read_month(desk)
    assert {line.words: line.amount_minor for line in month.lines}["inward freight"] == -1_200
    assert total(month.lines) == month.total.margin_minor == 40_000 - 6_667 - 1_200


def test_a_premium_is_a_part_of_the_price_paid_and_of_the_margin_tax(desk: Desk) -> None:
    """300 + 30 premium, sold for 700 at 20 %: tax a sixth of 370 = 61.67."""
    trading(desk)
    unit_id = bought(desk, premium_text="30", freight_text="12")
    assert [row.amount_minor for row in read_money_rows(desk, unit_id, "purchase").rows] == [
        *(30_000, 3_000, 1_200)
    ]
    assert read_register(desk).lines[0].purchase_minor == 33_000
    assert sell(desk, unit_id).tax_minor == 6_167


def test_break_even_brings_freight_and_premium_back(desk: Desk) -> None:
    """Without fees or tax the price that brings back 300 + 30 + 12 is 342."""
    unit_id = bought(desk, premium_text="30", freight_text="12")
    assert read_unit_money(desk, unit_id).break_even_minor == 34_200


def test_typed_anew_they_replace_what_was_and_none_leaves_them(desk: Desk) -> None:
    unit_id = bought(desk, premium_text="30", freight_text="12")
    edit_purchase(desk, unit_id, expected_text="650", **EXTRA)
    assert read_unit_money(desk, unit_id).cost_so_far_minor == 34_200
    edit_purchase(desk, unit_id, expected_text="650", **EXTRA, premium_text="10", freight_text="")
    assert read_unit_money(desk, unit_id).cost_so_far_minor == 31_000
    unpriced, before = stocked(desk, ""), footprint(desk)
    with pytest.raises(BadInput, match="no price paid is typed"):
        edit_purchase(desk, unpriced, expected_text="", **EXTRA, premium_text="1")
    assert footprint(desk) == before


def test_of_a_lot_they_are_shared_like_the_price_to_the_last_minor_unit(desk: Desk) -> None:
    """100 + 10.01 premium and 0.05 freight over three that are expected to bring alike."""
    units = [LotUnit("Maker", name, expected_text="90") for name in ("One", "Two", "Three")]
    lot = buy_lot(
        desk, name="three", price_text="100", premium_text="10.01", freight_text="0.05", units=units
    )
    money = [read_unit_money(desk, share.unit_id) for share in lot.shares]
    assert lot.price_minor == 11_001
    assert [one.cost_so_far[0].amount_minor for one in money] == [3_334, 3_333, 3_333]
    assert [one.cost_so_far[1].amount_minor for one in money] == [334, 334, 333]
    assert [one.cost_so_far[2].amount_minor for one in money] == [2, 2, 1]
    assert sum(unit.share_minor for unit in read_lot(desk, lot.lot_id).lines) == 11_001
    with pytest.raises(Refused, match="share of its lot"):
        edit_purchase(desk, lot.shares[0].unit_id, expected_text="90", **EXTRA, premium_text="1")
    sell(desk, lot.shares[0].unit_id, "80")
    reshare_lot(desk, lot.lot_id, expected={lot.shares[1].unit_id: "900"})
    assert sum(read_unit_money(desk, share.unit_id).cost_so_far_minor for share in lot.shares) == 11_006


def test_most_to_pay_takes_them_off(desk: Desk) -> None:
    """700 less 70 reserve, 9 shipping, 12 freight: 609 in all, of which 10 % premium: 553.64 + 55.36."""
    typed: dict[str, Any] = {"expected_text": "700", "route_id": None, "channel_id": None}
    sheet = read_most_to_pay(desk, **typed, shipping_text="9", freight_text="12", premium_text="10")
    told = {line.words: line.amount_minor for line in sheet.answer.lines}
    assert (told["shipping to the buyer"], told["inward freight"]) == (-900, -1_200)
    assert (sheet.answer.price_minor, told["buyer's premium"]) == (55_364, -5_536)
    assert not any("Not typed" in doubt for doubt in sheet.doubts)


def test_shipping_not_typed_is_said_and_not_taken_for_0(desk: Desk) -> None:
    typed: dict[str, Any] = {"expected_text": "700", "route_id": None, "channel_id": None}
    sheet = read_most_to_pay(desk, **typed)
    told = {line.words: line.amount_minor for line in sheet.answer.lines}
    assert "shipping to the buyer" not in told
    assert "Not typed and left out of the price: shipping to the buyer, inward freight, buyer's premium." in (
        sheet.doubts
    )
    partly = read_most_to_pay(desk, **typed, freight_text="0", premium_text="0")
    assert "Not typed and left out of the price: shipping to the buyer." in partly.doubts


def test_an_offer_keeps_them_and_its_purchase_carries_them_on(desk: Desk) -> None:
    """100 paid and 10 % premium: 110.00, of which 10.00; the most to pay is the same as typed at once."""
    typed = {"premium_text": "10", "freight_text": "12", "shipping_text": "9"}
    number = save_offer(desk, OfferTyped("M", "700", **typed))
    asked = read_most_to_pay(desk, expected_text="700", route_id=None, channel_id=None, **typed)
    assert read_offer_price(desk, number) == asked
    unit_id = buy_offer(desk, number, price_text="100").unit_id
    bought = read_purchase(desk, unit_id)
    assert (bought.price_minor, bought.premium_minor, bought.freight_minor) == (11_000, 1_000, 1_200)
    assert bought.shipping_minor == 900
    assert read_unit_money(desk, unit_id).cost_so_far_minor == 12_200


def test_what_an_offer_does_not_know_stays_unknown(desk: Desk) -> None:
    number = save_offer(desk, OfferTyped("M", "700"))
    offer = read_offer(desk, number)
    assert (offer.premium_per_10000, offer.freight_minor, offer.shipping_minor) == (None, None, None)
    assert any(doubt.startswith("Not typed") for doubt in read_offer_price(desk, number).doubts)
    unit_id = buy_offer(desk, number, price_text="100", freight_text="0").unit_id
    assert read_purchase(desk, unit_id).shipping_minor is None
    edit_purchase(desk, unit_id, expected_text="700", **EXTRA, shipping_text="0")
    assert read_purchase(desk, unit_id).shipping_minor == 0
    edit_purchase(desk, unit_id, expected_text="700", **EXTRA, shipping_text="")
    assert read_purchase(desk, unit_id).shipping_minor is None


def test_what_is_typed_on_buying_stands_before_the_offers(desk: Desk) -> None:
    typed = {"premium_text": "10", "freight_text": "12", "shipping_text": "9"}
    number = save_offer(desk, OfferTyped("M", "700", **typed))
    unit_id = buy_offer(
        desk, number, price_text="100", premium_text="20", freight_text="", shipping_text=""
    ).unit_id
    bought = read_purchase(desk, unit_id)
    assert (bought.price_minor, bought.premium_minor, bought.freight_minor) == (12_000, 2_000, 0)
    assert bought.shipping_minor is None


@pytest.mark.parametrize("field", ["premium_text", "freight_text", "shipping_text"])
def test_an_offer_takes_no_nonsense(desk: Desk, field: str) -> None:
    before = footprint(desk)
    with pytest.raises(BadInput) as caught:
        save_offer(desk, OfferTyped("M", "700", **{field: "much"}))
    assert caught.value.field == field
    assert footprint(desk) == before


@given(
    expected=st.integers(0, 10**6),
    premium=st.integers(0, 3_000),
    rate=st.integers(0, 2_700),
    freight=st.integers(0, 10**5),
)
def test_one_minor_unit_more_would_not_be_covered(
    expected: int, premium: int, rate: int, freight: int
) -> None:
    answer = most_to_pay_for(
        expected_minor=expected,
        fee_per_10000=0,
        fee_fixed_minor=0,
        parts_minor=0,
        consumables_minor=0,
        time=TimeGuess(0, 0, 0),
        rate_minor_per_hour=0,
        reserve_per_10000=0,
        wanted_margin_minor=0,
        tax_per_10000=rate,
        shipping_minor=0,
        freight_minor=freight,
        premium_per_10000=premium,
    )

    def left(price: int) -> int:
        paid = price + fee_minor(price, premium, 0)
        return expected - freight - paid - margin_tax_minor(paid, expected, rate)

    assert left(answer.price_minor + 1) < 0
    assert answer.price_minor == 0 or left(answer.price_minor) >= 0
