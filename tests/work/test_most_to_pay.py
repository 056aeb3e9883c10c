"""The most to pay from the shop's own times, stock and settings, by hand to the minor unit."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.domain.offers import OfferTyped
from bench.domain.price_sheet import PriceSheet
from bench.domain.unit_money import MoneyLine, total
from bench.errors import BadInput, NotFound
from bench.views.most_to_pay import read_most_to_pay, read_offer_price
from bench.views.price_rows import read_price_rows
from bench.work.buying import save_offer
from bench.work.comebacks import take_return
from bench.work.purchases import edit_purchase
from bench.work.selling import sell_unit
from bench.work.stock import restock
from bench.work.trade import add_channel, remove_channel
from tests.clocks import MINUTE_US, HandSetClock
from tests.work.sale_steps import stage
from tests.work.trade_steps import CHARGER_LEAD, finish_all, new_unit, set_rate, set_trade, work_on

TUBING = 5  # the charger-lead route takes 0.12 m of it
POST = 2
NO_SALES = (
    "The price with at most 20 % chance of a loss cannot be told yet: "
    "0 of 5 sold units with an expected price."
)

NOT_TYPED = "Not typed and left out of the price: shipping to the buyer, inward freight, buyer's premium."


@pytest.fixture
def shop(desk: Desk) -> Desk:
    """30 an hour, 10 % reserve, 40 wanted, a channel at 12.5 % and 0.35, 5 m of tubing for 6.00."""
    set_rate(desk, "30")
    set_trade(desk, wanted_margin_text="40")
    assert add_channel(desk, "by post", share_text="12.5", fixed_text="0.35") == POST
    restock(desk, TUBING, quantity_text="5 m", price_text="6")
    return desk


def price(desk: Desk, **typed: object) -> PriceSheet:
    asked: dict[str, object] = {
        "expected_text": "300",
        "route_id": CHARGER_LEAD,
        "channel_id": POST,
        "parts_text": "20",
    }
    return read_most_to_pay(desk, **{**asked, **typed})  # type: ignore[arg-type]


def amounts(lines: tuple[MoneyLine, ...]) -> list[int]:
    return [line.amount_minor for line in lines]


def five_jobs(desk: Desk, clock: HandSetClock) -> None:
    for minutes in (20, 100, 30, 50, 40):
        unit_id = new_unit(desk, route_id=CHARGER_LEAD)
        work_on(desk, clock, unit_id, minutes)
        finish_all(desk, unit_id)


def test_with_the_routes_estimates_by_hand(shop: Desk) -> None:
    # 300.00 expected
    #  -37.85 fees: 12.5 % of 300 = 37.50, and 0.35
    #  -20.00 parts
    #   -0.14 0.12 m of tubing: 6.00 x 0.12 / 5 = 0.144
    #  -27.50 10 + 30 + 15 min hands-on at 30 an hour
    #  -30.00 reserve, 10 %
    #  -40.00 margin wanted
    #  144.51
    sheet = price(shop)
    assert amounts(sheet.answer.lines) == [30_000, -3_785, -2_000, -14, -2_750, -3_000, -4_000]
    assert sheet.answer.price_minor == sheet.answer.price_80_minor == total(sheet.answer.lines) == 14_451
    assert (sheet.time.median_us, sheet.time.jobs) == (55 * MINUTE_US, 0)
    assert sheet.doubts == (
        "The time is the route's own estimate: no job of this route has been finished yet.",
        NOT_TYPED,
        NO_SALES,
    )


def test_with_margin_tax_by_hand(shop: Desk) -> None:
    # p + (300 - p) / 6 <= 144.51 gives p <= 113.412; at 113.41 the tax is 186.59 / 6 = 31.098, so 31.10
    set_trade(shop, margin_scheme=True, wanted_margin_text="40")
    sheet = price(shop)
    assert sheet.answer.price_minor == total(sheet.answer.lines) == 11_341
    assert amounts(sheet.answer.lines)[-1] == -3_110
    assert sheet.answer.lines[-1].note == "20 % on sale less purchase, the shop's setting"


def test_from_five_jobs_on_the_shops_own_times_count(shop: Desk, clock: HandSetClock) -> None:
    # 20, 30, 40, 50, 100 min: median 40, 80th percentile 50 + 0.2 x 50 = 60; at 30 an hour 20.00 and 30.00
    five_jobs(shop, clock)
    sheet = price(shop)
    assert (sheet.time.median_us, sheet.time.p80_us, sheet.time.jobs) == (40 * MINUTE_US, 60 * MINUTE_US, 5)
    assert (sheet.answer.price_minor, sheet.answer.price_80_minor) == (15_201, 14_201)
    assert sheet.doubts == ("The time rests on 5 finished jobs of this route.", NOT_TYPED, NO_SALES)
    assert sheet.answer.lines[4].note == "5 finished jobs"


def test_units_still_at_work_and_units_without_time_say_nothing(shop: Desk, clock: HandSetClock) -> None:
    five_jobs(shop, clock)
    begun = new_unit(shop, route_id=CHARGER_LEAD)
    work_on(shop, clock, begun, 500)
    finish_all(shop, new_unit(shop, route_id=CHARGER_LEAD))
    other = new_unit(shop, route_id=1)
    work_on(shop, clock, other, 500)
    assert price(shop).time.jobs == 5


def test_few_jobs_are_told_but_do_not_count(shop: Desk, clock: HandSetClock) -> None:
    unit_id = new_unit(shop, route_id=CHARGER_LEAD)
    work_on(shop, clock, unit_id, 600)
    finish_all(shop, unit_id)
    sheet = price(shop)
    assert sheet.time.median_us == 55 * MINUTE_US
    assert "1 finished job is too few" in sheet.doubts[0]
    assert sheet.answer.lines[4].note == "the route's estimate, 1 finished so far"
    assert sheet.answer.lines[4].rows == 3


def test_reserve_and_margin_can_be_typed(shop: Desk) -> None:
    sheet = price(shop, reserve_text="5", wanted_text="0", asking_text="150")
    assert amounts(sheet.answer.lines)[-2:] == [-1_500, 0]
    assert [line.opens for line in sheet.answer.lines[-2:]] == ["", ""]
    assert sheet.answer.lines[-2].note == "5 % of the expected price, typed for this unit"
    # 144.51 + 15 + 40 = 199.51, asked are 150
    assert (sheet.answer.price_minor, sheet.over_minor) == (19_951, -4_951)
    assert price(shop).over_minor is None


def test_what_is_missing_is_said(desk: Desk) -> None:
    sheet = price(desk, route_id=None, channel_id=None, parts_text="")
    assert sheet.answer.price_minor == 27_000
    assert sheet.doubts == (
        "No route is chosen: neither time nor consumables are in the price.",
        "No channel is chosen: no fees are in the price.",
        "The shop's hourly rate is 0: time costs nothing in the price.",
        NOT_TYPED,
        NO_SALES,
    )
    unpriced = price(desk, channel_id=1)
    assert "No price is known of heat-shrink tubing 6 mm 3:1" in unpriced.doubts[1]
    assert unpriced.answer.lines[3].note == "1 of 1 without a known price"


def test_nothing_is_left_to_pay(shop: Desk) -> None:
    sheet = price(shop, expected_text="50")
    assert sheet.answer.price_minor == 0
    assert total(sheet.answer.lines) < 0


def test_every_line_with_rows_opens_them(shop: Desk, clock: HandSetClock) -> None:
    def rows(opens: str) -> tuple[str, list[str]]:
        found = read_price_rows(shop, opens, route_id=CHARGER_LEAD, channel_id=POST)
        assert (found.currency, found.zone) == ("EUR", "Europe/Berlin")
        return found.title, [row.words for row in found.rows]

    def sizes() -> dict[str, int]:
        return {line.opens: line.rows for line in price(shop).answer.lines if line.opens}

    assert sizes() == {"fees": 1, "consumables": 1, "time": 3, "reserve": 1, "margin": 1}
    assert len(rows("time")[1]) == 3
    five_jobs(shop, clock)
    for opens, size in sizes().items():
        assert len(rows(opens)[1]) == (3 if opens in ("reserve", "margin") else size)
    assert rows("fees") == ("Channel fees", ["by post"])
    assert rows("time")[0] == "Finished jobs of this route"
    times = read_price_rows(shop, "time", route_id=CHARGER_LEAD, channel_id=None).rows
    assert sum(row.length_us or 0 for row in times) == 240 * MINUTE_US
    used = read_price_rows(shop, "consumables", route_id=CHARGER_LEAD, channel_id=None).rows
    assert [(row.amount_minor, row.detail) for row in used] == [(-14, "0.12 m, from stock, oldest first")]
    assert read_price_rows(shop, "fees", route_id=None, channel_id=None).rows == ()
    assert read_price_rows(shop, "time", route_id=None, channel_id=None).rows == ()
    with pytest.raises(NotFound, match="it was typed"):
        read_price_rows(shop, "parts", route_id=None, channel_id=None)


def test_an_offer_is_priced_as_it_stands(shop: Desk) -> None:
    typed = OfferTyped(
        "M", "300", route_id=CHARGER_LEAD, channel_id=POST, parts_text="20", asking_text="144.52"
    )
    sheet = read_offer_price(shop, save_offer(shop, typed))
    assert (sheet.answer.price_minor, sheet.over_minor) == (14_451, 1)
    assert (sheet.route, sheet.channel, sheet.currency) == ("charger lead", "by post", "EUR")
    remove_channel(shop, POST)
    assert read_offer_price(shop, 1).answer.price_minor == 14_451
    with pytest.raises(NotFound, match="no offer with number 9"):
        read_offer_price(shop, 9)


@pytest.mark.parametrize(
    ("typed", "error"),
    [
        ({"expected_text": ""}, BadInput),
        ({"expected_text": "-3"}, BadInput),
        ({"parts_text": "some"}, BadInput),
        ({"reserve_text": "110"}, BadInput),
        ({"wanted_text": "x"}, BadInput),
        ({"route_id": 99}, NotFound),
        ({"channel_id": 99}, NotFound),
    ],
)
def test_what_cannot_be_priced(shop: Desk, typed: dict[str, object], error: type[Exception]) -> None:
    with pytest.raises(error):
        price(shop, **typed)


def test_the_price_at_a_set_chance_of_loss_rests_on_what_units_fetched(desk: Desk) -> None:
    # Of five units 100.00 was expected: 50, 80, 100 and 120 came, and 90, of which 30 was given back.
    set_trade(desk, loss_chance_text="20")
    assert (
        read_most_to_pay(desk, expected_text="100", route_id=None, channel_id=None).risk.price_minor is None
    )
    for price in ("50", "80", "100", "120", "90"):
        unit_id = new_unit(desk, "10", route_id=CHARGER_LEAD)
        edit_purchase(desk, unit_id, expected_text="100", bought_on_text="", invoice="")
        sell_unit(desk, unit_id, price_text=price, open_tasks="skip", reason="x")
    take_return(desk, unit_id, reason="a dent", refund_text="30", stage_id=stage(desk, "received"))
    risk = read_most_to_pay(desk, expected_text="100", route_id=None, channel_id=None).risk
    assert (risk.price_minor, risk.sales, risk.chance_per_10000) == (6_000, 5, 2_000)
    set_trade(desk, loss_chance_text="0")
    assert (
        read_most_to_pay(desk, expected_text="100", route_id=None, channel_id=None).risk.price_minor == 5_000
    )
