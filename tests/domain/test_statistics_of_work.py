"""Median and percentiles of work."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.statistics_of_work import Spread, median, percentile, spread
from bench.errors import BadInput

VALUES = st.lists(st.integers(0, 10**12), min_size=1, max_size=40)


@given(VALUES, st.floats(0, 1), st.floats(0, 1))
def test_a_percentile_lies_between_the_extremes_and_grows_with_its_share(values, one, other):
    low, high = percentile(values, min(one, other)), percentile(values, max(one, other))

    assert min(values) <= low <= high + 1e-3
    assert high <= max(values) + 1e-3


@given(VALUES)
def test_order_does_not_matter_and_the_ends_are_the_extremes(values):
    assert percentile(values, 0) == min(values)
    assert percentile(values, 1) == max(values)
    assert median(values) == median(sorted(values, reverse=True))


def test_a_spread_in_whole_microseconds():
    assert spread([10, 11]) == Spread(2, 11, 11)
    assert spread([7]) == Spread(1, 7, 7)
    assert spread([]) is None


def test_no_values_have_no_percentile():
    with pytest.raises(BadInput, match="no values yet"):
        percentile([], 0.5)


@pytest.mark.parametrize("share", [-0.1, 1.1, float("nan")])
def test_a_share_lies_between_0_and_1(share):
    with pytest.raises(BadInput, match="is not a share"):
        percentile([1, 2], share)
