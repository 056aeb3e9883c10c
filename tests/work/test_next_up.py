"""What next: ranked by margin still to earn per minute still to spend, the sums in it by hand."""

from __future__ import annotations

import pytest

from bench.domain.next_up import NextLine, NextUp
from bench.domain.offers import OfferTyped
from bench.work.buying import buy_offer, save_offer
from bench.work.comebacks import take_return
from bench.work.desk import Desk
from bench.work.donors import make_donor
from bench.work.money import read_unit_money
from bench.work.moves import hold_unit, move_unit
from bench.work.next_up import read_ranking
from bench.work.parts import fit_part
from bench.work.purchases import edit_purchase
from bench.work.safety import report_cell
from bench.work.selling import sell_unit
from bench.work.stock import restock
from bench.work.timers import finish_task, start_task
from bench.work.trade import add_channel
from bench.work.unit_sheet import read_unit
from tests.clocks import HandSetClock
from tests.work.bookkeeping import ISOPROPYL
from tests.work.sale_steps import stage
from tests.work.trade_steps import CHARGER_LEAD, new_unit, set_trade, work_on


def expect(desk: Desk, unit_id: int, text: str, bought_on: str = "") -> None:
    edit_purchase(desk, unit_id, expected_text=text, bought_on_text=bought_on, invoice="")


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
    finish_task(desk, read_unit(desk, unit_id).tasks[2].task_id, uses={ISOPROPYL: 20_000})
    return unit_id


def test_the_sums_by_hand(desk: Desk, first: int) -> None:
    # 200 - (80 + 20 + 0.24) = 99.76 to earn. 10 min are over, of 30 are 17.5 left, and 15: 32.5, so 33 min.
    # 99.76 x 60 / 33 = 181.3818
    [one] = read_ranking(desk).lines
    assert (one.place, one.tag, one.model, one.stage) == (1, "10014", "Maker M", "received")
    assert (one.expected_minor, one.landed_minor, one.fees_minor, one.brought_minor) == (20_000, 10_024, 0, 0)
    assert (one.to_earn_minor, one.minutes_left, one.per_hour_minor) == (9_976, 33, 18_138)
    assert one.reason == "Earns 99.76 EUR more in 33 min at the bench, 181.38 EUR an hour."
    assert one.next_task == "look over charger and lead, out of the mains"


def test_a_running_timer_takes_from_the_time_left(desk: Desk, first: int, clock: HandSetClock) -> None:
    start_task(desk, read_unit(desk, first).tasks[1].task_id)
    clock.advance(minutes=7.5)
    assert read_ranking(desk).lines[0].minutes_left == 25
    clock.advance(minutes=60)
    assert read_ranking(desk).lines[0].minutes_left == 15


def test_landed_and_margin_agree_with_the_units_money(desk: Desk, first: int) -> None:
    set_trade(desk, margin_scheme=True)
    one = read_ranking(desk).lines[0]
    money = read_unit_money(desk, first)
    assert one.landed_minor == money.landed_minor
    # (200 - 80) / 6 = 20.00 of tax still to pay
    assert (one.fees_minor, one.to_earn_minor) == (2_000, 7_976)


def test_fees_are_those_of_the_channel_meant(desk: Desk) -> None:
    post = add_channel(desk, "by post", share_text="10", fixed_text="1")
    offer = save_offer(desk, OfferTyped("M", "300", route_id=CHARGER_LEAD, channel_id=post))
    unit_id = buy_offer(desk, offer, price_text="250").unit_id
    # 300 - 31 - 250 = 19.00 in 55 min
    one = line(read_ranking(desk), unit_id)
    assert (one.fees_minor, one.to_earn_minor, one.minutes_left) == (3_100, 1_900, 55)


def test_what_came_back_earns_only_what_is_not_lost_yet(desk: Desk, first: int) -> None:
    post = add_channel(desk, "by post", share_text="10")
    sell_unit(
        desk, first, price_text="200", channel_id=post, shipping_text="7", open_tasks="skip", reason="x"
    )
    take_return(desk, first, reason="dead", refund_text="200", stage_id=stage(desk, "received"))
    # brought: 200 - 20 - 7 - 200 = -27; to earn: 200 - 20 - 100.24 - 27 = 52.76; nothing left to do: 1 min
    one = line(read_ranking(desk), first)
    assert (one.brought_minor, one.fees_minor, one.to_earn_minor) == (-2_700, 2_000, 5_276)
    assert (one.minutes_left, one.next_task) == (1, "")
    assert one.brought_minor == read_unit_money(desk, first).brought_minor


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
    assert [one.unit_id for one in view.lines] == [later, late, first, slow, unknown, loss]
    assert [one.place for one in view.lines] == [1, 2, 3, 4, 5, 6]
    assert [one.past_due for one in view.lines] == [True, True, False, False, False, False]
    assert line(view, late).reason.startswith("Past due by 1 day; no expected price typed")
    assert line(view, later).reason.startswith("Past due by 5 days; earns -1.00 EUR more in")
    assert line(view, unknown).to_earn_minor == 0
    assert line(view, loss).to_earn_minor == -10_000
    assert (view.waiting, view.currency, view.zone) == ((), "EUR", "Europe/Berlin")
    assert "Past due first" in view.how


def test_what_cannot_be_worked_on_stands_apart_with_the_reason(desk: Desk, first: int) -> None:
    held, swollen, donor, fresh, gone = (new_unit(desk, "10") for _ in range(5))
    hold_unit(desk, held, "fan on order")
    report_cell(desk, swollen, "swollen")
    make_donor(desk, donor)
    set_trade(desk, hold_days_text="14")
    expect(desk, fresh, "50", "2026-11-20")
    move_unit(desk, gone, stage(desk, "sold"))
    view = read_ranking(desk)
    assert [one.unit_id for one in view.lines] == [first]
    assert {one.unit_id: one.why for one in view.waiting} == {
        held: "held: fan on order",
        swollen: "work stopped: a swollen cell",
        donor: "donor, kept for its parts",
        fresh: "hold period until 2026-12-04",
    }


def test_an_empty_queue(desk: Desk) -> None:
    view = read_ranking(desk)
    assert (view.lines, view.waiting) == ((), ())
