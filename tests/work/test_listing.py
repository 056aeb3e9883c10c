"""What a listing tells besides the records: public tasks alone, a price, the shop's own words."""

from __future__ import annotations

import json

import pytest

from bench.desk import Desk
from bench.domain.listing_template import BUILT_IN
from bench.domain.party import PartyTyped
from bench.errors import BadInput, NotFound, Refused, SeveralBadInputs
from bench.reports.listing import NO_WARRANTY, listing_html, listing_json, listing_text
from bench.views.listing import read_listing
from bench.views.particulars import unit_by_tag
from bench.views.routes import read_route
from bench.views.trade import read_trade
from bench.views.unit import read_unit
from bench.work.faults import add_fault
from bench.work.listing import set_listing, set_listing_words, set_route_task_public, set_task_public
from bench.work.parts import fit_part
from bench.work.readings import add_reading
from bench.work.tasks import add_task
from bench.work.timers import finish_task
from bench.work.undo import redo, undo
from bench.work.units import add_unit
from tests.clocks import HandSetClock
from tests.work.sale_steps import sell, stocked
from tests.work.trade_steps import CHARGER_LEAD, COUNTER, last_summary, new_unit, set_trade

PRIVATE = "find why it shuts down"


def text_of(desk: Desk, unit_id: int) -> str:
    return listing_text(read_listing(desk, unit_id))


def a_task(desk: Desk, unit_id: int, name: str, *, public: bool = False) -> int:
    return add_task(
        desk,
        unit_id,
        name=name,
        stage_id=1,
        estimate_text="5",
        unattended=False,
        lid_off=False,
        public=public,
    )


def test_only_public_tasks_are_named_whatever_became_of_them(desk: Desk) -> None:
    unit_id = stocked(desk)
    hidden, shown = a_task(desk, unit_id, PRIVATE), a_task(desk, unit_id, "polish the lid", public=True)
    assert "polish the lid" in text_of(desk, unit_id)
    for number in (hidden, shown):
        finish_task(desk, number)
    told = listing_json(read_listing(desk, unit_id))
    assert PRIVATE not in told
    assert json.loads(told)["done"] == ["polish the lid"]
    set_task_public(desk, hidden, public=True)
    assert json.loads(listing_json(read_listing(desk, unit_id)))["done"] == [PRIVATE, "polish the lid"]
    undo(desk)
    assert PRIVATE not in text_of(desk, unit_id)
    assert PRIVATE not in listing_html(read_listing(desk, unit_id))


def test_a_routes_mark_goes_to_the_units_to_come(desk: Desk) -> None:
    step = next(one for one in read_route(desk, CHARGER_LEAD).tasks if not one.public)
    before = new_unit(desk, "1", route_id=CHARGER_LEAD)
    set_route_task_public(desk, step.route_task_id, public=True)
    assert "a listing may name it" in last_summary(desk)
    after = new_unit(desk, "1", route_id=CHARGER_LEAD)
    marks = [
        next(task.public for task in read_unit(desk, one).tasks if task.name == step.name)
        for one in (before, after)
    ]
    assert marks == [False, True]


def test_an_untested_kind_is_told_though_its_task_is_private(desk: Desk) -> None:
    unit_id = stocked(desk)
    number = add_task(
        desk,
        unit_id,
        name=PRIVATE,
        stage_id=1,
        estimate_text="5",
        unattended=True,
        lid_off=False,
        test="memory",
    )
    assert number
    assert "- Memory test: none that passed is on record" in text_of(desk, unit_id)
    assert PRIVATE not in text_of(desk, unit_id)


def test_a_part_that_is_in_it_is_told_with_what_it_changed(desk: Desk, clock: HandSetClock) -> None:
    unit_id = stocked(desk)

    def battery(moment: str, full: str, cycles: str) -> None:
        add_reading(desk, unit_id, moment=moment, subject="battery", fields={"full": full, "cycles": cycles})

    battery("before", "30", "412")
    battery("after", "29", "413")  # of the old pack still
    clock.advance(minutes=5)
    fit_part(desk, unit_id, name="battery pack", cost_text="20")
    (renewed,) = read_listing(desk, unit_id).renewed
    assert renewed.readings == ()
    clock.advance(minutes=5)
    battery("after", "50", "1")
    changed = "Full charge 30.00 Wh before, 50.00 Wh after; Cycles 412 before, 1 after"
    assert f"- battery pack, put in 2026-11-25: {changed}\n" in text_of(desk, unit_id)
    facts = json.loads(listing_json(read_listing(desk, unit_id)))["renewed"]
    assert [one["part"] for one in facts] == ["battery pack"]
    undo(desk, reason="mistyped")
    undo(desk)
    assert read_listing(desk, unit_id).renewed == ()


