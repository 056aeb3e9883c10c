"""A sold unit comes back linked to its sale; what it takes from then on counts against it."""

from __future__ import annotations

from typing import Any

import pytest

from bench.desk import Desk
from bench.domain.selling import Returned
from bench.errors import BadInput, NotFound, Refused
from bench.views.money_rows import read_money_rows
from bench.views.months import read_month
from bench.views.next_up import read_ranking
from bench.views.queue import read_queue
from bench.views.sales import read_sales
from bench.views.unit import read_unit
from bench.views.unit_money import read_unit_money
from bench.work.comebacks import correct_return, take_return
from bench.work.moves import move_unit
from bench.work.purchases import edit_purchase
from bench.work.tasks import add_task
from bench.work.timers import finish_task, start_task
from bench.work.undo import undo
from tests.clocks import MINUTE_US, HandSetClock
from tests.work.bookkeeping import footprint, last_journal
from tests.work.looked_into import looked_into_if_need_be
from tests.work.sale_steps import MARKET, sell, stage, stocked, trading


def returned(desk: Desk, unit_id: int, refund_text: str = "700", to: str = "inspected") -> Returned:
    return take_return(desk, unit_id, reason="key E fails", refund_text=refund_text, stage_id=stage(desk, to))


def work_on(desk: Desk, clock: HandSetClock, unit_id: int, minutes: int, at: str = "inspected") -> None:
    new: dict[str, Any] = {"name": "repair", "estimate_text": "30", "unattended": False, "lid_off": False}
    task_id = add_task(desk, unit_id, stage_id=stage(desk, at), **new)
    start_task(desk, task_id)
    clock.advance(minutes=minutes)
    finish_task(desk, task_id)


def test_a_return_puts_the_unit_back_in_the_queue(desk: Desk) -> None:
    unit_id = stocked(desk)
    sold = sell(desk, unit_id)
    assert read_queue(desk).row(unit_id) is None
    back = returned(desk, unit_id)
    assert (back.sale_id, back.unit_id) == (sold.sale_id, unit_id)
    assert (back.stage, back.refund_minor) == ("inspected", 70_000)
    assert read_queue(desk).row(unit_id) is not None
    sales = read_sales(desk, unit_id)
    assert (sales.out, sales.standing) == (False, None)
    assert [one.comeback_id for one in sales.sales[0].comebacks] == [back.comeback_id]
    assert last_journal(desk) == ("Took 10014 back to inspected, 700.00 EUR refunded", "key E fails")


def test_further_hours_count_against_it(desk: Desk, clock: HandSetClock) -> None:
    """20 minutes before the sale, 40 after the first return, 15 after the second: 75 in all."""
    unit_id = stocked(desk)
    work_on(desk, clock, unit_id, 20, at="received")
    sell(desk, unit_id)
    returned(desk, unit_id, "")
    work_on(desk, clock, unit_id, 40)
    looked_into_if_need_be(desk, unit_id)
    move_unit(desk, unit_id, stage(desk, "sold"))
    returned(desk, unit_id, "50")
    work_on(desk, clock, unit_id, 15)
    sale = read_sales(desk, unit_id).sales[0]
    assert [one.hands_on_us for one in sale.comebacks] == [40 * MINUTE_US, 15 * MINUTE_US]
    assert read_unit(desk, unit_id).hands_on_us == 75 * MINUTE_US
    assert read_unit_money(desk, unit_id).after_return_us == 55 * MINUTE_US


def test_a_repair_under_warranty_leaves_the_sale_standing(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id)
    returned(desk, unit_id, "")
    with pytest.raises(Refused, match="back already"):
        returned(desk, unit_id, "")
    for _ in ("under repair", "handed back"):
        sales = read_sales(desk, unit_id)
        assert sales.standing == sales.sales[0]
        with pytest.raises(Refused, match="sold already"):
            sell(desk, unit_id)
        if not sales.out:
            looked_into_if_need_be(desk, unit_id)
            move_unit(desk, unit_id, stage(desk, "sold"))


def test_its_margin_and_tax_stand_while_it_is_repaired(desk: Desk) -> None:
    """300 -> 700 at 20 %: tax a sixth of 400 (VAT Notice 718); repaired for nothing, 6.20 for postage."""
    trading(desk)
    unit_id = stocked(desk)
    sell(desk, unit_id)
    before = read_unit_money(desk, unit_id)
    take_return(
        desk, unit_id, reason="hinge", refund_text="", postage_text="6.20", stage_id=stage(desk, "inspected")
    )
    money = read_unit_money(desk, unit_id)
    assert (before.margin_minor, before.sold) == (40_000 - 6_667, True)
    assert (money.margin_minor, money.sold) == (40_000 - 6_667 - 620, True)
    assert sum(-line.amount_minor for line in money.proceeds if "tax" in line.words) == 6_667


def test_it_is_not_ranked_as_earning_its_price_again(desk: Desk) -> None:
    unit_id = stocked(desk)
    typed = {"bought_on_text": "", "invoice": ""}
    edit_purchase(desk, unit_id, expected_text="700", **typed)
    sell(desk, unit_id)
    returned(desk, unit_id, "")
    [line] = read_ranking(desk).lines
    assert (line.to_earn_minor, line.expected_minor) == (0, None)
    assert "its sale stands" in line.reason


