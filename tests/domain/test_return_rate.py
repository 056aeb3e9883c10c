"""How many units come back, and what that puts by: few sales say nothing, none back is not nothing."""

from __future__ import annotations

import pytest

from bench.domain.return_rate import FEW_SALES, Rate, SaleBack, rate_of, return_rate, sales_to_claim


def back(price: int, lost: int) -> SaleBack:
    return SaleBack(1, 1, "10014", "Model", price, lost)


def test_the_ends_are_rounded_outwards() -> None:
    # scipy.stats.binomtest(3, 41).proportion_ci(method="exact"): 0.01536..0.19923 (see tests/published)
    assert rate_of(3, 41) == Rate(3, 41, 732, 153, 1993)
    assert rate_of(0, 0) is None


def test_few_sales_make_no_reserve() -> None:
    found = return_rate(FEW_SALES - 1, [back(10_000, 2_000)])
    assert found.reserve_per_10000 is None
    assert found.rate is not None
    assert return_rate(0, []).rate is None


def test_the_reserve_is_the_upper_end_times_what_a_return_takes() -> None:
    found = return_rate(41, [back(10_000, 2_000), back(20_000, 4_000), back(10_000, 2_000)])
    assert found.lost_per_10000 == 2000
    assert found.reserve_per_10000 == 399  # 19.93 % of the sales, a fifth of the price each


def test_none_back_yet_is_the_whole_price_at_the_upper_end() -> None:
    found = return_rate(100, [])
    assert (found.lost_per_10000, found.reserve_per_10000) == (10_000, 363)  # 1 - 0.025 ** 0.01 = 3.62 %


def test_a_return_takes_at_most_its_price() -> None:
    assert return_rate(40, [back(100, 1_000)]).lost_per_10000 == 10_000
    assert return_rate(40, [back(0, 0)]).lost_per_10000 == 10_000


@pytest.mark.parametrize(("returns", "sales"), [(0, 149), (1, 236), (2, 313)])
def test_what_a_claim_takes(returns: int, sales: int) -> None:
    # Zero, one and two of n at 2 % and 95 %: least n by scipy.stats.binom.cdf (see tests/published).
    assert sales_to_claim(200, returns) == sales
