"""A sold unit comes back linked to its sale; what it takes from then on counts against it."""

from __future__ import annotations

from typing import Any

import pytest

from bench.domain.selling import Returned
from bench.errors import BadInput, NotFound, Refused
from bench.work.comebacks import take_return
from bench.work.desk import Desk
from bench.work.money import read_unit_money
from bench.work.moves import move_unit
from bench.work.queue import read_queue
from bench.work.sales import read_sales
from bench.work.take_back import take_back
from bench.work.tasks import add_task
from bench.work.timers import finish_task, start_task
from bench.work.unit_sheet import read_unit
from tests.clocks import MINUTE_US, HandSetClock
from tests.work.bookkeeping import footprint, last_journal
from tests.work.sale_steps import sell, stage, stocked, trading


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
    move_unit(desk, unit_id, stage(desk, "sold"))
    returned(desk, unit_id, "50")
    work_on(desk, clock, unit_id, 15)
    sale = read_sales(desk, unit_id).sales[0]
    assert [one.attended_us for one in sale.comebacks] == [40 * MINUTE_US, 15 * MINUTE_US]
    assert read_unit(desk, unit_id).attended_us == 75 * MINUTE_US
    assert read_unit_money(desk, unit_id).after_return_us == 55 * MINUTE_US


def test_a_repair_under_warranty_leaves_the_sale_standing(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id)
    returned(desk, unit_id, "")
    with pytest.raises(Refused, match="back already"):
        returned(desk, unit_id, "")
    move_unit(desk, unit_id, stage(desk, "sold"))
    sales = read_sales(desk, unit_id)
    assert sales.standing == sales.sales[0]
    with pytest.raises(Refused, match="sold already"):
        sell(desk, unit_id)


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
    assert [one.tax_left_minor(30_000) for one in sales.sales] == [0, 5_833]
    assert read_unit_money(desk, unit_id).margin_minor == 65_000 - 30_000 - 5_833


def test_a_refunded_unit_carried_out_by_hand_can_be_sold_there(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id)
    returned(desk, unit_id)
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
    take_back(desk)
    assert read_sales(desk, unit_id) == before