def test_price_shipping_and_warranty(desk: Desk) -> None:
    set_trade(desk)
    for price in ("200", "260", "280"):
        sell(desk, new_unit(desk, "50"), price, channel_id=COUNTER)
    unit_id = new_unit(desk, "50")
    facts = json.loads(listing_json(read_listing(desk, unit_id)))
    assert (facts["price_minor"], facts["suggested_minor"]) == (None, 26_000)
    assert "260" not in facts["text"]  # what is only suggested is not advertised
    set_listing_words(desk, shipping="sent for 8, or fetched")
    set_listing(desk, unit_id, price_text="249.50")
    text = text_of(desk, unit_id)
    assert "249.50 EUR" in text
    assert "Shipping and warranty\nsent for 8, or fetched\n" in text
    set_listing(desk, unit_id, shipping="only fetched")
    assert read_listing(desk, unit_id).price_minor == 24_950
    assert "only fetched" in text_of(desk, unit_id)
    undo(desk)
    assert "sent for 8" in text_of(desk, unit_id)
    redo(desk)
    set_listing(desk, unit_id, price_text="", shipping=" ")
    undo(desk)
    undo(desk)
    undo(desk)
    assert read_listing(desk, unit_id).price_minor is None
    days = read_trade(desk).warranty_days
    assert (f"Warranty of the shop: {days} days" if days else NO_WARRANTY) in text_of(desk, unit_id)


def test_bad_input_changes_nothing(desk: Desk) -> None:
    unit_id = stocked(desk)
    with pytest.raises(SeveralBadInputs) as told:
        set_listing(desk, unit_id, price_text="a lot", shipping="x" * 501)
    assert [fault.field for fault in told.value.faults] == ["price_text", "shipping"]
    with pytest.raises(BadInput, match="leaves out") as refused:
        set_listing_words(desk, template="Bargain! $title")
    assert refused.value.field == "template"
    with pytest.raises(NotFound):
        set_listing(desk, 99, price_text="1")
    owners = add_unit(desk, maker="M", model="M", owner=PartyTyped("Olga")).unit_id
    with pytest.raises(Refused):
        set_listing(desk, owners, price_text="1")
    assert read_trade(desk).listing_template == ""
    assert read_listing(desk, unit_id).price_minor is None


def test_the_shops_own_words_tell_every_open_fault(desk: Desk) -> None:
    unit_id = stocked(desk)
    add_fault(desk, unit_id, symptom="<b>hinge</b> $title cracks")
    words = "For sale: $title <i>\n$$ 5 for a bag\n\nMind this\n$faults\n\nUntested: $not_tested"
    set_listing_words(desk, template=words)
    text = text_of(desk, unit_id)
    assert text.startswith("For sale: Maker Model <i>\n$ 5 for a bag\n\nMind this\n- ")
    assert "<b>hinge</b> $title cracks" in text
    page = listing_html(read_listing(desk, unit_id))
    assert "<h2>Mind this</h2>" in page
    assert "&lt;b&gt;hinge&lt;/b&gt; $title cracks" in page
    assert "<i>" not in page
    undo(desk)
    assert text_of(desk, unit_id).startswith("Maker Model\n\n")
    redo(desk)
    set_listing_words(desk, template=BUILT_IN)
    assert read_trade(desk).listing_template == ""


def test_the_demo_advertises_no_task_that_is_not_public(demo_desk: Desk) -> None:
    listing = read_listing(demo_desk, unit_by_tag(demo_desk, "10428"))
    assert listing.price_minor == 37_900
    assert "renew thermal paste" in listing.done
    named = {*listing.done, *listing.left_out, *listing.to_do}
    assert not named & {
        "look over and note faults",
        "photographs and listing text",
        "readings after, and grade",
    }
