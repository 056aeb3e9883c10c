"""The shop's settings: all set at once, each checked, and money that is kept never means something else."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.errors import BadInput, Refused
from bench.views.shop import ShopFacts, read_shop
from bench.work.shop import edit_shop
from bench.work.stock import restock
from bench.work.undo import undo
from bench.work.units import add_unit
from tests.work.bookkeeping import PASTE, footprint

TYPED = {
    "name": "Corner bench",
    "currency": "eur",
    "zone": "Europe/Lisbon",
    "rate_text": "32.50",
    "forgotten_times_text": "4",
    "forgotten_least_text": "1h30",
}


def test_a_new_shop(desk: Desk) -> None:
    assert read_shop(desk) == ShopFacts("My workshop", "EUR", "Europe/Berlin", 0, 3, 120)


def test_settings_are_set_together_and_taken_back_together(desk: Desk) -> None:
    before = read_shop(desk)
    edit_shop(desk, **TYPED)
    assert read_shop(desk) == ShopFacts("Corner bench", "EUR", "Europe/Lisbon", 3250, 4, 90)
    undo(desk)
    assert read_shop(desk) == before


def test_the_same_again_leaves_no_trace(desk: Desk) -> None:
    edit_shop(desk, **TYPED)
    before = footprint(desk)
    edit_shop(desk, **TYPED)
    assert footprint(desk) == before


def test_an_empty_rate_is_nothing(desk: Desk) -> None:
    edit_shop(desk, **{**TYPED, "rate_text": " "})
    assert read_shop(desk).rate_minor_per_hour == 0


@pytest.mark.parametrize(
    "wrong",
    [
        {"name": ""},
        {"name": "a\x00b"},
        {"currency": "EURO"},
        {"currency": ""},
        {"zone": "Europe/Nowhere"},
        {"zone": "../etc/passwd"},
        {"rate_text": "-1"},
        {"rate_text": "nan"},
        {"rate_text": "1.234"},
        {"forgotten_times_text": "0"},
        {"forgotten_times_text": "101"},
        {"forgotten_times_text": "1.5"},
        {"forgotten_times_text": ""},
        {"forgotten_least_text": "0"},
        {"forgotten_least_text": "10001"},
        {"forgotten_least_text": "NaN"},
    ],
)
def test_one_wrong_setting_changes_none(desk: Desk, wrong: dict[str, str]) -> None:
    before = (read_shop(desk), footprint(desk))
    with pytest.raises(BadInput):
        edit_shop(desk, **{**TYPED, **wrong})
    assert (read_shop(desk), footprint(desk)) == before


def test_another_currency_before_any_money_is_kept(desk: Desk) -> None:
    add_unit(desk, maker="Invented", model="One")
    edit_shop(desk, **{**TYPED, "currency": "JPY", "rate_text": "3000"})
    assert (read_shop(desk).currency, read_shop(desk).rate_minor_per_hour) == ("JPY", 3000)


def test_another_currency_of_the_same_decimals_at_any_time(desk: Desk) -> None:
    restock(desk, PASTE, packs_text="1", price_text="12")
    edit_shop(desk, **{**TYPED, "currency": "GBP"})
    assert read_shop(desk).currency == "GBP"


def test_amounts_that_are_kept_would_be_read_wrong(desk: Desk) -> None:
    restock(desk, PASTE, packs_text="1", price_text="12")
    with pytest.raises(Refused, match="kept in EUR, and JPY has other decimals"):
        edit_shop(desk, **{**TYPED, "currency": "JPY", "rate_text": "3000"})
    assert read_shop(desk).currency == "EUR"


def test_a_units_price_is_money_kept_too(desk: Desk) -> None:
    add_unit(desk, maker="Invented", model="One", price_text="100")
    with pytest.raises(Refused, match="KWD"):
        edit_shop(desk, **{**TYPED, "currency": "KWD"})
