"""The cheapest quantity to order, against a textbook and its library.

Sources: stockpyl, eoq.economic_order_quantity; Snyder and Shen, Fundamentals of Supply Chain Theory, example
3.1: order cost 8, holding 0.225, demand 1300 -> 304.0468 at a cost of 68.4105.
Tolerance: half a unit of the last digit printed; 1e-9 relative against the library, one formula in floats.
"""

import pytest
from stockpyl.eoq import economic_order_quantity as reference

from bench.domain.reorder import economic_order_quantity, order_and_holding_cost


def test_the_printed_example():
    quantity = economic_order_quantity(1300, 8, 0.225)

    assert quantity == pytest.approx(304.0468, abs=5e-5)
    assert order_and_holding_cost(quantity, 1300, 8, 0.225) == pytest.approx(68.4105, abs=5e-5)


@pytest.mark.parametrize("order_cost", [0.5, 4.9, 30])
@pytest.mark.parametrize("holding_cost", [0.01, 0.4, 7])
@pytest.mark.parametrize("demand", [3, 120, 9000])
def test_the_library_agrees(demand, order_cost, holding_cost):
    expected_quantity, expected_cost = reference(order_cost, holding_cost, demand)
    quantity = economic_order_quantity(demand, order_cost, holding_cost)

    assert quantity == pytest.approx(expected_quantity, rel=1e-9)
    assert order_and_holding_cost(quantity, demand, order_cost, holding_cost) == pytest.approx(
        expected_cost, rel=1e-9
    )
