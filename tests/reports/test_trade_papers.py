"""Offers, prices, lots, parts, money, what next and forecast as documents: plain, whole, agreeing."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest

from bench.dashboard.presenters import offer_rows, unit_money_rows
from bench.dashboard.presenters.pieces import Part
from bench.dashboard.presenters.rows import Row
from bench.desk import Desk
from bench.domain.offers import TABLE_ITEMS
from bench.reports import SHAPES, lots, next_up, offers, unit_sheet
from bench.views.forecast import read_forecast
from bench.views.kinds import context_of
from bench.views.lots import read_lot, read_lots
from bench.views.money_rows import read_money_rows
from bench.views.most_to_pay import read_most_to_pay, read_offer_price
from bench.views.next_up import read_ranking
from bench.views.offers import read_offer, read_offers
from bench.views.parts import read_parts, read_shelf
from bench.views.price_rows import read_price_rows
from bench.views.unit_money import read_unit_money
from bench.work.buying import leave_offer
from bench.work.lots import reshare_lot
from tests.clocks import HandSetClock
from tests.reports.reading import companions_agree, is_plain, same
from tests.reports.trading import FIRM, MODEL, Trading, trade
from tests.work.trade_steps import CHARGER_LEAD, new_unit


@pytest.fixture
def scene(desk: Desk, clock: HandSetClock) -> Trading:
    return trade(desk, clock)


def agrees(view: Any, text: str, document: str) -> dict[str, Any]:
    """The JSON holds every field of the view, its times with companions."""
    facts: dict[str, Any] = json.loads(text)
    assert (facts["document"], facts["shape"]) == (document, SHAPES.get(document, 1))
    same(view, facts)
    companions_agree(facts)
    return facts


def told_alike(paper: str, rows: Sequence[Row]) -> bool:
    """Whether every cell of a table on the screen stands on paper, row for row in that order."""
    words = iter(paper.split())
    cells = (part for row in rows for part in row.cells if isinstance(part, Part))
    return all(word in words for cell in cells for word in cell.text.split())


def test_an_offer(desk: Desk, scene: Trading) -> None:
    offer, price = read_offer(desk, scene.offer_id), read_offer_price(desk, scene.offer_id)
    text = offers.offer_text(offer, price)
    is_plain(text)
    assert text.startswith(f"Offer 1, @Maker {MODEL}\n")
    for words in (
        f"Seller      {FIRM}\n",
        "first line\n=second [b]\n",
        "[x] screen coating and dead pixels: two [dead] pixels\n",
        "[x] powers on: seen, nothing noted\n",
        "[ ] drive lock: not looked at\n",
        "Most to pay: ",
    ):
        assert words in text
    assert text.count("[x]") + text.count("[ ]") == len(TABLE_ITEMS)
    facts = agrees(offer, offers.offer_json(offer, price), "offer")
    same(price, facts["price"])


def test_the_list_of_offers(desk: Desk, scene: Trading) -> None:
    found = read_offers(desk)
    text = offers.offers_text(found)
    is_plain(text)
    assert "150.00 EUR" in text
    same(found, json.loads(offers.offers_json(found))["offers"])
    leave_offer(desk, scene.offer_id)
    assert offers.offers_text(read_offers(desk)) == "No offers.\n"
    assert "declined" in offers.offers_text(read_offers(desk, None))


def test_the_most_to_pay(desk: Desk, scene: Trading) -> None:
    # 300 - 37.85 fees - 27.50 for 55 min - 30 reserve - 40 wanted = 164.65; with (300 - p) / 6 of tax
    # p = (164.65 - 50) x 6 / 5 = 137.58, tax 27.07; asked are 150.
    price = read_offer_price(desk, scene.offer_id)
    text = offers.price_text(price)
    is_plain(text)
    for words in (
        "Most to pay: 137.58 EUR\n",
        "Asked: 150.00 EUR\n",
        "    ! asks 12.42 EUR too much\n",
        "Route: charger lead; channel: =by post\n",
        "No price is known of heat-shrink tubing",
        "most to pay ",
        "    10 % of the expected price, the shop's setting\n",
    ):
        assert words in text
    most = next(line.split() for line in text.split("\n") if line.startswith("most to pay"))
    assert most[3:] == ["137.58", "EUR"] * 2, "the careful price is the same: it is an estimate"
    assert told_alike(text, offer_rows.sum_rows(price))
    facts = agrees(price, offers.price_json(price), "most_to_pay")
    assert facts["over_minor"] == 1_242
    under = replace(price, asking_minor=13_000)
    assert "✓ asks 7.58 EUR less" in offers.price_text(under)


def test_a_price_at_which_nothing_pays(desk: Desk, scene: Trading) -> None:
    price = read_most_to_pay(desk, expected_text="20", route_id=CHARGER_LEAD, channel_id=None)
    text = offers.price_text(price)
    is_plain(text)
    assert "Most to pay: 0.00 EUR\n" in text
    assert "The total is below zero: it pays at no price." in text
    assert "channel: none chosen" in text


def test_the_careful_sum_stands_beside_the_other(desk: Desk, scene: Trading) -> None:
    price = read_offer_price(desk, scene.offer_id)
    dearer = replace(price.answer.lines[4], amount_minor=-9_999)
    careful = (*price.answer.lines[:4], dearer, *price.answer.lines[5:])
    text = offers.price_text(replace(price, answer=replace(price.answer, lines_80=careful)))
    is_plain(text)
    line = next(line.split() for line in text.split("\n") if line.startswith("hands-on time"))
    assert line[2:] == ["-27.50", "EUR", "-99.99", "EUR"]


def test_the_rows_behind_a_price(desk: Desk, scene: Trading) -> None:
    for opens in ("fees", "consumables", "time", "reserve"):
        rows = read_price_rows(desk, opens, route_id=CHARGER_LEAD, channel_id=2)
        text = offers.price_rows_text(rows)
        is_plain(text)
        assert text.startswith(rows.title)
        assert len(text.split("\n")) >= len(rows.rows) + 2
    assert "None yet." in offers.price_rows_text(replace(rows, rows=()))


def test_lots(desk: Desk, scene: Trading) -> None:
    book, sheet = read_lots(desk), read_lot(desk, scene.lot_id)
    for text in (lots.lots_text(book), lots.lot_text(sheet)):
        is_plain(text)
        assert "120.00 EUR" in text
    assert f"Lot 1, =lot [1]: 120.00 EUR on 2026-11-25 from {FIRM}" in lots.lot_text(sheet)
    assert "=pallet [b]" in lots.lot_text(sheet)
    assert "donor" in lots.lot_text(sheet)
    agrees(book, lots.lots_json(book), "lots")
    agrees(sheet, lots.lot_json(sheet), "lot")
    assert lots.lots_text(replace(book, lots=())) == "No lots.\n"


def test_what_a_sharing_changed(desk: Desk, scene: Trading) -> None:
    # 50.00 each of the two sold ones stay; the donor alone shares the 20.00 that are left
    shares = reshare_lot(desk, scene.lot_id).shares
    text = lots.shares_text(shares, "EUR")
    is_plain(text)
    assert [line.split() for line in text.split("\n")[2:5]] == [
        [one.tag, f"{one.old_minor / 100:.2f}", "EUR", f"{one.new_minor / 100:.2f}", "EUR"] for one in shares
    ]


def test_parts_and_the_shelf(desk: Desk, scene: Trading) -> None:
    donor, shelf = read_parts(desk, scene.donor_id), read_shelf(desk)
    text = lots.parts_text(donor)
    is_plain(text)
    assert "-10.00 EUR" in text
    assert "donor" in text
    assert "Price 20.00 EUR; cost so far 8.00 EUR." in text
    agrees(donor, lots.parts_json(donor), "parts")
    is_plain(lots.shelf_text(shelf))
    assert "Cost on the shelf: 2.00 EUR." in lots.shelf_text(shelf)
    assert agrees(shelf, lots.shelf_json(shelf), "shelf")["cost_minor"] == 200
    bought = lots.parts_text(read_parts(desk, scene.sold_id))
    assert "→ in, bought =Supplier" in bought
    assert "[battery]  " in bought
    bare = lots.parts_text(read_parts(desk, new_unit(desk)))
    assert "No part came or went." in bare
    assert "Price not typed" in bare
    assert lots.shelf_text(replace(shelf, lines=())) == "The shelf is empty.\n"


def test_a_sold_units_money(desk: Desk, scene: Trading) -> None:
    # 50 + 35.90 = 85.90; 230 - 28.75 - 0.35 - 30.00 tax (180 / 6) = 170.90; 85.00 margin in 20 min: 255.00
    money = read_unit_money(desk, scene.sold_id)
    text = unit_sheet.money_text(money)
    is_plain(text)
    lines = [" ".join(line.split()) for line in text.split("\n")]
    for words in (
        "share of the lot =lot [1] 50.00 EUR",
        "cost so far 85.90 EUR",
        "proceeds 170.90 EUR",
        "hands-on time 10.00 EUR",
        "20 min × 30.00 EUR",
        "margin, before labour 85.00 EUR",
        "margin per hour 255.00 EUR",
    ):
        assert words in lines
    assert "not advice" in text
    assert told_alike(text, unit_money_rows.money_rows(money, context_of(money)))
    facts = agrees(money, unit_sheet.money_json(money), "unit_money")
    assert {name: facts[name] for name in ("cost_so_far_minor", "proceeds_minor", "labour_minor")} == {
        "cost_so_far_minor": 8_590,
        "proceeds_minor": 17_090,
        "labour_minor": 1_000,
    }
    assert (facts["margin_minor"], facts["per_hour_minor"]) == (8_500, 25_500)


def test_money_of_a_unit_that_came_back(desk: Desk, scene: Trading) -> None:
    money = read_unit_money(desk, scene.back_id)
    text = unit_sheet.money_text(replace(money, after_return_us=600_000_000))
    is_plain(text)
    lines = [" ".join(line.split()) for line in text.split("\n")]
    assert "of it since it came back 10 min" in lines
    assert "expected price 200.00 EUR" in lines
    assert "margin" not in text.partition("What is left")[2]
    assert "\nproceeds  0.00 EUR\n" in unit_sheet.money_text(read_unit_money(desk, scene.donor_id))


def test_the_rows_behind_a_units_money(desk: Desk, scene: Trading) -> None:
    money = read_unit_money(desk, scene.sold_id)
    for opens in {line.opens for line in (*money.cost_so_far, *money.proceeds)} | {"time"}:
        rows = read_money_rows(desk, scene.sold_id, opens)
        text = unit_sheet.money_rows_text(rows)
        is_plain(text)
        assert "\nTotal " in text
        assert (
            agrees(rows, unit_sheet.money_rows_json(rows), "money_rows")["amount_minor"] == rows.amount_minor
        )
    assert "20 min" in unit_sheet.money_rows_text(read_money_rows(desk, scene.sold_id, "time"))


def test_what_next(desk: Desk, scene: Trading) -> None:
    view = read_ranking(desk)
    text = next_up.next_text(view)
    is_plain(text)
    assert "on hold: @strip [later]" in text
    assert all(" ".join(line.reason.split()) in " ".join(text.split()) for line in view.lines)
    agrees(view, next_up.next_json(view), "next")
    empty = next_up.next_text(replace(view, lines=(), waiting=()))
    assert empty.startswith("Nothing can be worked on.\n\nAlarms before all. Due today or past due first")


def test_the_forecast(desk: Desk, scene: Trading) -> None:
    view = read_forecast(desk)
    text = next_up.forecast_text(view)
    is_plain(text)
    assert "no date yet: no unit has passed inspected" in text
    assert view.bottleneck[:30] in text
    assert "365 days back" in " ".join(text.split())
    facts = agrees(view, next_up.forecast_json(view), "forecast")
    assert facts["law"] is None
    line = view.lines[0]
    known = replace(line, missing=(), rests_on=3, left_50_us=view.read_us, ready_50_us=view.read_us - 10**12)
    shown = next_up.forecast_text(replace(view, lines=(known, replace(known, rests_on=9))))
    is_plain(shown)
    assert shown.count("based on 3 past units") == 1
    assert "2026-11-13" in shown  # the day it is ready by; when it leaves finds no room
    assert "The queue is empty." in next_up.forecast_text(replace(view, lines=()))


def test_littles_law_has_both_sides(desk: Desk, scene: Trading, clock: HandSetClock) -> None:
    clock.advance(minutes=3 * 24 * 60)
    view = read_forecast(desk)
    law = json.loads(next_up.forecast_json(view))["law"]
    assert view.law is not None
    assert law["expected_in_queue"] == view.law.expected_in_queue
    assert law["in_queue"] == view.law.in_queue
