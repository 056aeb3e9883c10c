"""Money read, shown and shared out."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.money import MOST_MINOR, minor_digits, read_money, share, show_money
from bench.errors import BadInput

CURRENCIES = st.sampled_from(["EUR", "USD", "JPY", "KWD", "CLF"])
WEIGHTS = st.lists(st.integers(min_value=0, max_value=10**9), min_size=1, max_size=30).filter(any)


@given(st.integers(min_value=0, max_value=MOST_MINOR), CURRENCIES)
def test_what_is_shown_can_be_read_again(minor, currency):
    shown = show_money(minor, currency)

    assert read_money(shown, currency) == minor
    assert read_money(shown.removesuffix(currency), currency) == minor


@given(
    st.integers(min_value=0, max_value=MOST_MINOR),
    st.sampled_from([" ,", " .", ",.", ".,", "'.", "’,", "\u00a0,"]),
)
def test_thousands_may_be_parted_where_decimals_follow(minor, signs):
    typed = f"{minor // 100:,}".replace(",", signs[0]) + f"{signs[1]}{minor % 100:02}"

    assert read_money(typed, "EUR") == minor


@pytest.mark.parametrize(
    ("typed", "currency", "minor"),
    [
        ("12", "EUR", 1200),
        ("12.50", "EUR", 1250),
        ("12,50", "EUR", 1250),
        ("12.5", "EUR", 1250),
        ("0", "EUR", 0),
        ("0.05", "EUR", 5),
        ("1 200.00", "EUR", 120_000),
        ("1 200", "EUR", 120_000),
        ("1'200", "CHF", 120_000),
        ("1,234,567", "EUR", 123_456_700),
        ("1.234.567", "EUR", 123_456_700),
        ("12.50 EUR", "EUR", 1250),
        ("12.50EUR", "EUR", 1250),
        ("eur 12.50", "EUR", 1250),
        ("  12.50  ", "EUR", 1250),
        ("1200", "JPY", 1200),
        ("1 200 JPY", "JPY", 1200),
        ("1.250", "KWD", 1250),
        ("0,250", "KWD", 250),
        ("1200,500", "KWD", 1_200_500),
        ("0.1250", "CLF", 1250),
    ],
)
def test_money_is_read(typed, currency, minor):
    assert read_money(typed, currency) == minor


@pytest.mark.parametrize(
    ("typed", "currency", "why"),
    [
        ("", "EUR", "is not an amount of money"),
        ("EUR", "EUR", "is not an amount of money"),
        ("12.50 USD", "EUR", "is not an amount of money"),
        ("EUR 12.50 EUR", "EUR", "is not an amount of money"),
        ("12.", "EUR", "is not an amount of money"),
        (".50", "EUR", "is not an amount of money"),
        ("NaN", "EUR", "is not an amount of money"),
        ("1e3", "EUR", "is not an amount of money"),
        ("١٢", "EUR", "is not an amount of money"),
        ("12 50", "EUR", "is not an amount of money"),
        ("1,200,50", "EUR", "is not an amount of money"),
        ("1.2.3", "EUR", "is not an amount of money"),
        ("9" * 5000, "EUR", "is not an amount of money"),
        ("-5", "EUR", "is negative"),
        ("−5 EUR", "EUR", "is negative"),
        ("12.505", "EUR", "may mean 12505 or 12.505"),
        ("1,200", "EUR", "may mean 1200 or 1.200"),
        ("1.200", "EUR", "may mean 1200 or 1.200"),
        ("1,200", "JPY", "may mean 1200 or 1.200"),
        ("1,200", "KWD", "may mean 1200 or 1.200"),
        ("0.005", "EUR", "at most 2 decimals"),
        ("1200.505", "EUR", "at most 2 decimals"),
        ("12.5", "JPY", "has no decimals"),
        ("10000000000000.01", "EUR", "more than this program counts"),
        ("5", "eur", "is not a currency"),
    ],
)
def test_what_cannot_be_used_gets_a_sentence(typed, currency, why):
    with pytest.raises(BadInput, match=why) as refused:
        read_money(typed, currency)
    assert refused.value.remedy
    assert len(str(refused.value)) < 200


@pytest.mark.parametrize("code", ["", "EU", "EURO", "eur", "E1R", "ÄÖÜ", "EUR\n", "XXX"])
def test_what_is_not_a_currency(code):
    with pytest.raises(BadInput, match="three capital letters"):
        minor_digits(code)


@pytest.mark.parametrize(
    ("minor", "currency", "shown"),
    [
        (1250, "EUR", "12.50 EUR"),
        (5, "EUR", "0.05 EUR"),
        (-5, "EUR", "-0.05 EUR"),
        (-1250, "EUR", "-12.50 EUR"),
        (0, "EUR", "0.00 EUR"),
        (-7, "JPY", "-7 JPY"),
        (1, "KWD", "0.001 KWD"),
    ],
)
def test_money_is_shown(minor, currency, shown):
    assert show_money(minor, currency) == shown


@given(st.integers(min_value=-(10**12), max_value=10**12), WEIGHTS)
def test_shares_add_up_and_none_is_a_whole_minor_unit_off(total, weights):
    parts = share(total, weights)

    assert sum(parts) == total
    assert all(
        abs(part * sum(weights) - total * weight) < sum(weights)
        for part, weight in zip(parts, weights, strict=True)
    )
    assert all(part == 0 for part, weight in zip(parts, weights, strict=True) if weight == 0)


def test_equal_remainders_go_to_the_earlier():
    assert share(5, [1, 1, 1]) == (2, 2, 1)
    assert share(-5, [1, 1, 1]) == (-2, -2, -1)
    assert share(7, [0, 1]) == (0, 7)


@pytest.mark.parametrize("weights", [[], [0, 0], [3, -1], [-1]])
def test_there_must_be_something_to_share_by(weights):
    with pytest.raises(BadInput, match="nothing to share by"):
        share(100, weights)
