"""Second-hand margin tax, in minor units.

Sources: EU Directive 2006/112/EC Article 315 (margin = sale - purchase; tax is contained in it); UK HMRC
VAT Notice 718 (one sixth of the margin at 20 %, a loss gives none and is not set off). Tolerance: none.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.margin_tax import margin_tax_minor
from bench.errors import BadInput


@pytest.mark.parametrize(
    ("purchase", "sale", "rate", "tax"),
    [
        (30_000, 70_000, 2_000, 6_667),
        (30_000, 25_000, 2_000, 0),
        (30_000, 70_000, 1_900, 6_387),  # 400.00 of margin at 19 %
        (0, 12_000, 2_000, 2_000),
        (30_000, 70_000, 0, 0),
    ],
)
def test_worked_examples(purchase: int, sale: int, rate: int, tax: int) -> None:
    assert margin_tax_minor(purchase, sale, rate) == tax


@given(margin=st.integers(0, 10**9), rate=st.integers(0, 10_000))
def test_against_decimal_arithmetic(margin: int, rate: int) -> None:
    share = Decimal(rate) / 10_000
    exact = Decimal(margin) * Decimal(rate) / Decimal(10_000 + rate)
    assert margin_tax_minor(500, 500 + margin, rate) == int(exact.quantize(Decimal(1), ROUND_HALF_UP))
    assert 0 <= share <= 1


@pytest.mark.parametrize("rate", [-1, 10_001])
def test_rates_that_cannot_be(rate: int) -> None:
    with pytest.raises(BadInput):
        margin_tax_minor(1, 2, rate)