@pytest.mark.parametrize(
    ("refund", "ours", "undone"),
    [
        ("", None, False),  # repaired
        ("50", None, False),  # a price reduction: the buyer keeps it
        ("700", None, True),  # all of the price
        ("650", True, True),  # taken back less something for wear
        ("700", False, False),  # the price given back and the unit left to the buyer
    ],
)
def test_the_refund_says_whose_it_is_unless_told_otherwise(
    desk: Desk, refund: str, ours: bool | None, undone: bool
) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id)
    back = take_return(
        desk, unit_id, reason="key", refund_text=refund, stage_id=stage(desk, "inspected"), ours=ours
    )
    assert back.undoes == undone
    assert (read_sales(desk, unit_id).standing is None) == undone
    assert read_month(desk).total.units == (0 if undone else 1)
    assert sum(line.units for line in read_month(desk).tied_up) == (1 if undone else 0)


def test_the_channel_gives_its_fee_back_and_postage_is_a_cost(desk: Desk) -> None:
    """Bought 300, sold 700 through the market (10 % + 0.50 = 70.50), all refunded, 70.00 of the fee back."""
    trading(desk)
    unit_id = stocked(desk)
    sell(desk, unit_id, channel_id=MARKET, shipping_text="8.90")
    typed = {"reason": "key", "refund_text": "700", "stage_id": stage(desk, "inspected")}
    before = footprint(desk)
    with pytest.raises(
        BadInput, match=r"A fee given back of 70\.51 EUR is more than is left of the fee, 70\.50"
    ):
        take_return(desk, unit_id, fee_back_text="70.51", **typed)
    assert footprint(desk) == before
    take_return(desk, unit_id, fee_back_text="70", postage_text="6.20", **typed)
    money = read_unit_money(desk, unit_id)
    assert (money.sold, money.margin_minor) == (False, None)
    assert money.proceeds_minor == -50 - 890 - 620
    opened = {row.words: row.amount_minor for row in read_money_rows(desk, unit_id, "return 1").rows}
    assert opened == {"key": -70_000, "fees given back": 7_000, "return postage": -620}


def test_a_repair_that_fails_is_refunded_after_all(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id)
    with pytest.raises(NotFound, match="has not come back"):
        correct_return(desk, unit_id, reason="key", refund_text="700")
    returned(desk, unit_id, "")
    back = correct_return(desk, unit_id, reason="key again", refund_text="700", postage_text="0")
    assert (back.undoes, back.postage_minor) == (True, 0)
    assert read_sales(desk, unit_id).standing is None
    assert sell(desk, unit_id, "500").price_minor == 50_000
    undo(desk)
    undo(desk)
    sales = read_sales(desk, unit_id)
    assert sales.standing is not None
    assert sales.sales[0].comebacks[0].reason == "key E fails"


def test_whose_it_is_stays_once_it_was_handed_back(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id)
    returned(desk, unit_id, "")
    looked_into_if_need_be(desk, unit_id)
    move_unit(desk, unit_id, stage(desk, "sold"))
    with pytest.raises(Refused, match="has left again"):
        correct_return(desk, unit_id, reason="key", refund_text="700")
    assert correct_return(desk, unit_id, reason="key", refund_text="60").refund_minor == 6_000


def test_sold_again_is_a_second_sale(desk: Desk, clock: HandSetClock) -> None:
    """Bought 300, sold 700, refunded 700, sold again for 650: margin 650 - 300 less tax 350/6 = 58.33."""
    trading(desk)
    unit_id = stocked(desk)
    sell(desk, unit_id)
    clock.advance(minutes=60)
    returned(desk, unit_id)
    assert read_unit_money(desk, unit_id).margin_minor is None
    clock.advance(minutes=60)
    second = sell(desk, unit_id, "650")
    sales = read_sales(desk, unit_id)
    assert [one.price_minor for one in sales.sales] == [70_000, 65_000]
    assert sales.standing is not None
    assert sales.standing.sale_id == second.sale_id
    assert read_unit_money(desk, unit_id).margin_minor == 65_000 - 30_000 - 5_833


def test_a_refunded_unit_carried_out_by_hand_can_be_sold_there(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id)
    returned(desk, unit_id)
    looked_into_if_need_be(desk, unit_id)
    move_unit(desk, unit_id, stage(desk, "sold"))
    assert sell(desk, unit_id, "100").price_minor == 10_000


def test_a_unit_carried_back_by_hand_is_recorded_where_it_stands(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id)
    move_unit(desk, unit_id, stage(desk, "graded"))
    assert returned(desk, unit_id, "1", to="graded").stage == "graded"
    with pytest.raises(Refused, match="back already"):
        returned(desk, unit_id)


def test_refunds_never_pass_the_price(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id)
    before = footprint(desk)
    with pytest.raises(BadInput, match=r"700\.00 EUR"):
        returned(desk, unit_id, "700.01")
    assert footprint(desk) == before
    returned(desk, unit_id, "699")
    looked_into_if_need_be(desk, unit_id)
    move_unit(desk, unit_id, stage(desk, "sold"))
    with pytest.raises(BadInput, match=r"1\.00 EUR"):
        returned(desk, unit_id, "2")
    returned(desk, unit_id, "1")
    assert read_sales(desk, unit_id).sales[0].refund_minor == 70_000


def test_what_cannot_come_back(desk: Desk) -> None:
    unit_id = stocked(desk)
    with pytest.raises(NotFound, match="never sold"):
        returned(desk, unit_id)
    sell(desk, unit_id)
    with pytest.raises(Refused, match="leave"):
        returned(desk, unit_id, to="sold")
    with pytest.raises(BadInput, match="reason"):
        take_return(desk, unit_id, reason=" ", refund_text="", stage_id=stage(desk, "inspected"))
    assert read_sales(desk, unit_id).sales[0].comebacks == ()


def test_a_return_is_taken_back(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id)
    before = read_sales(desk, unit_id)
    returned(desk, unit_id)
    undo(desk)
    assert read_sales(desk, unit_id) == before
