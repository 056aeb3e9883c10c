"""How a repair stands on a day, what is typed for its quote, and what is said of the price of a kWh."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.machine_power import read_kwh_price, show_kwh_price
from bench.domain.quote_totals import LABOUR, PART, read_amount
from bench.domain.repair_jobs import JobDays, Spent, check_consent, spent_words, warranty_until
from bench.errors import BadInput

DAY = date(2026, 11, 25)


@pytest.mark.parametrize(
    ("days", "state"),
    [
        (JobDays(None, None, None, None, None, None), "not quoted yet"),
        (JobDays(DAY, DAY, None, None, None, None), "quoted, open until 2026-11-25"),
        (JobDays(DAY, date(2026, 11, 24), None, None, None, None), "quote lapsed 2026-11-24"),
        (JobDays(DAY, None, None, None, None, None), "quoted 2026-11-25"),
        (JobDays(DAY, DAY, "declined", DAY, None, None), "quote declined 2026-11-25"),
        (JobDays(DAY, DAY, "accepted", DAY, DAY, None), "ready since 2026-11-25"),
        (JobDays(None, None, None, None, date(2026, 10, 25), None), "not collected since 2026-10-25"),
        (JobDays(None, None, None, None, date(2026, 10, 25), DAY), "handed back 2026-11-25"),
    ],
)
def test_how_it_stands(days: JobDays, state: str) -> None:
    assert days.state(DAY, uncollected=days.uncollected(DAY, 30)) == state


@pytest.mark.parametrize(
    ("text", "kind", "thousandths"),
    [
        ("", PART, 1_000),
        ("2", PART, 2_000),
        ("1,5", LABOUR, 1_500),
        ("1.5 h", LABOUR, 1_500),
        ("90 min", LABOUR, 1_500),
        ("1 h 20", LABOUR, 1_333),
        ("1:30", LABOUR, 1_500),
    ],
)
def test_pieces_and_hours(text: str, kind: str, thousandths: int) -> None:
    assert read_amount(text, kind) == thousandths


@pytest.mark.parametrize(
    ("text", "kind"), [("0", PART), ("0 min", LABOUR), ("many", PART), ("-1", PART), ("90 min", PART)]
)
def test_what_is_no_quantity(text: str, kind: str) -> None:
    with pytest.raises(BadInput):
        read_amount(text, kind)


def test_consent_is_one_of_a_few_words_or_not_asked_yet() -> None:
    assert (check_consent(" Must  be kept "), check_consent("")) == ("must be kept", "")
    with pytest.raises(BadInput, match="says nothing about the data"):
        check_consent("whatever")


def test_what_goes_beyond_the_quote_is_said() -> None:
    hour = 3_600_000_000
    over = spent_words(Spent(2 * hour, hour, 500, 400), "EUR")
    assert over.endswith("beyond the quote by 1 h 00, 1.00 EUR")
    assert "beyond" not in spent_words(Spent(hour, hour, 400, 400), "EUR")
    assert spent_words(Spent(hour, None, 0, None), "EUR").endswith("nothing quoted")


def test_no_warranty_before_it_is_collected() -> None:
    assert warranty_until(None, 90) is None
    assert warranty_until(DAY, None) is None
    assert warranty_until(DAY, 1) == date(2026, 11, 26)


@given(st.integers(0, 10**9 - 1))
def test_the_price_of_a_kwh_is_read_as_it_is_shown(mwh_price: int) -> None:
    assert read_kwh_price(show_kwh_price(mwh_price, "EUR"), "EUR") == mwh_price


@pytest.mark.parametrize("text", ["", "cheap", "0.123456", "-1"])
def test_what_is_no_price_of_a_kwh(text: str) -> None:
    with pytest.raises(BadInput):
        read_kwh_price(text, "EUR")
