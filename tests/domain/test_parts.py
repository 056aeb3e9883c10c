"""The cost to suggest for a part, against the relative sales value of the published cases."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.parts import suggest_cost


@pytest.mark.parametrize(
    ("left", "expected", "worth", "cost"),
    [
        # Joint cost 10,000 over sales values 15,000 and 5,000 gives 7,500 and 2,500 (cost accounting texts).
        (1_000_000, 20_000, 15_000, 750_000),
        (1_000_000, 20_000, 5_000, 250_000),
        (333, 2, 1, 167),  # 166.5: halves go up
        (500, 400, 900, 500),  # worth more than the whole: all that is left
        (500, None, 200, 200),
        (500, 0, 900, 500),
        (0, 400, 100, 0),
        (500, 400, 0, 0),
    ],
)
def test_by_hand(left: int, expected: int | None, worth: int, cost: int) -> None:
    assert suggest_cost(left, expected, worth) == cost


@given(st.integers(0, 10**9), st.none() | st.integers(0, 10**7), st.integers(0, 10**7))
def test_never_more_than_is_left(left: int, expected: int | None, worth: int) -> None:
    assert 0 <= suggest_cost(left, expected, worth) <= left
