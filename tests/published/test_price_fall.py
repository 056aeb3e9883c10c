"""How prices fall within models, against scipy and Hirsch, Slack and Smith's sum over groups.

Sources: scipy.stats.theilslopes (Sen, JASA 63 (1968), 1379-1389), of which one model is the whole; two models
far apart in price are no trend of their own (Hirsch, Slack and Smith, Water Resources Research 18 (1982)).
Tolerance: half a hundredth of a per cent, to which shares are rounded.
"""

from __future__ import annotations

import math
import random
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import theilslopes

from bench.domain.own_prices import FEW_REPEATED, OwnSale, weekly_fall

FIRST = date(2026, 1, 5)


def sold(days: int, net_minor: int, model: str = "A") -> OwnSale:
    return OwnSale(1, 1, "10014", model, FIRST + timedelta(days=days), net_minor, None)


def prices(count: int, weekly: float, *, seed: int, start: int = 40_000, model: str = "A") -> list[OwnSale]:
    dice = random.Random(seed)
    days = [dice.randrange(300) for _ in range(count)]
    return [
        sold(day, round(start * (1 - weekly) ** (day / 7) * dice.uniform(0.9, 1.1)), model) for day in days
    ]


@pytest.mark.parametrize("count", [8, 9, 20, 60])
@pytest.mark.parametrize("weekly", [0.0, 0.004, 0.02, -0.01])
def test_one_model_is_as_scipy_has_it(count: int, weekly: float) -> None:
    sales = prices(count, weekly, seed=count)
    fall, behind = weekly_fall(sales)
    weeks = [one.sold_on.toordinal() / 7 for one in sales]
    found = theilslopes([math.log(one.net_minor) for one in sales], weeks, 0.95)
    assert fall is not None
    assert behind == fall.sales == count
    shares = [(1 - math.exp(slope)) * 10_000 for slope in (found.slope, found.high_slope, found.low_slope)]
    told = [fall.weekly_per_10000, fall.low_per_10000, fall.high_per_10000]
    assert told == pytest.approx(shares, abs=0.51)


def test_dearer_models_sold_later_are_no_rise() -> None:
    early = prices(12, 0.01, seed=1)
    late = [sold((one.sold_on - FIRST).days + 400, one.net_minor * 4, "B") for one in early]
    fall, _ = weekly_fall([*early, *late])
    alone, _ = weekly_fall(early)
    assert fall is not None
    assert alone is not None
    assert fall.weekly_per_10000 == alone.weekly_per_10000 > 0
    assert fall.told


def test_models_sold_once_tell_nothing() -> None:
    once = [sold(day, 30_000 - day, f"model {day}") for day in range(30)]
    assert weekly_fall(once) == (None, 0)
    assert weekly_fall([*once, *prices(FEW_REPEATED - 1, 0.01, seed=5)])[0] is None


def test_sales_of_one_day_tell_nothing() -> None:
    assert weekly_fall([sold(3, 100 + at) for at in range(10)]) == (None, 10)


@given(st.lists(st.tuples(st.integers(0, 400), st.integers(0, 10**7), st.sampled_from("ABC")), max_size=40))
def test_whatever_is_sold_the_interval_holds_the_fall(points: list[tuple[int, int, str]]) -> None:
    fall, behind = weekly_fall(sold(*point) for point in points)
    assert 0 <= behind <= len(points)
    if fall is not None:
        assert fall.low_per_10000 <= fall.weekly_per_10000 <= fall.high_per_10000
