"""Offers: kept with all that was typed, corrected, left, or bought into the queue."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from bench.desk import Desk
from bench.domain.offers import BOUGHT, DECLINED, OPEN, OfferTyped
from bench.domain.party import PartyTyped
from bench.errors import BadInput, NotFound, Refused
from bench.views.offers import read_offer, read_offers
from bench.views.purchase import read_purchase
from bench.views.unit import read_unit
from bench.work.buying import buy_offer, edit_offer, leave_offer, save_offer
from bench.work.purchases import edit_purchase
from bench.work.route_tasks import remove_route
from tests.clocks import HandSetClock
from tests.work.taking_back import changes_nothing, is_taken_back
from tests.work.trade_steps import CHARGER_LEAD, COUNTER, last_summary, new_unit

FULL = OfferTyped(
    maker="Maker",
    model="Model [b]5[/b]",
    serial="S-1",
    note="lid scratched\nbag too",
    route_id=CHARGER_LEAD,
    channel_id=COUNTER,
    asking_text="120",
    expected_text="300",
    parts_text="20.50",
    seller=PartyTyped("Somebody", "Somewhere 1"),
    findings={"battery": "81 %, 214 cycles", "powers_on": ""},
)


def test_everything_typed_is_kept(desk: Desk, clock: HandSetClock) -> None:
    number = is_taken_back(desk, lambda: save_offer(desk, FULL))
    offer = read_offer(desk, number)
    assert (offer.maker, offer.model, offer.serial, offer.note) == (
        "Maker",
        "Model [b]5[/b]",
        "S-1",
        "lid scratched\nbag too",
    )
    assert (offer.route, offer.channel, offer.seller) == ("charger lead", "over the counter", "Somebody")
    assert (offer.asking_minor, offer.expected_minor, offer.parts_minor) == (12_000, 30_000, 2_050)
    assert (offer.state, offer.unit_id, offer.tag, offer.at_us) == (OPEN, None, "", clock.now_us())
    seen = {one.item: one.words for one in offer.findings if one.seen}
    assert seen == {"powers_on": "", "battery": "81 %, 214 cycles"}
    assert "Somebody" not in last_summary(desk)


def test_an_open_offer_is_set_right(desk: Desk) -> None:
    number = save_offer(desk, FULL)
    fresh = replace(FULL, asking_text="", note="", seller=None, findings={"serial": "matches"})
    is_taken_back(desk, lambda: edit_offer(desk, number, fresh))
    offer = read_offer(desk, number)
    assert (offer.asking_minor, offer.note, offer.seller) == (None, "", "Somebody")
    assert [one.item for one in offer.findings if one.seen] == ["serial"]


def test_walking_away_keeps_it_to_be_read(desk: Desk) -> None:
    number, other = save_offer(desk, FULL), save_offer(desk, OfferTyped("M", "10"))
    is_taken_back(desk, lambda: leave_offer(desk, number, "asks too much"))
    assert [one.offer_id for one in read_offers(desk)] == [other]
    assert [one.offer_id for one in read_offers(desk, DECLINED)] == [number]
    assert [one.offer_id for one in read_offers(desk, None)] == [other, number]
    for act in (
        lambda: edit_offer(desk, number, FULL),
        lambda: leave_offer(desk, number),
        lambda: buy_offer(desk, number, price_text="1"),
    ):
        changes_nothing(desk, act, Refused, "is declined already")


def test_bought_it_goes_into_the_queue_with_all_that_was_typed(desk: Desk) -> None:
    number = save_offer(desk, FULL)
    added = is_taken_back(
        desk,
        lambda: buy_offer(
            desk, number, price_text="95.50", due_text="+14", bought_on_text="yesterday", invoice="R 7"
        ),
    )
    sheet = read_unit(desk, added.unit_id)
    assert (sheet.maker, sheet.model, sheet.serial, sheet.route) == (
        "Maker",
        "Model [b]5[/b]",
        "S-1",
        "charger lead",
    )
    assert (sheet.price_minor, str(sheet.due_on)) == (9_550, "2026-12-09")
    assert len(sheet.tasks) == added.tasks == 4
    assert sheet.note.startswith("lid scratched\nbag too\nAt the seller's table:\npowers on: seen, nothing")
    assert "battery figures: 81 %, 214 cycles" in sheet.note
    bought = read_purchase(desk, added.unit_id)
    assert (bought.bought_on, bought.invoice, bought.seller) == (date(2026, 11, 24), "R 7", "Somebody")
    assert (bought.expected_minor, bought.price_minor, bought.donor, bought.lot_id) == (
        30_000,
        9_550,
        False,
        None,
    )
    assert bought.offer_id == number
    assert len([one for one in bought.findings if one.seen]) == 2
    assert (read_offer(desk, number).state, read_offer(desk, number).tag) == (BOUGHT, sheet.tag)
    assert last_summary(desk) == f"Bought Maker Model [b]5[/b] for 95.50 EUR as {sheet.tag}"
    changes_nothing(desk, lambda: buy_offer(desk, number, price_text="1"), Refused, "is bought already")


def test_a_bare_offer_is_bought_bare(desk: Desk) -> None:
    added = buy_offer(desk, save_offer(desk, OfferTyped("M", "10")), price_text="5")
    sheet = read_unit(desk, added.unit_id)
    assert (sheet.note, sheet.tasks, sheet.route_id) == ("", (), None)
    assert read_purchase(desk, added.unit_id).bought_on == date(2026, 11, 25)


def test_a_route_removed_since_gives_no_tasks(desk: Desk) -> None:
    number = save_offer(desk, FULL)
    remove_route(desk, CHARGER_LEAD)
    assert buy_offer(desk, number, price_text="1").tasks == 0


@pytest.mark.parametrize(
    ("change", "error", "match"),
    [
        ({"model": " "}, BadInput, "The model is empty"),
        ({"expected_text": ""}, BadInput, "not an amount"),
        ({"asking_text": "-1"}, BadInput, "negative"),
        ({"parts_text": "x"}, BadInput, "not an amount"),
        ({"route_id": 99}, NotFound, "no route with number 99"),
        ({"channel_id": 99}, NotFound, "no channel with number 99"),
        ({"findings": {"wheels": ""}}, BadInput, "not on the list"),
        ({"seller": PartyTyped("", "Somewhere")}, BadInput, "is empty"),
    ],
)
def test_what_cannot_be_offered(
    desk: Desk, change: dict[str, object], error: type[Exception], match: str
) -> None:
    changes_nothing(desk, lambda: save_offer(desk, replace(FULL, **change)), error, match)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("change", "match"),
    [
        ({"price_text": ""}, "not an amount"),
        ({"tag_text": "12"}, "tag"),
        ({"due_text": "soon"}, "The due date"),
        ({"bought_on_text": "tomorrow"}, "still to come"),
        ({"bought_on_text": "never"}, "The day of purchase"),
    ],
)
def test_what_cannot_be_bought(desk: Desk, change: dict[str, str], match: str) -> None:
    number = save_offer(desk, FULL)
    changes_nothing(desk, lambda: buy_offer(desk, number, **{"price_text": "5", **change}), BadInput, match)


def test_no_such_offer(desk: Desk) -> None:
    with pytest.raises(NotFound, match="no offer with number 7"):
        read_offer(desk, 7)
    changes_nothing(desk, lambda: leave_offer(desk, 7), NotFound, "no offer with number 7")


def test_where_a_unit_comes_from_is_set_right(desk: Desk) -> None:
    unit_id = new_unit(desk, "50")
    bare = read_purchase(desk, unit_id)
    assert (bare.bought_on, bare.seller, bare.expected_minor, bare.findings) == (None, "", None, ())
    is_taken_back(
        desk,
        lambda: edit_purchase(
            desk,
            unit_id,
            expected_text="180",
            bought_on_text="2026-11-20",
            invoice="A 1",
            seller=PartyTyped("A firm", private=False),
        ),
    )
    found = read_purchase(desk, unit_id)
    assert (found.expected_minor, str(found.bought_on), found.invoice, found.seller) == (
        18_000,
        "2026-11-20",
        "A 1",
        "A firm",
    )
    edit_purchase(desk, unit_id, expected_text="", bought_on_text="", invoice="")
    emptied = read_purchase(desk, unit_id)
    assert (emptied.expected_minor, emptied.bought_on, emptied.seller) == (None, None, "A firm")


def test_a_purchase_refuses(desk: Desk) -> None:
    unit_id = new_unit(desk)

    def edit(number: int, **typed: str) -> None:
        edit_purchase(desk, number, **{"expected_text": "", "bought_on_text": "", "invoice": "", **typed})

    changes_nothing(desk, lambda: edit(unit_id, bought_on_text="+3"), BadInput, "still to come")
    changes_nothing(desk, lambda: edit(unit_id, expected_text="much"), BadInput, "not an amount")
    changes_nothing(desk, lambda: edit(99), NotFound, "no unit with number 99")
    with pytest.raises(NotFound, match="no unit with number 99"):
        read_purchase(desk, 99)
