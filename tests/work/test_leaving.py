"""Units leave by ways told apart: what each does to stock, month, register and the unit's own money."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.domain.lots import LotUnit
from bench.domain.ways_out import HANDED_BACK, KEPT, PARTS, SCRAPPED, WORDS
from bench.errors import BadInput, Refused
from bench.views.months import read_month, read_year
from bench.views.queue import read_queue
from bench.views.register import read_register
from bench.views.unit import read_unit
from bench.views.unit_money import read_unit_money
from bench.work.comebacks import take_return
from bench.work.drives import add_drive
from bench.work.leaving import leave_unit
from bench.work.lots import buy_lot, make_donor, reshare_lot
from bench.work.moves import move_unit
from bench.work.parts import take_part
from bench.work.undo import undo
from tests.clocks import HandSetClock
from tests.work.bookkeeping import footprint, last_journal
from tests.work.looked_into import looked_into
from tests.work.sale_steps import part, sell, stage, stocked
from tests.work.trade_steps import one_value

MONTH_MINUTES = 31 * 24 * 60


def line(desk: Desk, words: str) -> int:
    """A line of this month beside the margins; 0 where there is none."""
    sheet = read_month(desk)
    return sum(one.amount_minor or 0 for one in (*sheet.unsold, *sheet.kept) if one.words.startswith(words))


def test_scrap_is_a_loss_in_its_month_and_the_parts_taken_keep_their_cost(
    desk: Desk, clock: HandSetClock
) -> None:
    """Bought 120, a part worth 20 went to the shelf, a fan for 15 went in: 115 lost, 8 brought by scrap."""
    unit_id = stocked(desk, "120")
    take_part(desk, unit_id, name="screen", cost_text="20")
    part(desk, "fan", 1_500, to=unit_id)
    clock.advance(minutes=MONTH_MINUTES)
    left = leave_unit(desk, unit_id, way=SCRAPPED, reason="board burnt", proceeds_text="8")
    assert (left.lost_minor, left.proceeds_minor) == (11_500, 800)
    assert (line(desk, "scrapped"), line(desk, "proceeds")) == (-11_500, 800)
    sheet = read_month(desk)
    assert (sheet.total.units, sheet.total.margin_minor, sheet.result_minor) == (0, 0, -10_700)
    assert [(one.name, one.cost_so_far_minor) for one in sheet.tied_up] == [("parts on the shelf", 2_000)]
    assert read_year(desk).unsold == sheet.unsold
    before = read_month(desk, sheet.span.year, (sheet.span.month or 0) - 1)
    assert before.unsold == ()
    money = read_unit_money(desk, unit_id)
    assert (money.way, money.lost_minor, money.margin_minor) == (SCRAPPED, 10_700, None)
    assert read_register(desk).lines[0].state == WORDS[SCRAPPED]
    assert last_journal(desk) == ("10014 scrapped, 115.00 EUR lost", "board burnt")


def test_what_the_shop_keeps_leaves_stock_without_a_loss(desk: Desk) -> None:
    unit_id = stocked(desk, "120")
    assert leave_unit(desk, unit_id, way=KEPT, reason="for the front desk").lost_minor is None
    sheet = read_month(desk)
    assert (line(desk, "kept"), sheet.unsold, sheet.result_minor, sheet.tied_up) == (12_000, (), 0, ())
    assert read_register(desk).lines[0].state == WORDS[KEPT]


def test_what_is_kept_can_be_sold_later_and_what_is_scrapped_cannot(desk: Desk) -> None:
    kept, scrapped = stocked(desk, "120"), stocked(desk, "30")
    leave_unit(desk, kept, way=KEPT, reason="for the front desk")
    leave_unit(desk, scrapped, way=SCRAPPED, reason="bent")
    assert sell(desk, kept, "200").price_minor == 20_000
    assert (read_month(desk).kept, read_month(desk).total.margin_minor) == ((), 8_000)
    with pytest.raises(Refused, match="was scrapped"):
        sell(desk, scrapped, "5")


def test_in_parts_the_cost_left_over_is_lost_on_the_day_it_is_closed(desk: Desk) -> None:
    """80 paid, 50 of it went along with parts: 30 is left over."""
    unit_id = stocked(desk, "80")
    make_donor(desk, unit_id, expected_text="50")
    take_part(desk, unit_id, name="screen", cost_text="50")
    move_unit(desk, unit_id, stage(desk, "sold"))
    assert (line(desk, "broken"), read_month(desk).result_minor) == (-3_000, -3_000)
    assert read_unit_money(desk, unit_id).way == PARTS


def test_a_unit_scrapped_after_its_sale_was_undone_loses_what_that_cost_too(desk: Desk) -> None:
    """300 paid; sold 700 with 8.90 for sending, all refunded, 6.20 for postage: 315.10 lost in all."""
    unit_id = stocked(desk)
    sell(desk, unit_id, shipping_text="8.90")
    take_return(
        desk,
        unit_id,
        reason="dead",
        refund_text="700",
        postage_text="6.20",
        stage_id=stage(desk, "inspected"),
    )
    assert leave_unit(desk, unit_id, way=SCRAPPED, reason="dead").lost_minor == 31_510
    sheet = read_month(desk)
    assert (sheet.result_minor, sheet.tied_up) == (-31_510, ())
    assert read_register(desk).lines[0].state == WORDS[SCRAPPED]


def test_nothing_vanishes_with_a_unit_moved_out_without_a_sale(desk: Desk) -> None:
    unit_id = stocked(desk, "120")
    move_unit(desk, unit_id, stage(desk, "sold"))
    assert [(one.name, one.cost_so_far_minor) for one in read_month(desk).tied_up] == [
        ("left, no sale recorded", 12_000)
    ]
    leave_unit(desk, unit_id, way=SCRAPPED, reason="stolen off the van")
    assert (line(desk, "scrapped"), read_month(desk).tied_up) == (-12_000, ())


def test_it_comes_in_again_and_is_lost_no_more(desk: Desk) -> None:
    unit_id = stocked(desk, "120")
    leave_unit(desk, unit_id, way=SCRAPPED, reason="dead")
    assert read_queue(desk).row(unit_id) is None
    move_unit(desk, unit_id, stage(desk, "inspected"))
    sheet = read_month(desk)
    assert (sheet.unsold, sheet.tied_up_minor) == ((), 12_000)
    undo(desk)
    assert (line(desk, "scrapped"), read_month(desk).tied_up) == (-12_000, ())
    undo(desk)
    assert (read_month(desk).unsold, read_month(desk).tied_up_minor) == ((), 12_000)
    assert read_unit(desk, unit_id).stage == "received"


def test_a_lots_scrapped_unit_keeps_its_share(desk: Desk) -> None:
    units = [LotUnit("Maker", "One", expected_text="100"), LotUnit("Maker", "Two", expected_text="100")]
    lot = buy_lot(desk, name="pair", price_text="100", units=units)
    first, second = (share.unit_id for share in lot.shares)
    looked_into(desk, first)
    leave_unit(desk, first, way=SCRAPPED, reason="dead")
    with pytest.raises(Refused):
        reshare_lot(desk, lot.lot_id, expected={first: "1"})
    reshare_lot(desk, lot.lot_id, expected={second: "400"})
    assert line(desk, "scrapped") == -5_000


def test_ways_that_are_not_open(desk: Desk) -> None:
    unit_id, sold = stocked(desk), stocked(desk)
    sell(desk, sold)
    take_return(desk, sold, reason="key", refund_text="", stage_id=stage(desk, "inspected"))
    before = footprint(desk)
    with pytest.raises(Refused, match="nobody to hand it back to"):
        leave_unit(desk, unit_id, way=HANDED_BACK, reason="x")
    with pytest.raises(Refused, match="is its buyer's: it is not scrapped"):
        leave_unit(desk, sold, way=SCRAPPED, reason="x")
    with pytest.raises(BadInput, match="has a price and a buyer"):
        leave_unit(desk, unit_id, way="sold", reason="x")
    with pytest.raises(BadInput, match="cannot leave by flying"):
        leave_unit(desk, unit_id, way="flying", reason="x")
    with pytest.raises(BadInput, match="The reason"):
        leave_unit(desk, unit_id, way=KEPT, reason=" ")
    with pytest.raises(BadInput, match="Only scrap"):
        leave_unit(desk, unit_id, way=KEPT, reason="x", proceeds_text="1")
    with pytest.raises(BadInput, match="nobody pays"):
        leave_unit(desk, unit_id, way=KEPT, reason="x", price_text="1")
    assert footprint(desk) == before


def test_a_repaired_unit_goes_back_to_its_buyer_without_a_wipe_of_the_buyers_drive(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id)
    take_return(desk, unit_id, reason="key", refund_text="", stage_id=stage(desk, "inspected"))
    add_drive(desk, unit_id, model="Disk", serial="D-1", media_type="flash memory")
    leave_unit(desk, unit_id, way=HANDED_BACK, reason="repaired")
    assert one_value(desk, "SELECT way FROM way_out WHERE removed = 0 AND ended_us IS NULL") == HANDED_BACK
    assert read_month(desk).total.units == 1
    assert read_month(desk).unsold == ()
