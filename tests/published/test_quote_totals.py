"""What a quote or a bill comes to: net, tax by rate, total.

Sources: EN 16931-1, business rules BR-CO-10, BR-CO-13, BR-CO-14, BR-CO-15 and BR-CO-17 as in the EN 16931
validation artefacts (CEN/TC 434, github.com/ConnectingEurope/eInvoicing-EN16931; from memory): the tax of a
rate is the taxable amount times the rate, rounded to two decimals; nothing is rounded line by line. The
worked amounts below follow these rules by hand. Tolerance: none.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.quote_totals import ALLOWANCE, KINDS, LABOUR, OTHER, PART, Priced, quote_total, tax_within

CENT = Decimal(1)


def test_two_rates_with_an_allowance_by_the_rules() -> None:
    """By hand: 1000.00 + 2 x 10.00 at 25 %, less 100.00 at 25 %, 4.00 at 12 %: 230.00 + 0.48 of tax."""
    lines = (
        Priced(PART, 1_000, 100_000, 2_500),
        Priced(OTHER, 2_000, 1_000, 2_500),
        Priced(ALLOWANCE, 1_000, 10_000, 2_500),
        Priced(OTHER, 1_000, 400, 1_200),
    )
    found = quote_total(lines)
    assert found.net_minor == 92_400  # BR-CO-10 less BR-CO-11: BR-CO-13
    assert [(one.tax_per_10000, one.net_minor, one.tax_minor) for one in found.taxes] == [
        (1_200, 400, 48),
        (2_500, 92_000, 23_000),
    ]  # BR-CO-17
    assert found.tax_minor == 23_048  # BR-CO-14
    assert found.total_minor == 115_448  # BR-CO-15


def test_tax_is_rounded_once_for_a_rate_and_not_for_each_line() -> None:
    """Three lines of 0.33 at 19 %: 0.99 x 0.19 = 0.1881, so 0.19; line by line it would be 0.18."""
    found = quote_total([Priced(PART, 1_000, 33, 1_900)] * 3)
    assert (found.net_minor, found.tax_minor, found.total_minor) == (99, 19, 118)


@pytest.mark.parametrize(
    ("net", "rate", "tax"), [(50, 1_900, 10), (150, 700, 11), (250, 2_000, 50), (1, 0, 0)]
)
def test_halves_are_rounded_up(net: int, rate: int, tax: int) -> None:
    """0.50 at 19 % is 0.095; 1.50 at 7 % is 0.105."""
    assert quote_total([Priced(PART, 1_000, net, rate)]).tax_minor == tax


LINES = st.lists(
    st.builds(
        Priced,
        kind=st.sampled_from(KINDS),
        quantity=st.integers(1, 10**6),
        price_minor=st.integers(0, 10**6),
        tax_per_10000=st.sampled_from((0, 700, 1_900, 2_000, 2_500)),
    )
)


@given(LINES)
def test_against_decimal_arithmetic(lines: list[Priced]) -> None:
    nets: dict[int, Decimal] = {}
    for line in lines:
        exact = Decimal(line.quantity) * line.price_minor / 1000
        net = exact.quantize(CENT, ROUND_HALF_UP) * (-1 if line.kind == ALLOWANCE else 1)
        nets[line.tax_per_10000] = nets.get(line.tax_per_10000, Decimal(0)) + net
    taxes = {rate: (net * rate / 10_000).quantize(CENT, ROUND_HALF_UP) for rate, net in nets.items()}
    found = quote_total(lines)
    assert found.net_minor == sum(nets.values())
    assert found.tax_minor == sum(taxes.values())
    assert found.total_minor == found.net_minor + found.tax_minor


@given(st.integers(0, 10**9), st.integers(0, 10_000))
def test_tax_within_an_amount_against_decimal_arithmetic(gross: int, rate: int) -> None:
    """The tax contained in a price, as in Directive 2006/112/EC, Article 315: amount x r / (1 + r)."""
    exact = Decimal(gross) * rate / (10_000 + rate)
    assert tax_within(gross, rate) == int(exact.quantize(CENT, ROUND_HALF_UP))


def test_labour_is_priced_by_the_hour() -> None:
    """1.5 h at 48.00 an hour are 72.00."""
    assert Priced(LABOUR, 1_500, 4_800, 0).net_minor == 7_200
