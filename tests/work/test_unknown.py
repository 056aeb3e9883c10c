"""What was not typed is never 0 in a total: sums say that it is missing, in figures, text and JSON."""

from __future__ import annotations

import json

import pytest

from bench.errors import BadInput, NotFound
from bench.reports.month_paper import month_text
from bench.reports.month_sheet import month_json
from bench.reports.register import register_text
from bench.reports.unit_money import money_json, money_text
from bench.reports.week_sheet import week_json
from bench.work.comebacks import take_return
from bench.work.desk import Desk
from bench.work.money import read_unit_money
from bench.work.money_rows import read_money_rows
from bench.work.months import read_month
from bench.work.register import read_register
from bench.work.selling import set_shipping
from bench.work.take_back import take_back
from bench.work.week import read_week
from tests.work.sale_steps import sell, stage, stocked


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
    assert "at most 400.00 EUR" in text
    assert "shipping: left out of the sums" in text
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
    assert "at most 400.00 EUR" in text
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
    take_back(desk)
    take_back(desk)
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
    assert (money["landed_minor"], money["landed_at_least_minor"]) == (None, 0)
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
