"""The same unit taken in twice, or a part fitted twice, is asked about; a typed reason goes on."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.domain.lots import LotUnit
from bench.domain.offers import OfferTyped
from bench.errors import KnownAlready
from bench.views.journal import read_journal
from bench.work.buying import buy_offer, save_offer
from bench.work.lots import buy_lot
from bench.work.moves import move_unit
from bench.work.parts import fit_part, take_part
from bench.work.units import add_unit, edit_unit
from tests.work.sale_steps import stage, stocked
from tests.work.taking_back import changes_nothing


@pytest.fixture
def unit_id(desk: Desk) -> int:
    return stocked(desk, "100", serial="PF-1A 2b")


@pytest.mark.parametrize("serial", ["PF-1A 2b", "pf-1a2B", "  pf-1a 2 b "])
def test_a_unit_of_a_known_serial_number_is_asked_about(desk: Desk, unit_id: int, serial: str) -> None:
    changes_nothing(
        desk,
        lambda: add_unit(desk, maker="", model="One", serial=serial),
        KnownAlready,
        "is that of unit 10014",
    )
    add_unit(desk, maker="", model="One", serial=serial, again="two boards bear it")
    assert read_journal(desk).lines[0].reason == "two boards bear it"


def test_other_and_empty_serial_numbers_pass(desk: Desk, unit_id: int) -> None:
    add_unit(desk, maker="", model="One", serial="PF-1A 2c")
    add_unit(desk, maker="", model="One")
    add_unit(desk, maker="", model="One")


def test_one_that_was_sold_may_have_come_back(desk: Desk, unit_id: int) -> None:
    move_unit(desk, unit_id, stage(desk, "sold"))
    with pytest.raises(KnownAlready, match="If it came back, record its return"):
        add_unit(desk, maker="", model="One", serial="PF-1A 2b")


def test_a_lot_and_an_offer_are_asked_about_too(desk: Desk, unit_id: int) -> None:
    twice = [LotUnit("M", "One", serial="S-9"), LotUnit("M", "Two", serial="s-9")]
    changes_nothing(
        desk, lambda: buy_lot(desk, name="L", price_text="10", units=twice), KnownAlready, "'S-9'|“s-9”|s-9"
    )
    buy_lot(desk, name="L", price_text="10", units=twice, again="one label for both")
    offer = save_offer(desk, OfferTyped("One", "300", serial="PF-1A2B"))
    changes_nothing(desk, lambda: buy_offer(desk, offer, price_text="5"), KnownAlready, "unit 10014")
    buy_offer(desk, offer, price_text="5", again="seen both")


def test_a_corrected_serial_number_is_asked_about_and_an_unchanged_one_not(desk: Desk, unit_id: int) -> None:
    other = add_unit(desk, maker="", model="One", serial="X").unit_id
    rest = {"maker": "", "model": "One", "note": "", "due_text": "", "price_text": "", "tag_text": ""}
    changes_nothing(desk, lambda: edit_unit(desk, other, serial="PF-1A2B", **rest), KnownAlready, "10014")
    edit_unit(desk, other, serial="PF-1A2B", again="so it stands there", **rest)
    edit_unit(desk, other, serial="PF-1A2B", **rest)


def test_a_part_fitted_twice_is_asked_about(desk: Desk, unit_id: int) -> None:
    other = stocked(desk, "50")
    fit_part(desk, unit_id, name="battery", cost_text="40", serial="B-1")
    for to in (unit_id, other):
        changes_nothing(
            desk,
            lambda to=to: fit_part(desk, to, name="pack", cost_text="40", serial="b-1"),
            KnownAlready,
            "battery B-1 is fitted in unit 10014 already",
        )
    fit_part(desk, other, name="pack", cost_text="40", serial="b-1", again="the maker prints it twice")


def test_a_part_without_a_number_is_told_by_its_name_in_the_same_unit(desk: Desk, unit_id: int) -> None:
    other = stocked(desk, "50")
    fit_part(desk, unit_id, name="Memory 8 GB", cost_text="16")
    changes_nothing(
        desk,
        lambda: fit_part(desk, unit_id, name="memory 8 GB", cost_text="16"),
        KnownAlready,
        "fitted in unit",
    )
    fit_part(desk, other, name="memory 8 GB", cost_text="16")
    fit_part(desk, unit_id, name="memory 8 GB", cost_text="16", again="the second bank")
    take_part(desk, other, name="memory 8 GB", cost_text="16")
    fit_part(desk, other, name="memory 8 GB", cost_text="16")
