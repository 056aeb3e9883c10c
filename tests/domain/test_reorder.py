"""When to order and how much."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.reorder import (
    days_of_cover,
    economic_order_quantity,
    order_and_holding_cost,
    reorder_from_use,
    reorder_point,
    safety_stock,
    suggest_packs,
    z_value,
)
from bench.errors import BadInput


@pytest.mark.parametrize("service", [0, 1, -0.5, 1.5, math.nan, math.inf])
def test_a_service_level_is_a_share(service):
    with pytest.raises(BadInput, match="is not a share"):
        z_value(service)


def test_below_a_half_safety_stock_would_lower_the_level():
    assert safety_stock(10, 2, 3, 1, 0.5) == pytest.approx(0)
    with pytest.raises(BadInput, match="would lower the stock"):
        safety_stock(10, 2, 3, 1, 0.4)


@pytest.mark.parametrize(
    "figures",
    [(-1, 0, 0, 0), (0, -1, 0, 0), (0, 0, -1, 0), (0, 0, 0, -1), (math.nan, 0, 0, 0), (math.inf, 0, 0, 0)],
)
def test_figures_that_mean_nothing(figures):
    with pytest.raises(BadInput, match="cannot be negative"):
        reorder_point(*figures, 0.95)


def test_steady_use_needs_no_safety_stock():
    assert reorder_from_use([3_000] * 30, 4) == 12_000
    assert reorder_from_use([3_000], 4) == 12_000


def test_no_use_known_or_none_made():
    assert reorder_from_use([], 4) == 0
    assert reorder_from_use([0, 0, 0], 4) == 0


def test_the_level_is_rounded_up():
    assert reorder_from_use([1, 2], 1, service=0.5) == 2
    # Mean 1000, sample deviation 1414.21, z 1.64485: 3326.2.
    assert reorder_from_use([0, 2_000], 1) == 3_327


def test_a_higher_service_level_asks_for_more():
    daily = [0, 5_000, 0, 12_000, 1_000]

    assert (
        reorder_from_use(daily, 7, 0.5) < reorder_from_use(daily, 7, 0.9) < reorder_from_use(daily, 7, 0.99)
    )


def test_days_of_cover():
    assert days_of_cover(10_000, 5_000, 10) == pytest.approx(20.0)
    assert days_of_cover(0, 5_000, 10) == 0
    assert days_of_cover(10_000, 1, 10) == pytest.approx(100_000)
    assert days_of_cover(10_000, 0, 10) is None


@pytest.mark.parametrize("over_days", [0, -1])
def test_use_needs_days(over_days):
    with pytest.raises(BadInput, match="Look back"):
        days_of_cover(10_000, 5_000, over_days)
    with pytest.raises(BadInput, match="Look back"):
        suggest_packs(0, 1_000, 1_000, 0, over_days, 5)


def test_packs_for_the_level_and_two_delivery_times():
    # 1 a day, delivery 5 days, level 8, 3 on hand: 8 + 10 - 3 = 15, in packs of 4.
    assert suggest_packs(3_000, 8_000, 4_000, 30_000, 30, 5) == 4
    assert suggest_packs(3_000, 8_000, 5_000, 30_000, 30, 5) == 3
    assert suggest_packs(100_000, 8_000, 5_000, 30_000, 30, 5) == 1


def test_an_empty_pack_cannot_be_ordered():
    with pytest.raises(BadInput, match="A pack holds nothing"):
        suggest_packs(0, 1_000, 0, 0, 30, 5)


@given(
    st.integers(0, 10**9),
    st.integers(0, 10**9),
    st.integers(1, 10**6),
    st.integers(0, 10**9),
    st.integers(1, 400),
    st.integers(0, 60),
)
def test_packs_reach_the_aim_and_one_fewer_would_not(on_hand, level, pack, used, over_days, lead_days):
    packs = suggest_packs(on_hand, level, pack, used, over_days, lead_days)
    aim_times_days = level * over_days + 2 * lead_days * used

    assert (on_hand + packs * pack) * over_days >= aim_times_days
    assert packs == 1 or (on_hand + (packs - 1) * pack) * over_days < aim_times_days


@pytest.mark.parametrize(
    "figures", [(0, 1, 1), (1, 0, 1), (1, 1, 0), (-1, 1, 1), (math.nan, 1, 1), (math.inf, 1, 1)]
)
def test_a_cheapest_quantity_needs_demand_and_both_costs(figures):
    with pytest.raises(BadInput, match="above 0"):
        economic_order_quantity(*figures)


@pytest.mark.parametrize("quantity", [0, -1, math.nan, math.inf])
def test_nothing_ordered_has_no_cost_a_year(quantity):
    with pytest.raises(BadInput, match="above 0"):
        order_and_holding_cost(quantity, 10, 1, 1)


def test_any_other_quantity_costs_more():
    cheapest = economic_order_quantity(1_000, 5, 0.5)

    for other in (cheapest * 0.9, cheapest * 1.1):
        assert order_and_holding_cost(other, 1_000, 5, 0.5) > order_and_holding_cost(cheapest, 1_000, 5, 0.5)
