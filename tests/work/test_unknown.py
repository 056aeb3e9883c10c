"""What was not typed is never 0 in a total: sums say that it is missing, in figures, text and JSON."""

from __future__ import annotations

import json

import pytest

from bench.dashboard.presenters.lot_rows import rule_lines
from bench.dashboard.presenters.next_rows import ranking_rows
from bench.desk import Desk
from bench.domain.lots import LotUnit
from bench.errors import BadInput, NotFound
from bench.reports.lots import lot_json, lot_text, parts_text
from bench.reports.month_sheet import month_json, month_text
from bench.reports.next_up import next_json, next_text
from bench.reports.register import register_text
from bench.reports.unit_sheet import money_json, money_text
from bench.reports.week_sheet import week_json
from bench.views.lots import read_lot
from bench.views.money_rows import read_money_rows
from bench.views.months import read_month
from bench.views.next_up import read_ranking
from bench.views.parts import read_parts
from bench.views.register import read_register
from bench.views.unit_money import read_unit_money
from bench.views.week import read_week
from bench.work.comebacks import take_return
from bench.work.lots import buy_lot
from bench.work.purchases import edit_purchase
from bench.work.selling import set_shipping
from bench.work.undo import undo
from tests.work.sale_steps import sell, stage, stocked, trading


def test_shipping_not_typed_is_not_0(desk: Desk) -> None:
    """300 -> 700: the margin is at most 400 until sending it is typed."""
    unit_id = stocked(desk)
    assert sell(desk, unit_id, shipping_text="").shipping_minor is None
    money = read_unit_money(desk, unit_id)
    assert (money.missing, money.margin_minor) == (("shipping",), 40_000)
    facts = json.loads(money_json(money))
    assert (facts["complete"], facts["missing"]) == (False, ["shipping"])
    assert (facts["margin_minor"], facts["margin_at_most_minor"]) == (None, 40_000)
    text = money_text(money)
    assert "≤ 400.00 EUR" in text
    assert "not typed: shipping" in text
    assert [row.amount_minor for row in read_money_rows(desk, unit_id, "sale 1").rows] == [70_000, None]


def test_the_month_and_the_week_name_what_is_missing(desk: Desk) -> None:
    sell(desk, stocked(desk), shipping_text="")
    sheet = read_month(desk)
    assert (sheet.total.incomplete, sheet.missing) == (1, ("10014 shipping",))
    month = json.loads(month_json(sheet))
    assert (month["complete"], month["missing"]) == (False, ["10014 shipping"])
    assert (month["total"]["margin_minor"], month["total"]["margin_at_most_minor"]) == (None, 40_000)
    assert month["result_minor"] is None
    text = month_text(sheet)
    assert "≤ 400.00 EUR" in text
    assert "Not typed and left out: 10014 shipping." in " ".join(text.split())
    week = json.loads(week_json(read_week(desk)))
    assert (week["earned"]["margin_minor"], week["earned"]["margin_at_most_minor"]) == (None, 40_000)
    assert week["sold"][0]["margin_minor"] is None


def test_typed_later_be_it_0_it_is_known(desk: Desk) -> None:
    unit_id = stocked(desk)
    with pytest.raises(NotFound, match="never sold"):
        set_shipping(desk, unit_id, "0")
    sell(desk, unit_id, shipping_text="")
    with pytest.raises(BadInput):
        set_shipping(desk, unit_id, "much")
    set_shipping(desk, unit_id, "0")
    assert (read_unit_money(desk, unit_id).missing, read_month(desk).missing) == ((), ())
    assert json.loads(month_json(read_month(desk)))["total"]["margin_minor"] == 40_000
    set_shipping(desk, unit_id, "8.90")
    assert read_unit_money(desk, unit_id).margin_minor == 40_000 - 890
    undo(desk)
    undo(desk)
    assert read_unit_money(desk, unit_id).missing == ("shipping",)


def test_0_typed_at_the_sale_is_known(desk: Desk) -> None:
    unit_id = stocked(desk)
    assert sell(desk, unit_id, shipping_text="0").shipping_minor == 0
    assert read_unit_money(desk, unit_id).missing == ()


def test_a_price_not_typed_is_not_0(desk: Desk) -> None:
    """In stock: at least as much is tied up. Sold: no margin is told, in the register neither."""
    unit_id = stocked(desk, "")
    sheet = read_month(desk)
    assert not sheet.tied_up_known
    assert "at least 0.00 EUR" in month_text(sheet)
    facts = json.loads(month_json(sheet))
    assert (facts["tied_up_minor"], facts["tied_up_at_least_minor"], facts["complete"]) == (None, 0, False)
    money = json.loads(money_json(read_unit_money(desk, unit_id)))
    assert (money["cost_so_far_minor"], money["cost_so_far_at_least_minor"]) == (None, 0)
    sell(desk, unit_id, shipping_text="0")
    assert read_month(desk).missing == ("10014 price paid",)
    register = read_register(desk)
    assert (register.lines[0].margin_minor, register.unpriced) == (None, ("10014",))
    assert "at least 0.00 EUR" in register_text(register)


