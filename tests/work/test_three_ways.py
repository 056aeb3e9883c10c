"""Repair, sell as is, part out: each sum by hand, what is not known is said, and nothing sold is compared."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.domain.offers import OfferTyped
from bench.domain.three_ways import AS_IS, PART_OUT, PARTS, REPAIR, ThreeWays
from bench.errors import BadInput, NotFound, Refused
from bench.reports.three_ways import three_ways_text
from bench.views.next_up import read_ranking
from bench.views.orders import read_order
from bench.views.three_ways import read_three_ways
from bench.work.arrivals import complain, refund_order, send_back, take_in
from bench.work.buying import buy_offer, save_offer
from bench.work.comebacks import take_return
from bench.work.faults import add_fault, edit_fault
from bench.work.orders import cancel_order, order_part
from bench.work.parts import fit_from_shelf
from bench.work.purchases import edit_purchase
from bench.work.undo import redo, undo
from bench.work.way_estimates import set_way_estimate
from tests.work.sale_steps import sell, stage, stocked
from tests.work.trade_steps import CHARGER_LEAD, COUNTER, last_summary, new_unit, set_rate, set_trade


def expect(desk: Desk, unit_id: int, text: str, sent: str = "10") -> None:
    edit_purchase(desk, unit_id, expected_text=text, bought_on_text="", invoice="", shipping_text=sent)


@pytest.fixture
def unit_id(desk: Desk) -> int:
    """Paid 100, expected to fetch 300, sent for 10; 55 minutes hands-on at 12.00 an hour; no tax."""
    set_trade(desk)
    set_rate(desk, "12")
    unit_id = new_unit(desk, "100", route_id=CHARGER_LEAD)
    expect(desk, unit_id, "300")
    return unit_id


def both(desk: Desk, unit_id: int) -> ThreeWays:
    """Sold as it is for 150 after 10 minutes, or in parts for 200 after 90."""
    set_way_estimate(desk, unit_id, AS_IS, price_text="150", minutes_text="10", note="one like it")
    set_way_estimate(desk, unit_id, PART_OUT, price_text="200", minutes_text="1:30")
    return read_three_ways(desk, unit_id)


def cash(ways: ThreeWays) -> list[int | None]:
    return [way.cash_minor for way in ways.ways]


def left(ways: ThreeWays) -> list[int | None]:
    return [way.after_labour_minor(ways.rate_minor_per_hour) for way in ways.ways]


def test_each_sum_by_hand(desk: Desk, unit_id: int) -> None:
    ways = both(desk, unit_id)
    assert cash(ways) == [29_000, 14_000, 20_000]  # less 10 to send it, parts apart
    assert left(ways) == [29_000 - 1100, 14_000 - 200, 20_000 - 1800]
    assert ways.most is ways.way(REPAIR)
    assert ways.way(PART_OUT).per_hour_minor == 13_333  # 200 in an hour and a half
    assert "one like it" in three_ways_text(ways)


def test_repair_is_what_the_ranking_says_is_still_to_earn(desk: Desk, unit_id: int) -> None:
    set_trade(desk, margin_scheme=True)
    ranked = next(one for one in read_ranking(desk).lines if one.unit_id == unit_id)
    repair = read_three_ways(desk, unit_id).way(REPAIR)
    assert repair.cash_minor == ranked.to_earn_minor
    assert repair.minutes == ranked.minutes_left


def test_tax_is_on_the_margin_of_each_price(desk: Desk, unit_id: int) -> None:
    set_trade(desk, margin_scheme=True)
    # 20 % within the margin: (300 - 100) / 6, (150 - 100) / 6, (200 - 100) / 6
    assert cash(both(desk, unit_id)) == [29_000 - 3333, 14_000 - 833, 20_000 - 1667]


def test_it_tips_when_the_repaired_price_falls(desk: Desk, unit_id: int) -> None:
    both(desk, unit_id)
    expect(desk, unit_id, "180")
    ways = read_three_ways(desk, unit_id)
    assert ways.most is ways.way(PART_OUT)
    assert "Part out leaves most" in ways.words


def test_what_is_not_known_is_said_and_nothing_is_compared(desk: Desk, unit_id: int) -> None:
    ways = read_three_ways(desk, unit_id)
    assert cash(ways) == [29_000, None, None]
    assert ways.most is None
    assert "sell as is and part out" in ways.words
    set_way_estimate(desk, unit_id, AS_IS, price_text="150", minutes_text="")
    set_way_estimate(desk, unit_id, PART_OUT, price_text="200", minutes_text="90")
    ways = read_three_ways(desk, unit_id)
    assert left(ways)[1] is None, "no time was typed"
    assert ways.most is None


def test_own_sales_stand_in_for_a_price_that_was_not_typed(desk: Desk, unit_id: int) -> None:
    expect(desk, unit_id, "")
    assert cash(read_three_ways(desk, unit_id))[0] is None
    for price in ("200", "260", "280"):
        sold = new_unit(desk, "50")
        sell(desk, sold, price, channel_id=COUNTER)
    repair = read_three_ways(desk, unit_id).way(REPAIR)
    assert repair.cash_minor == 26_000 - 1000
    assert "3 sold, today" in repair.lines[0].rests_on


def test_what_was_typed_can_be_changed_emptied_and_undone(desk: Desk, unit_id: int) -> None:
    both(desk, unit_id)
    set_way_estimate(desk, unit_id, AS_IS, price_text="", minutes_text="", note="")
    assert cash(read_three_ways(desk, unit_id))[1] is None
    undo(desk)
    assert cash(read_three_ways(desk, unit_id))[1] == 14_000
    redo(desk)
    assert cash(read_three_ways(desk, unit_id))[1] is None
    set_way_estimate(desk, unit_id, AS_IS, price_text="120", minutes_text="5")
    assert cash(read_three_ways(desk, unit_id))[1] == 11_000


def test_typing_the_same_or_nothing_says_nothing(desk: Desk, unit_id: int) -> None:
    before = last_summary(desk)
    set_way_estimate(desk, unit_id, AS_IS, price_text=" ", minutes_text="")
    assert last_summary(desk) == before


@pytest.mark.parametrize(("price", "minutes"), [("much", "10"), ("-3", "10"), ("150", "soon")])
def test_what_cannot_be_read_changes_nothing(desk: Desk, unit_id: int, price: str, minutes: str) -> None:
    with pytest.raises(BadInput):
        set_way_estimate(desk, unit_id, AS_IS, price_text=price, minutes_text=minutes)
    assert read_three_ways(desk, unit_id).estimates == ()


def test_neither_an_unknown_unit_nor_an_unknown_way(desk: Desk, unit_id: int) -> None:
    with pytest.raises(NotFound):
        read_three_ways(desk, 999)
    with pytest.raises(BadInput):
        set_way_estimate(desk, unit_id, REPAIR, price_text="1", minutes_text="1")


def test_what_is_sold_is_not_the_shops_to_sell(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id)
    with pytest.raises(Refused, match="not for sale"):
        read_three_ways(desk, unit_id)
    take_return(desk, unit_id, reason="x", refund_text="", stage_id=stage(desk, "inspected"))
    with pytest.raises(Refused, match="not for sale"):
        read_three_ways(desk, unit_id)
    undo(desk)
    take_return(desk, unit_id, reason="x", refund_text="700", stage_id=stage(desk, "inspected"), ours=True)
    assert cash(read_three_ways(desk, unit_id))[0] is None


def parts_line(desk: Desk, unit_id: int) -> tuple[int | None, str]:
    """What parts still take, as the ways and the ranking say alike, and what that rests on."""
    line = next(one for one in read_three_ways(desk, unit_id).way(REPAIR).lines if one.what == PARTS)
    ranked = next((one for one in read_ranking(desk).lines if one.unit_id == unit_id), None)
    if ranked is not None:
        repair = read_three_ways(desk, unit_id).way(REPAIR)
        assert repair.cash_minor == ranked.to_earn_minor
    return line.amount_minor, line.rests_on


@pytest.fixture
def offered(desk: Desk) -> int:
    """Bought for 100, with parts for 50 to be bought."""
    set_trade(desk)
    typed = OfferTyped(
        "M", "300", route_id=CHARGER_LEAD, channel_id=COUNTER, parts_text="50", shipping_text="0"
    )
    return buy_offer(desk, save_offer(desk, typed), price_text="100").unit_id


def test_a_part_counts_once_from_the_offer_to_the_fitting(desk: Desk, offered: int) -> None:
    assert parts_line(desk, offered)[0] == -5000
    order = order_part(desk, offered, what="fan", price_text="20", freight_text="5")
    assert parts_line(desk, offered)[0] == -5000  # the offer spoke of it
    assert "25.00 EUR of its parts on order" in parts_line(desk, offered)[1]
    take_in(desk, order.order_id)
    assert parts_line(desk, offered)[0] == -2500  # paid, and on the shelf
    part_id = read_order(desk, order.order_id).part_id
    assert part_id is not None
    fit_from_shelf(desk, part_id, offered)
    assert parts_line(desk, offered)[0] == -2500
    undo(desk)
    undo(desk)
    assert parts_line(desk, offered)[0] == -5000
    cancel_order(desk, order.order_id, "not needed")
    assert parts_line(desk, offered) == (-5000, "as its offer said, less what was bought since")


def test_orders_beyond_the_offer_are_still_to_be_paid(desk: Desk, offered: int) -> None:
    order_part(desk, offered, what="board", price_text="120")
    order_part(desk, offered, what="screws", wanted=True)
    amount, rests_on = parts_line(desk, offered)
    assert amount == -12_000
    assert "no price known of 1 on order" in rests_on


def test_a_wrong_part_is_bought_again(desk: Desk, unit_id: int) -> None:
    """Without an offer: what is on order, and nothing else."""
    wrong = order_part(desk, unit_id, what="fan", price_text="18")
    assert parts_line(desk, unit_id)[0] == -1800
    take_in(desk, wrong.order_id)
    assert parts_line(desk, unit_id)[0] == 0
    complain(desk, wrong.order_id, found="wrong", note="turns the other way")
    assert parts_line(desk, unit_id)[0] == 0
    order_part(desk, unit_id, what="fan", price_text="22", instead_of_id=wrong.order_id)
    assert parts_line(desk, unit_id)[0] == -2200
    send_back(desk, wrong.order_id)
    refund_order(desk, wrong.order_id, refund_text="18")
    assert parts_line(desk, unit_id)[0] == -2200


def test_a_part_ordered_for_it_that_went_elsewhere_is_not_had(desk: Desk, offered: int, unit_id: int) -> None:
    order = order_part(desk, offered, what="fan", price_text="20")
    take_in(desk, order.order_id)
    assert parts_line(desk, offered)[0] == -3000
    part_id = read_order(desk, order.order_id).part_id
    assert part_id is not None
    fit_from_shelf(desk, part_id, unit_id)
    assert parts_line(desk, offered)[0] == -5000


def test_open_faults_stand_beside_the_ways(desk: Desk, unit_id: int) -> None:
    first = add_fault(desk, unit_id, symptom="hinge [b]cracks", place="hinge").fault_id
    add_fault(desk, unit_id, symptom="fan rattles", place="fan")
    ways = read_three_ways(desk, unit_id)
    assert [("cracks" in one, "rattles" in one) for one in ways.faults] in (
        [(True, False), (False, True)],
        [(False, True), (True, False)],
    )
    text = three_ways_text(ways)
    assert "Open faults\n" in text
    assert "hinge [b]cracks" in text
    edit_fault(desk, first, state="cured", done="a screw was gone")
    assert len(read_three_ways(desk, unit_id).faults) == 1
    undo(desk)
    assert len(read_three_ways(desk, unit_id).faults) == 2
