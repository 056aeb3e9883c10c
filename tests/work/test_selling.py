"""Selling goes through every gate of a move, and what it calculates is exact."""

from __future__ import annotations

from datetime import date

import pytest

from bench.desk import Desk
from bench.domain.safety import OPENING, OPENING_ITEMS
from bench.errors import BadInput, CellAlarm, ClosingFirst, NotFound, Refused, TasksOpen
from bench.views.sales import read_sales
from bench.views.unit import read_unit
from bench.work.moves import hold_unit, move_unit
from bench.work.safety import report_cell, tick
from bench.work.timers import start_task
from bench.work.undo import undo
from bench.work.units import add_unit
from tests.clocks import HandSetClock
from tests.work.bookkeeping import footprint, last_journal
from tests.work.looked_into import looked_into, looked_into_if_need_be
from tests.work.sale_steps import BUYER, MARKET, bought_from, sell, stage, stocked, trading
from tests.work.time_rows import first_task

TODAY = date(2026, 11, 25)


def test_a_sale_reckons_fee_and_margin_tax(desk: Desk) -> None:
    """300 -> 700 at 20 %: tax 400/6 = 66.67 (HMRC VAT Notice 718); fee 10 % of 700 + 0.50 = 70.50."""
    trading(desk)
    unit_id = stocked(desk)
    typed = {"shipping_text": "8.90", "invoice": "S-1", "warranty_days_text": "", "note": "charger"}
    sold = sell(desk, unit_id, channel_id=MARKET, **typed)
    assert (sold.price_minor, sold.fee_minor, sold.shipping_minor) == (70_000, 7_050, 890)
    assert sold.tax_minor == 6_667
    assert (sold.sold_on, sold.warranty_until, sold.currency) == (TODAY, date(2027, 11, 25), "EUR")
    sales = read_sales(desk, unit_id)
    assert (sales.stage, sales.out) == ("sold", True)
    line = sales.sales[0]
    assert sales.standing == line
    assert (line.sale_id, line.channel, line.note) == (sold.sale_id, "market", "charger")
    assert line.buyer == BUYER["buyer_name"]
    assert (line.person, line.invoice, line.warranty_until) == ("Ada", "S-1", sold.warranty_until)
    assert line.tax_minor == 6_667


def test_without_scheme_channel_buyer_or_warranty_nothing_is_made_up(desk: Desk) -> None:
    trading(desk, margin_scheme=False)
    unit_id = stocked(desk)
    sold = sell(desk, unit_id, buyer_name="", buyer_address="", buyer_contact="", warranty_days_text="0")
    assert (sold.fee_minor, sold.shipping_minor, sold.tax_minor, sold.warranty_until) == (0, 0, 0, None)
    line = read_sales(desk, unit_id).sales[0]
    assert (line.party_id, line.buyer, line.channel, line.invoice) == (None, "", "", "")


def test_a_loss_gives_no_tax_and_a_gift_is_all_margin(desk: Desk) -> None:
    trading(desk)
    assert sell(desk, stocked(desk, "300"), "250").tax_minor == 0
    assert sell(desk, stocked(desk, ""), "120").tax_minor == 2_000


def test_the_journal_tells_the_price_and_not_the_buyer(desk: Desk) -> None:
    sell(desk, stocked(desk))
    assert last_journal(desk) == ("Sold 10014 for 700.00 EUR", "")


def test_open_tasks_are_asked_about_and_settled_as_in_a_move(desk: Desk) -> None:
    unit_id = looked_into(desk, add_unit(desk, maker="", model="Full", route_id=1).unit_id)
    before = footprint(desk)
    with pytest.raises(TasksOpen):
        sell(desk, unit_id)
    assert footprint(desk) == before
    with pytest.raises(BadInput):
        sell(desk, unit_id, open_tasks="skip")
    sold = sell(desk, unit_id, open_tasks="skip", reason="sold as it came")
    assert sold.skipped == len(read_unit(desk, unit_id).tasks)
    assert {task.state for task in read_unit(desk, unit_id).tasks} == {"skipped"}
    assert last_journal(desk)[1] == "sold as it came"


def test_timers_stop_when_it_leaves(desk: Desk, clock: HandSetClock) -> None:
    unit_id = looked_into(desk, add_unit(desk, maker="", model="Full", route_id=1).unit_id)
    start_task(desk, first_task(desk, unit_id))
    clock.advance(minutes=5)
    sell(desk, unit_id, open_tasks="skip", reason="gone")
    assert not any(task.running for task in read_unit(desk, unit_id).tasks)


