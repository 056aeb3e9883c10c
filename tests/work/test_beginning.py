"""The beginning of a shop: all that the first form asks, in one act, or nothing of it."""

from __future__ import annotations

from pathlib import Path

import pytest

from bench.desk import Desk
from bench.errors import BadInput
from bench.views.shop import read_people, read_shop, read_untouched
from bench.views.stock import read_stock
from bench.work.beginning import begin_shop
from bench.work.files import open_or_new
from tests.clocks import HandSetClock


@pytest.fixture
def new(tmp_path: Path) -> Desk:
    """A file that nobody has done anything in."""
    return Desk(open_or_new(tmp_path / "new.bench", person="login"), HandSetClock(), 1)


def on_hand(desk: Desk) -> dict[str, int]:
    return {line.name: line.on_hand for line in read_stock(desk).lines if line.on_hand}


def test_all_that_was_typed_is_there(new: Desk) -> None:
    assert read_untouched(new)
    shop = {"name": "Tollgate", "currency": "sek", "zone": "Europe/Stockholm"}
    begin_shop(new, **shop, you="Ada", others="Bo, Cy", amounts={1: "500 ml", 2: "4", 3: ""})
    kept = read_shop(new)
    assert (kept.name, kept.currency, kept.zone) == ("Tollgate", "SEK", "Europe/Stockholm")
    assert [one.name for one in read_people(new)] == ["Ada", "Bo", "Cy"]
    assert on_hand(new) == {"isopropyl 99 %": 500_000, "thermal paste": 4_000}
    assert not read_untouched(new)


def test_what_is_left_as_it_stands_is_a_beginning_too(new: Desk) -> None:
    shop = read_shop(new)
    begin_shop(
        new, name=shop.name, currency=shop.currency, zone=shop.zone, you="login", others="", amounts={1: ""}
    )
    assert not read_untouched(new)
    assert on_hand(new) == {}


def test_all_that_is_wrong_is_told_by_field_and_nothing_is_changed(new: Desk) -> None:
    with pytest.raises(BadInput) as caught:
        begin_shop(
            new, name=" ", currency="EUR", zone="Mars", you="", others="Bo, bo", amounts={1: "12 g", 2: "4"}
        )
    assert {fault.field for fault in caught.value.faults} == {"name", "zone", "you", "others", "amount_1"}
    assert read_untouched(new)
    assert [one.name for one in read_people(new)] == ["login"]
    assert on_hand(new) == {}
