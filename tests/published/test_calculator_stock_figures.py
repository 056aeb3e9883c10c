"""Stock sums against a reference library and printed exercises; the reorder point has its own test file."""

from statistics import NormalDist

import pytest
from stockpyl.eoq import economic_order_quantity as library_quantity

from bench.domain.reorder import (
    days_of_cover,
    economic_order_quantity,
    order_and_holding_cost,
    reorder_point,
    safety_stock,
)
from tests.published.cases import Case

SNYDER = "Snyder and Shen, example 3.1 (stockpyl 1.0.2, doctest)"
EXERCISE = "exercise 15.24, justaaa.com 4845"
PRINTED = "half of the last digit printed"
WHOLE = "the exercise has whole answers"


def _quantity(*figures):
    return lambda: economic_order_quantity(*figures)


CASES = (
    Case(
        "demand 1300, order 8, holding 0.225: quantity",
        SNYDER,
        _quantity(1300, 8, 0.225),
        304.0468,
        5e-5,
        "printed",
    ),
    Case(
        "the same: cost a year",
        SNYDER,
        lambda: order_and_holding_cost(economic_order_quantity(1300, 8, 0.225), 1300, 8, 0.225),
        68.4105,
        5e-5,
        "half of the last digit printed",
    ),
    Case("demand 7290, order 500, holding 9", EXERCISE, _quantity(7290, 500, 9), 900.0, 1e-9, WHOLE),
    Case("demand 4563, order 10, holding 15", EXERCISE, _quantity(4563, 10, 15), 78.0, 1e-9, WHOLE),
    Case("demand 150, order 100, holding 12", EXERCISE, _quantity(150, 100, 12), 50.0, 1e-9, WHOLE),
    Case(
        "demand 2500, order 18.75, holding 1.50: quantity",
        "scholarpapers.com, economic order quantity: 250",
        _quantity(2500, 18.75, 1.5),
        250.0,
        1e-9,
        WHOLE,
    ),
    Case(
        "2 a day over 12 days, sd over the delivery 20, 95 %: order at",
        "tutorsglobe.com 5202848: 56.8 with z 1.64",
        lambda: reorder_point(2, 20 / 12**0.5, 12, 0, NormalDist().cdf(1.64)),
        56.8,
        0.05,
        "half of the last digit printed",
    ),
    Case(
        "30 a day, sd 3, delivery 7, sd 4, z 1.28: safety stock",
        "worked answer, qammunity.org/7302931: 153.94",
        lambda: safety_stock(30, 3, 7, 4, NormalDist().cdf(1.28)),
        153.94,
        0.005,
        "half of the last digit printed",
    ),
    Case(
        "180 on hand, 12.5 a day: days",
        "plain arithmetic",
        lambda: days_of_cover(180_000, 12_500, 1),
        14.4,
        1e-9,
        "exact but for the float",
    ),
)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.case)
def test_published(case):
    assert case.holds(), f"{case.got()} instead of {case.expected}"


@pytest.mark.parametrize(("order", "holding", "demand"), [(8, 0.225, 1300), (0.5, 12, 40), (95, 0.01, 7)])
def test_quantity_and_cost_agree_with_the_reference_library(order, holding, demand):
    # Tolerance 1e-9, relative: one formula in two programs.
    quantity, cost = library_quantity(order, holding, demand)

    assert economic_order_quantity(demand, order, holding) == pytest.approx(quantity, rel=1e-9)
    assert order_and_holding_cost(quantity, demand, order, holding) == pytest.approx(cost, rel=1e-9)