def test_the_lid_a_hold_and_a_bad_cell_stop_a_sale(desk: Desk) -> None:
    opened = stocked(desk)
    tick(desk, opened, OPENING, list(OPENING_ITEMS))
    move_unit(desk, opened, stage(desk, "opened"))
    held, swollen = stocked(desk), stocked(desk)
    hold_unit(desk, held, "part on order")
    report_cell(desk, swollen, "swollen")
    for unit_id, error in ((opened, ClosingFirst), (held, Refused), (swollen, CellAlarm)):
        with pytest.raises(error):
            sell(desk, unit_id)
        assert read_sales(desk, unit_id).sales == ()


def test_a_bad_cell_stops_the_sale_of_a_unit_already_out(desk: Desk) -> None:
    unit_id = stocked(desk)
    looked_into_if_need_be(desk, unit_id)
    move_unit(desk, unit_id, stage(desk, "sold"))
    report_cell(desk, unit_id, "wet")
    with pytest.raises(CellAlarm, match="wet"):
        sell(desk, unit_id)


def test_the_hold_period_stops_a_sale(desk: Desk, clock: HandSetClock) -> None:
    """Bought on the 20th with 14 days: free from 4 December on."""
    trading(desk, hold_days_text="14")
    unit_id = stocked(desk)
    bought_from(desk, unit_id, "Seller", "2026-11-20")
    with pytest.raises(Refused, match="2026-12-04"):
        sell(desk, unit_id)
    clock.advance(minutes=9 * 24 * 60)
    assert sell(desk, unit_id).sold_on == date(2026, 12, 4)


def test_a_unit_moved_out_by_hand_is_sold_where_it_stands(desk: Desk) -> None:
    unit_id = stocked(desk)
    looked_into_if_need_be(desk, unit_id)
    move_unit(desk, unit_id, stage(desk, "sold"))
    assert sell(desk, unit_id).skipped == 0
    with pytest.raises(Refused, match="2026-11-25"):
        sell(desk, unit_id)


def test_a_unit_carried_back_without_a_return_is_not_sold_twice(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id)
    move_unit(desk, unit_id, stage(desk, "graded"))
    with pytest.raises(Refused, match="return"):
        sell(desk, unit_id)
    assert len(read_sales(desk, unit_id).sales) == 1


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"price_text": "a lot"}, "amount"),
        ({"price_text": ""}, "amount"),
        ({"price_text": "-1"}, "negative"),
        ({"sold_on_text": "2026-11-26"}, "still to come"),
        ({"sold_on_text": "2026-11-09"}, "bought on 2026-11-10"),
        ({"sold_on_text": "soon"}, "not a day"),
        ({"warranty_days_text": "9999"}, "warranty"),
        ({"shipping_text": "x"}, "amount"),
        ({"buyer_name": " "}, "name"),
        ({"invoice": "a\nb"}, "line"),
    ],
)
def test_what_cannot_be_changes_nothing(desk: Desk, typed: dict[str, str], words: str) -> None:
    unit_id = stocked(desk)
    bought_from(desk, unit_id, "Seller", "2026-11-10")
    before = footprint(desk)
    with pytest.raises(BadInput, match=words):
        sell(desk, unit_id, **typed)
    assert footprint(desk) == before
    assert read_unit(desk, unit_id).stage == "received"
    assert read_sales(desk, unit_id).sales == ()


def test_an_unknown_channel_or_unit_is_not_found(desk: Desk) -> None:
    with pytest.raises(NotFound, match="channel"):
        sell(desk, stocked(desk), channel_id=99)
    with pytest.raises(NotFound, match="unit"):
        sell(desk, 99)
    with pytest.raises(NotFound, match="unit"):
        read_sales(desk, 99)


def test_a_sale_of_some_days_ago_counts_its_warranty_from_then(desk: Desk) -> None:
    sold = sell(desk, stocked(desk), sold_on_text="2026-11-20", warranty_days_text="14")
    assert (sold.sold_on, sold.warranty_until) == (date(2026, 11, 20), date(2026, 12, 4))


def test_a_sale_is_taken_back_whole(desk: Desk) -> None:
    unit_id = looked_into(desk, add_unit(desk, maker="", model="Full", route_id=1).unit_id)
    before = read_unit(desk, unit_id)
    sell(desk, unit_id, open_tasks="skip", reason="gone")
    undo(desk)
    assert read_unit(desk, unit_id) == before
    assert read_sales(desk, unit_id).sales == ()
    assert sell(desk, unit_id, open_tasks="skip", reason="again").unit_id == unit_id
