"""Interval of a rate, and the sample that a claim takes, against scipy and printed figures.

Sources: scipy.stats.binomtest(...).proportion_ci(method="exact"), which is Clopper and Pearson's interval by
beta quantiles; scipy.stats.beta.ppf; scipy.stats.binom.cdf. The rule of three: with 0 of n, the upper end at
95 % one-sided is near 3/n (Hanley and Lippman-Hand 1983). Zero failures: n = 59 for 95 %/95 % and 299 for
99 % reliability at 95 % confidence are the figures printed in tables of success-run sampling (from memory).
Tolerance: 1e-9 relative; the quantile of a beta distribution and a root of exact sums agree to rounding.
"""

from __future__ import annotations

import pytest
from scipy import stats

from bench.domain.rates import interval, tail_at_most, trials_to_claim

CASES = [
    *((0, 1), (1, 1), (0, 10), (1, 10), (5, 10), (10, 10), (3, 41), (0, 100), (7, 352)),
    *((1, 2_000), (40, 20_000), (19_999, 20_000)),
]


@pytest.mark.parametrize(("events", "trials"), CASES)
@pytest.mark.parametrize("confidence", [0.5, 0.8, 0.95, 0.99])
def test_the_interval_is_scipys(events: int, trials: int, confidence: float) -> None:
    expected = stats.binomtest(events, trials).proportion_ci(confidence, method="exact")
    assert interval(events, trials, confidence) == pytest.approx(tuple(expected), rel=1e-9, abs=1e-14)


@pytest.mark.parametrize(("events", "trials"), CASES)
def test_the_interval_is_that_of_beta_quantiles(events: int, trials: int) -> None:
    low, high = interval(events, trials)
    if events:
        assert low == pytest.approx(stats.beta.ppf(0.025, events, trials - events + 1), rel=1e-9)
    if events < trials:
        assert high == pytest.approx(stats.beta.ppf(0.975, events + 1, trials - events), rel=1e-9)


@pytest.mark.parametrize(("events", "trials"), CASES)
@pytest.mark.parametrize("share", [0.0, 0.001, 0.02, 0.5, 0.9, 1.0])
def test_the_sum_is_scipys(events: int, trials: int, share: float) -> None:
    expected = stats.binom.cdf(events, trials, share)
    assert tail_at_most(events, trials, share) == pytest.approx(expected, rel=1e-8, abs=1e-14)


@pytest.mark.parametrize(("most", "printed"), [(0.05, 59), (0.01, 299), (0.10, 29), (0.02, 149)])
def test_the_sample_without_a_failure_is_the_printed_one(most: float, printed: int) -> None:
    assert trials_to_claim(most) == printed


@pytest.mark.parametrize("events", [0, 1, 2, 5, 20])
@pytest.mark.parametrize("most", [0.002, 0.03, 0.25, 0.7])
@pytest.mark.parametrize("confidence", [0.8, 0.95])
def test_the_sample_is_the_least_one_by_scipy(events: int, most: float, confidence: float) -> None:
    count = trials_to_claim(most, events=events, confidence=confidence)
    assert stats.binom.cdf(events, count, most) <= 1 - confidence
    assert stats.binom.cdf(events, count - 1, most) > 1 - confidence


@pytest.mark.parametrize("trials", [30, 100, 1000, 10_000])
def test_the_rule_of_three_is_near(trials: int) -> None:
    _, high = interval(0, trials, 0.90)  # two-sided 90 % is one-sided 95 %
    assert high == pytest.approx(3 / trials, rel=0.06)
    assert high < 3 / trials


@pytest.mark.parametrize(
    ("events", "trials", "confidence"), [(-1, 5, 0.95), (6, 5, 0.95), (0, 0, 0.95), (1, 5, 0.0), (1, 5, 1.0)]
)
def test_what_cannot_be_is_refused(events: int, trials: int, confidence: float) -> None:
    with pytest.raises(ValueError, match=r"cannot be|lies between"):
        interval(events, trials, confidence)


@pytest.mark.parametrize("most", [0.0, 1.0, -0.1, 1e-9])
def test_a_share_that_cannot_be_claimed_is_refused(most: float) -> None:
    with pytest.raises(ValueError, match=r"between|too small"):
        trials_to_claim(most)
