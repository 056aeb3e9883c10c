"""The register: a line for every unit in sequence, figures that agree with each unit's own money.

Fields after UK HMRC VAT Notice 718 (stock book) and EU Directive 2006/112/EC Art. 315 for the margin.
"""

from __future__ import annotations

from datetime import date

from bench.desk import Desk
from bench.domain.party import ERASED
from bench.views.register import (
    CAME_BACK,
    DONOR,
    IN_STOCK,
    LEFT,
    SOLD,
    VOID,
    Register,
    RegisterLine,
    read_register,
)
from bench.views.unit_money import read_unit_money
from bench.work.comebacks import take_return
from bench.work.moves import move_unit
from bench.work.parties import erase_party
from bench.work.undo import undo
from tests.clocks import HandSetClock
from tests.work.looked_into import looked_into_if_need_be
from tests.work.sale_steps import BUYER, MARKET, bought_from, part, sell, stage, stocked, trading

DAY = 24 * 60


def line(desk: Desk, unit_id: int, sale: int | None = None) -> RegisterLine:
    found = [one for one in read_register(desk).lines if one.unit_id == unit_id]
    return next(one for one in found if sale is None or one.sale == sale)


def test_a_bought_and_sold_unit_has_every_field_of_a_stock_book(desk: Desk) -> None:
    trading(desk)
    unit_id = stocked(desk, serial="SN 1")
    bought_from(desk, unit_id, "Zebulon Seller", "2026-11-10")
    sold = sell(desk, unit_id, sold_on_text="2026-11-20", invoice="S-1", channel_id=MARKET)
    found = line(desk, unit_id)
    assert (found.number, found.tag, found.what, found.serial) == (1, "10014", "Maker Model", "SN 1")
    assert (found.bought_on, found.seller, found.purchase_invoice) == (
        date(2026, 11, 10),
        "Zebulon Seller",
        "P-1",
    )
    assert (found.seller_address, found.buyer_address) == ("Zebulon Seller Street", BUYER["buyer_address"])
    assert (found.sold_on, found.buyer, found.sale_invoice) == (
        date(2026, 11, 20),
        BUYER["buyer_name"],
        "S-1",
    )
    # 700 - 300 = 400 of margin, a sixth of it is tax: 66.67 (UK HMRC VAT Notice 718: one sixth at 20 %)
    assert (found.purchase_minor, found.price_minor) == (30_000, 70_000)
    assert (found.margin_minor, found.tax_minor) == (40_000, 6_667)
    assert (found.state, found.sale, found.sale_id, found.channel) == (SOLD, 1, sold.sale_id, "market")


def test_a_loss_is_shown_as_one_and_taxed_with_nothing(desk: Desk) -> None:
    trading(desk)
    unit_id = stocked(desk)
    sell(desk, unit_id, "250")
    assert (line(desk, unit_id).margin_minor, line(desk, unit_id).tax_minor) == (-5_000, 0)


def test_a_unit_of_a_lot_shows_its_share_and_the_lot(desk: Desk) -> None:
    unit_id = stocked(desk, "100")
    bought_from(desk, unit_id, "Zebulon Seller", "2026-11-10", lot="Pallet")
    found = line(desk, unit_id)
    assert (found.lot, found.lot_price_minor, found.purchase_minor) == ("Pallet", 30_000, 10_000)
    assert (found.seller, found.bought_on) == ("Zebulon Seller", date(2026, 11, 10))


def test_the_hold_period_is_shown(desk: Desk) -> None:
    trading(desk, hold_days_text="14")
    unit_id, unknown = stocked(desk), stocked(desk)
    bought_from(desk, unit_id, "Zebulon Seller", "2026-11-20")
    assert line(desk, unit_id).free_from == date(2026, 12, 4)
    assert line(desk, unknown).free_from is None
    assert read_register(desk).hold_days == 14


def test_numbers_run_in_sequence_and_one_taken_back_says_so(desk: Desk) -> None:
    stocked(desk)
    gone = stocked(desk)
    undo(desk)
    undo(desk)
    stocked(desk)
    lines = read_register(desk).lines
    assert [one.number for one in lines] == [1, 2, 3]
    assert [one.state for one in lines] == [IN_STOCK, VOID, IN_STOCK]
    assert (line(desk, gone).what, line(desk, gone).purchase_minor) == ("", None)
    assert read_register(desk).purchases_minor == 60_000


def test_what_left_unsold_and_what_is_kept_for_parts_are_told_apart(desk: Desk) -> None:
    left, donor = stocked(desk), stocked(desk)
    looked_into_if_need_be(desk, left)
    move_unit(desk, left, stage(desk, "sold"))
    bought_from(desk, donor, "Zebulon Seller", "2026-11-10", donor=True)
    assert (line(desk, left).state, line(desk, donor).state) == (LEFT, DONOR)


