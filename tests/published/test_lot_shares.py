"""Sharing a lot's price by relative sales value, against worked examples.

Source: the two cases of joint-cost allocation by relative sales value as printed in cost accounting texts
(10,000 over sales values 15,000 and 5,000; 200 over 200, 250 and 350), checked by arithmetic.
Tolerance: none, money is exact.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.lots import share_lot
from bench.errors import BadInput


@pytest.mark.parametrize(
    ("price", "expected", "shares"),
    [
        (1_000_000, (15_000, 5_000), (750_000, 250_000)),
        (20_000, (200, 250, 350), (5_000, 6_250, 8_750)),
        (10_000, (1, 1, 1), (3_334, 3_333, 3_333)),  # largest remainder, ties to the earlier
        (10_000, (0, 0), (5_000, 5_000)),
        (0, (5, 7), (0, 0)),
    ],
)
def test_worked_examples(price: int, expected: tuple[int, ...], shares: tuple[int, ...]) -> None:
    assert share_lot(price, expected) == shares


@given(price=st.integers(0, 10**9), expected=st.lists(st.integers(0, 10**7), min_size=1, max_size=30))
def test_shares_add_up_to_the_last_minor_unit_and_none_is_off_by_one(price: int, expected: list[int]) -> None:
    shares = share_lot(price, expected)
    assert sum(shares) == price
    whole = sum(expected)
    if whole:
        assert all(
            abs(part * whole - price * value) < whole for part, value in zip(shares, expected, strict=True)
        )


@pytest.mark.parametrize(("price", "expected"), [(100, ()), (-1, (1,)), (100, (-1, 2))])
def test_what_cannot_be_shared(price: int, expected: tuple[int, ...]) -> None:
    with pytest.raises(BadInput):
        share_lot(price, expected)
