"""What next: ranked by margin still to earn per minute still to spend, the sums in it by hand."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.domain.next_up import NextLine, NextUp, ShippingOut, shipping_words
from bench.domain.offers import OfferTyped
from bench.reports.next_up import next_text
from bench.views.next_up import read_ranking
from bench.views.unit import read_unit
from bench.work.buying import buy_offer, save_offer
from bench.work.comebacks import take_return
from bench.work.lots import make_donor
from bench.work.moves import hold_unit, move_unit
from bench.work.outcomes import end_test
from bench.work.parts import fit_part
from bench.work.purchases import edit_purchase
from bench.work.safety import report_cell
from bench.work.selling import sell_unit
from bench.work.stock import restock
from bench.work.timers import finish_task, start_task
from bench.work.trade import add_channel
from tests.clocks import HandSetClock
from tests.work.bookkeeping import ISOPROPYL
from tests.work.looked_into import looked_into_if_need_be
from tests.work.sale_steps import stage
from tests.work.trade_steps import CHARGER_LEAD, new_unit, set_trade, work_on


def expect(desk: Desk, unit_id: int, text: str, bought_on: str = "", sent: str = "0") -> None:
    edit_purchase(desk, unit_id, expected_text=text, bought_on_text=bought_on, invoice="", shipping_text=sent)


def line(view: NextUp, unit_id: int) -> NextLine:
    return next(one for one in view.lines if one.unit_id == unit_id)


@pytest.fixture
def first(desk: Desk, clock: HandSetClock) -> int:
    """80.00 paid, a part for 20.00, alcohol for 0.24; 200.00 expected. One task is over its time."""
    restock(desk, ISOPROPYL, quantity_text="1000", price_text="12")
    unit_id = new_unit(desk, "80", route_id=CHARGER_LEAD)
    expect(desk, unit_id, "200")
    fit_part(desk, unit_id, name="battery", cost_text="20")
    work_on(desk, clock, unit_id, 25)
    work_on(desk, clock, unit_id, 12.5, task=1)
    end_test(desk, unit_id, kind="charger", outcome="passed", uses={ISOPROPYL: 20_000})
    return unit_id


TUBING = 5


def test_the_sums_by_hand(desk: Desk, first: int) -> None:
    # What was paid is spent either way: 200 expected, less 120 mm of tubing at 5.00 a metre: 199.40 to come.
    # The first task is past its 10 min, half of which it still takes (none took longer yet); of 30 are 17.5
    # left, and 15: 37.5, so 38 min. 199.40 x 60 / 38 = 314.8421
    restock(desk, TUBING, quantity_text="1", price_text="5")
    [one] = read_ranking(desk).lines
    assert (one.place, one.tag, one.model, one.stage) == (1, "10014", "Maker M", "received")
    assert (one.expected_minor, one.to_spend_minor, one.fees_minor, one.unpriced) == (20_000, 60, 0, ())
    assert (one.to_earn_minor, one.minutes_left, one.per_hour_minor) == (19_940, 38, 31_484)
    assert one.reason == "Earns 199.40 EUR more in 38 min hands-on, 314.84 EUR per hour."
    assert one.next_task == "look over charger and lead, unplugged"


def test_what_was_paid_for_a_unit_moves_it_nowhere(desk: Desk, first: int) -> None:
    before = line(read_ranking(desk), first)
    fit_part(desk, first, name="display", cost_text="100")
    assert line(read_ranking(desk), first) == before


def test_a_price_that_is_not_known_is_named(desk: Desk, first: int) -> None:
    one = line(read_ranking(desk), first)
    assert (one.to_spend_minor, one.unpriced) == (0, ("heat-shrink tubing 6 mm 3:1",))


def test_a_running_timer_takes_from_the_time_left(desk: Desk, first: int, clock: HandSetClock) -> None:
    start_task(desk, read_unit(desk, first).tasks[1].task_id)
    clock.advance(minutes=7.5)
    assert read_ranking(desk).lines[0].minutes_left == 30
    clock.advance(minutes=60)
    # Both are past their estimates now: 5 and 15 min, and 15 of the third
    assert read_ranking(desk).lines[0].minutes_left == 35


def test_past_its_estimate_a_task_takes_what_such_tasks_took_beyond(
    desk: Desk, first: int, clock: HandSetClock
) -> None:
    # Two others took 35 and 55 min, one 20: beyond the 25 spent 10 and 30, on average 20. 20 + 17.5 + 15.
    for minutes in (35, 55, 20):
        other = new_unit(desk, "1", route_id=CHARGER_LEAD)
        work_on(desk, clock, other, minutes)
        finish_task(desk, read_unit(desk, other).tasks[0].task_id, uses={})
    assert line(read_ranking(desk), first).minutes_left == 53


def test_tax_on_the_margin_is_still_to_pay(desk: Desk, first: int) -> None:
    set_trade(desk, margin_scheme=True)
    one = read_ranking(desk).lines[0]
    # (200 - 80) / 6 = 20.00
    assert (one.fees_minor, one.to_earn_minor) == (2_000, 18_000)


def test_fees_are_those_of_the_channel_meant(desk: Desk) -> None:
    post = add_channel(desk, "by post", share_text="10", fixed_text="1")
    typed = OfferTyped("M", "300", route_id=CHARGER_LEAD, channel_id=post, parts_text="40")
    unit_id = buy_offer(desk, save_offer(desk, typed), price_text="250").unit_id
    # 300 - 31, and a part of 40.00 still to buy, in 55 min
    one = line(read_ranking(desk), unit_id)
    assert (one.fees_minor, one.to_spend_minor, one.to_earn_minor, one.minutes_left) == (
        3_100,
        4_000,
        22_900,
        55,
    )
    fit_part(desk, unit_id, name="battery", cost_text="30")
    assert line(read_ranking(desk), unit_id).to_spend_minor == 1_000
    fit_part(desk, unit_id, name="fan", cost_text="30")
    assert line(read_ranking(desk), unit_id).to_spend_minor == 0


def test_what_came_back_earns_its_next_sale(desk: Desk, first: int) -> None:
    post = add_channel(desk, "by post", share_text="10")
    expect(desk, first, "200", sent="")
    looked_into_if_need_be(desk, first)
    sell_unit(
        desk, first, price_text="200", channel_id=post, shipping_text="7", open_tasks="skip", reason="x"
    )
    take_return(desk, first, reason="dead", refund_text="200", stage_id=stage(desk, "received"))
    # 200 less the fee of the channel it was sold through and what sending it there took; what the first sale
    # lost is lost. Nothing left to do: 1 min
    one = line(read_ranking(desk), first)
    assert (one.fees_minor, one.to_earn_minor) == (2_000, 17_300)
    assert (one.minutes_left, one.next_task) == (1, "")


def sent_for(desk: Desk, channel_id: int | None, *costs: str) -> None:
    """Units sold through the channel for 50, each sent at one of these costs."""
    for cost in costs:
        unit_id = new_unit(desk, "10", route_id=CHARGER_LEAD)
        looked_into_if_need_be(desk, unit_id)
        sell_unit(
            desk,
            unit_id,
            price_text="50",
            channel_id=channel_id,
            shipping_text=cost,
            open_tasks="skip",
            reason="x",
        )


def meant_for(desk: Desk, channel_id: int, **typed: str) -> int:
    offer = OfferTyped("M", "300", route_id=CHARGER_LEAD, channel_id=channel_id, **typed)
    return buy_offer(desk, save_offer(desk, offer), price_text="100").unit_id


def ranked(desk: Desk, unit_id: int) -> NextLine:
    return line(read_ranking(desk), unit_id)


def test_shipping_is_the_median_of_what_the_channels_sales_took(desk: Desk) -> None:
    # 5, 7 and 12 by post, one more of which it was never typed, and 90 by another channel: 7.00 of 300.00
    post, other = add_channel(desk, "by post"), add_channel(desk, "by crate")
    sent_for(desk, post, "12", "5", "", "7")
    sent_for(desk, other, "90")
    one = ranked(desk, meant_for(desk, post))
    assert one.shipping == ShippingOut(700, "50 % of 3 sales through by post cost no more")
    assert (one.to_spend_minor, one.to_earn_minor) == (700, 29_300)
    told = "Shipping to the buyer: 7.00 EUR, 50 % of 3 sales through by post cost no more."
    assert told == shipping_words(one, "EUR")
    assert told in " ".join(next_text(read_ranking(desk)).split())


def test_shipping_typed_for_the_unit_stands_before_the_median(desk: Desk) -> None:
    post = add_channel(desk, "by post")
    sent_for(desk, post, "12")
    one = ranked(desk, meant_for(desk, post, shipping_text="4"))
    assert (one.shipping, one.to_earn_minor) == (ShippingOut(400, "as typed for it"), 29_600)
    free = ranked(desk, meant_for(desk, post, shipping_text="0"))
    assert (free.shipping, free.to_earn_minor) == (ShippingOut(0, "as typed for it"), 30_000)


def test_shipping_that_nothing_tells_is_named_and_not_taken_for_0(desk: Desk) -> None:
    post = add_channel(desk, "by post")
    sent_for(desk, post, "")
    one = ranked(desk, meant_for(desk, post))
    assert one.shipping == ShippingOut(None, "not typed, and no sale through by post tells it")
    assert shipping_words(one, "EUR").startswith("Shipping to the buyer is not in it")
    assert "Shipping to the buyer is not in it" in " ".join(next_text(read_ranking(desk)).split())


def test_shipping_moves_a_unit_down(desk: Desk) -> None:
    post = add_channel(desk, "by post")
    near = meant_for(desk, post, shipping_text="1")
    far = meant_for(desk, post, shipping_text="40")
    nearer = meant_for(desk, post, shipping_text="0")
    assert [one.unit_id for one in read_ranking(desk).lines] == [nearer, near, far]


def test_the_order_and_its_reasons(desk: Desk, first: int) -> None:
    slow = new_unit(desk, "80", route_id=1)
    expect(desk, slow, "200")
    unknown = new_unit(desk, "5", route_id=CHARGER_LEAD)
    loss = new_unit(desk, "300", route_id=CHARGER_LEAD)
    expect(desk, loss, "200")
    late = new_unit(desk, "1", route_id=1, due_text="2026-11-24")
    later = new_unit(desk, "1", route_id=1, due_text="2026-11-20")
    expect(desk, later, "0")
    view = read_ranking(desk)
    assert [one.unit_id for one in view.lines] == [later, late, first, loss, slow, unknown]
    assert [one.place for one in view.lines] == [1, 2, 3, 4, 5, 6]
    assert [one.past_due for one in view.lines] == [True, True, False, False, False, False]
    assert line(view, late).reason.startswith("Past due by 1 day; no expected price typed")
    assert line(view, later).reason.startswith("Past due by 5 days; earns at most -0.30 EUR more in")
    assert line(view, unknown).to_earn_minor == 0
    assert line(view, loss).to_earn_minor == 20_000  # 300 paid for it is spent either way
    assert (view.waiting, view.currency, view.zone) == ((), "EUR", "Europe/Berlin")
    assert "past due first" in view.how


def test_what_cannot_be_worked_on_stands_apart_with_the_reason(desk: Desk, first: int) -> None:
    held, swollen, donor, fresh, gone = (new_unit(desk, "10") for _ in range(5))
    hold_unit(desk, held, "fan on order")
    report_cell(desk, swollen, "swollen")
    make_donor(desk, donor)
    set_trade(desk, hold_days_text="14")
    expect(desk, fresh, "50", "2026-11-20")
    looked_into_if_need_be(desk, gone)
    move_unit(desk, gone, stage(desk, "sold"))
    view = read_ranking(desk)
    assert [one.unit_id for one in view.lines] == [first]
    assert {one.unit_id: one.why for one in view.waiting} == {
        held: "on hold: fan on order",
        swollen: "work stopped: a swollen cell",
        donor: "donor, kept for its parts",
        fresh: "waiting period until 2026-12-04",
    }


def test_an_empty_queue(desk: Desk) -> None:
    view = read_ranking(desk)
    assert (view.lines, view.waiting) == ((), ())
