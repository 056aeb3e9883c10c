"""Margin tax after a refund: in proportion to what is left of the margin.

Source: EU Directive 2006/112/EC, Articles 90 and 315 (from memory); UK HMRC VAT Notice 718 for the sixth of
the margin at 20 %. The tax left must be that of a sale at the lower price, to one minor unit of rounding.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.margin_tax import margin_tax_minor, tax_after_refund_minor


@pytest.mark.parametrize(
    ("refund", "left"),
    [
        (0, 6_667),  # 300 -> 700 at 20 %: a sixth of 400
        (10_000, 5_000),  # 300 -> 600: a sixth of 300 is 50.00; 66.67 x 3/4 = 50.0025
        (40_000, 0),  # the margin is gone
        (70_000, 0),  # all given back
    ],
)
def test_the_worked_case(refund: int, left: int) -> None:
    assert tax_after_refund_minor(6_667, 30_000, 70_000, refund) == left


def test_a_loss_has_none() -> None:
    assert tax_after_refund_minor(0, 30_000, 25_000, 1_000) == 0


@given(
    purchase=st.integers(0, 10**6),
    margin=st.integers(1, 10**6),
    rate=st.integers(0, 2_700),
    refund=st.integers(0, 10**6),
)
def test_as_if_sold_for_less(purchase: int, margin: int, rate: int, refund: int) -> None:
    sale = purchase + margin
    tax = margin_tax_minor(purchase, sale, rate)
    anew = margin_tax_minor(purchase, max(0, sale - refund), rate)
    assert abs(tax_after_refund_minor(tax, purchase, sale, refund) - anew) <= 1