def test_a_unit_sold_twice_has_two_lines_and_one_margin(desk: Desk, clock: HandSetClock) -> None:
    """300 -> 700, all refunded: no margin, no tax. Again for 650: margin 350, tax 350/6 = 58.33."""
    trading(desk)
    unit_id = stocked(desk)
    sell(desk, unit_id)
    clock.advance(minutes=DAY)
    take_return(desk, unit_id, reason="key", refund_text="700", stage_id=stage(desk, "inspected"))
    first = line(desk, unit_id)
    assert (first.state, first.back_on, first.refund_minor) == (CAME_BACK, date(2026, 11, 26), 70_000)
    assert (first.margin_minor, first.tax_minor) == (None, 0)
    clock.advance(minutes=DAY)
    sell(desk, unit_id, "650")
    first, second = line(desk, unit_id, 1), line(desk, unit_id, 2)
    assert (first.state, second.state, second.sale) == (CAME_BACK, SOLD, 2)
    assert (second.margin_minor, second.tax_minor, second.refund_minor) == (35_000, 5_833, None)


def test_a_repair_under_warranty_leaves_the_margin(desk: Desk) -> None:
    """700 - 50 given back - 300 = 350; tax 66.67 x 350/400 = 58.34 (halves up, from the tax at the sale)."""
    trading(desk)
    unit_id = stocked(desk)
    sell(desk, unit_id)
    take_return(desk, unit_id, reason="hinge", refund_text="50", stage_id=stage(desk, "inspected"))
    found = line(desk, unit_id)
    assert (found.state, found.margin_minor, found.tax_minor) == (SOLD, 35_000, 5_834)


def several(desk: Desk, clock: HandSetClock) -> Register:
    """Eight units of every kind, with parts, fees, a loss, a return and a second sale."""
    trading(desk)
    units = [stocked(desk, price) for price in ("300", "120.01", "99.99", "0", "", "450", "80", "260")]
    part(desk, "screen", 4_550, to=units[0])
    part(desk, "drive", 1_999, to=units[1], out_of=units[6])
    part(desk, "lid", 500, out_of=units[7])
    sell(desk, units[0], "700", channel_id=MARKET, shipping_text="8.90")
    sell(desk, units[1], "119.99", channel_id=MARKET)
    sell(desk, units[2], "333.33", channel_id=1)
    sell(desk, units[3], "10", channel_id=MARKET, shipping_text="8.90")
    sell(desk, units[4], "55.55")
    clock.advance(minutes=DAY)
    take_return(desk, units[0], reason="key", refund_text="650", stage_id=stage(desk, "inspected"), ours=True)
    take_return(desk, units[2], reason="hinge", refund_text="33.34", stage_id=stage(desk, "inspected"))
    clock.advance(minutes=DAY)
    sell(desk, units[0], "610.10", channel_id=MARKET)
    return read_register(desk)


def test_its_sums_are_the_sums_of_each_units_money(desk: Desk, clock: HandSetClock) -> None:
    register = several(desk, clock)
    money = [read_unit_money(desk, unit_id) for unit_id in {one.unit_id for one in register.lines}]
    brought = [one for unit in money for one in unit.proceeds]

    def told(words: str) -> int:
        return sum(one.amount_minor or 0 for one in brought if one.words.startswith(words))

    assert register.purchases_minor == sum(unit.cost_so_far[0].amount_minor or 0 for unit in money)
    assert register.sales_minor == told("sold ")
    assert register.refunds_minor == -told("came back") - told("sale undone")
    assert register.taxes_minor == -told("tax")
    # By hand, what stands: 310.10 + (119.99 - 120.01) + (333.33 - 33.34 - 99.99) + 10 = 520.08;
    # of the one sold for 55.55 no price paid was typed, so that it has no margin to tell
    assert (register.margins_minor, register.unpriced) == (52_008, ("10055",))


def test_each_line_agrees_with_its_units_money(desk: Desk, clock: HandSetClock) -> None:
    for one in several(desk, clock).lines:
        unit = read_unit_money(desk, one.unit_id)
        assert unit.sold == (read_state(desk, one.unit_id) == SOLD)
        assert one.purchase_minor == unit.cost_so_far[0].amount_minor


def read_state(desk: Desk, unit_id: int) -> str:
    return [one for one in read_register(desk).lines if one.unit_id == unit_id][-1].state


def test_erased_people_read_erased_and_figures_stay(desk: Desk) -> None:
    trading(desk)
    unit_id = stocked(desk)
    sell(desk, unit_id)
    before = line(desk, unit_id)
    party = 1
    erase_party(desk, party, "asked for", early=True)
    after = line(desk, unit_id)
    assert (after.buyer, after.buyer_address) == (ERASED, "")
    figures = ("number", "purchase_minor", "price_minor", "margin_minor", "tax_minor", "sold_on", "sale_id")
    assert all(getattr(after, name) == getattr(before, name) for name in figures)


def test_a_span_shows_what_happened_in_it(desk: Desk, clock: HandSetClock) -> None:
    old, bought, sold = stocked(desk), stocked(desk), stocked(desk)
    for unit_id, day in ((old, "2025-03-01"), (bought, "2026-11-10"), (sold, "2025-03-02")):
        bought_from(desk, unit_id, f"Seller {unit_id}", day)
    sell(desk, sold, sold_on_text="2026-11-11")
    year = (date(2026, 1, 1), date(2026, 12, 31))
    assert [one.unit_id for one in read_register(desk, year).lines] == [bought, sold]
    clock.advance(minutes=366 * DAY)
    take_return(desk, sold, reason="key", refund_text="1", stage_id=stage(desk, "inspected"))
    next_year = (date(2027, 1, 1), date(2027, 12, 31))
    assert [one.unit_id for one in read_register(desk, next_year).lines] == [sold]