def test_return_postage_not_typed_is_not_0(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id, shipping_text="0")
    take_return(desk, unit_id, reason="key", refund_text="", stage_id=stage(desk, "inspected"))
    assert read_unit_money(desk, unit_id).missing == ("return postage",)
    assert read_month(desk).missing == ("10014 return postage",)


def a_lot(desk: Desk) -> list[int]:
    """Three units of a lot for 90: one expected at 60, one of which nothing was typed, a donor."""
    units = [LotUnit("M", "a"), LotUnit("M", "b"), LotUnit("M", "c", donor=True)]
    lot = buy_lot(desk, name="l", price_text="90", units=units)
    ids = [share.unit_id for share in lot.shares]
    edit_purchase(desk, ids[0], expected_text="60", bought_on_text="", invoice="")
    return ids


def test_a_lots_total_is_at_least_as_much_where_an_expected_price_is_not_typed(desk: Desk) -> None:
    """A donor needs none: it counts 0 by the sharing rule unless something is typed."""
    _, second, _ = a_lot(desk)
    sheet = read_lot(desk, 1)
    assert (sheet.expected_minor, sheet.unexpected) == (6_000, ("10022",))
    text = " ".join(lot_text(sheet).split())
    assert "Total expected at least 60.00 EUR, cost left 90.00 EUR." in text
    assert "No expected price typed of 10022: left out of the total." in text
    facts = json.loads(lot_json(sheet))["total"]
    assert (facts["complete"], facts["unexpected"]) == (False, ["10022"])
    assert (facts["expected_minor"], facts["expected_at_least_minor"]) == (None, 6_000)
    told = " ".join(part.text for line in rule_lines(sheet, 200) for part in line)
    assert "Total expected at least 60.00 EUR" in told
    assert "No expected price typed of 10022" in told
    edit_purchase(desk, second, expected_text="30", bought_on_text="", invoice="")
    facts = json.loads(lot_json(read_lot(desk, 1)))["total"]
    assert (facts["complete"], facts["expected_minor"]) == (True, 9_000)
    told = " ".join(part.text for line in rule_lines(read_lot(desk, 1), 200) for part in line)
    assert "Total expected 90.00 EUR" in told
    assert "left out" not in told


def test_what_next_says_at_most_where_a_cost_is_not_known(desk: Desk) -> None:
    unit_id = stocked(desk)
    edit_purchase(desk, unit_id, expected_text="700", bought_on_text="", invoice="", shipping_text="9")
    known = json.loads(next_json(read_ranking(desk)))["lines"][0]
    edit_purchase(desk, unit_id, expected_text="700", bought_on_text="", invoice="", shipping_text="")
    [one] = read_ranking(desk).lines
    assert one.missing == ("shipping",)
    unknown = json.loads(next_json(read_ranking(desk)))["lines"][0]
    assert (known["complete"], known["to_earn_minor"]) == (True, 69_100)
    assert (unknown["complete"], unknown["to_earn_minor"], unknown["to_earn_at_most_minor"]) == (
        False,
        None,
        70_000,
    )
    assert one.reason.startswith("Earns at most 700.00 EUR more")
    assert "at most 700.00 EUR" in " ".join(next_text(read_ranking(desk)).split())
    assert any("≤ 700.00 EUR" in one.text for one in ranking_rows(read_ranking(desk))[0].cells)


def test_what_next_takes_no_expected_price_for_0(desk: Desk) -> None:
    stocked(desk)
    [one] = read_ranking(desk).lines
    assert one.missing[0] == "expected price"
    facts = json.loads(next_json(read_ranking(desk)))["lines"][0]
    assert (facts["to_earn_minor"], facts["to_earn_at_most_minor"]) == (None, None)
    assert "not typed" in next_text(read_ranking(desk))


def test_tax_on_a_margin_of_which_the_price_paid_is_not_typed_is_named(desk: Desk) -> None:
    trading(desk)
    unit_id = stocked(desk, "")
    edit_purchase(desk, unit_id, expected_text="700", bought_on_text="", invoice="", shipping_text="0")
    [one] = read_ranking(desk).lines
    assert (one.to_earn_minor, one.missing) == (70_000, ("tax on the margin, as no price paid was typed",))


def test_break_even_is_at_least_as_much_without_the_price_paid(desk: Desk) -> None:
    unit_id = stocked(desk, "")
    money = read_unit_money(desk, unit_id)
    facts = json.loads(money_json(money))
    assert (facts["break_even_minor"], facts["break_even_at_least_minor"]) == (None, 0)
    assert "break-even price  ≥ 0.00 EUR" in money_text(money)
    assert "cost so far at least 0.00 EUR" in parts_text(read_parts(desk, unit_id))
