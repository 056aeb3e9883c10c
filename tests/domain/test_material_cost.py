"""What consumables will cost: oldest receipts first, the rest at the newest price."""

from __future__ import annotations

import pytest

from bench.domain.layers import Layer
from bench.domain.most_to_pay import FROM_STOCK, NEWEST, NO_PRICE, PART_STOCK, cost_of_use

# 100 ml left of a receipt at 4.00, then 200 ml at 10.00: 4 and 5 minor units a millilitre.
OLD = Layer(1, 100_000, 400, 10)
NEW = Layer(2, 200_000, 1000, 20)
NEWEST_PRICE = (500_000, 2500)


@pytest.mark.parametrize(
    ("layers", "quantity", "newest", "cost", "basis"),
    [
        ((OLD, NEW), 50_000, NEWEST_PRICE, 200, FROM_STOCK),  # 50 ml at 4
        ((NEW, OLD), 150_000, NEWEST_PRICE, 650, FROM_STOCK),  # 100 ml at 4, 50 ml at 5: 400 + 250
        ((OLD,), 160_000, NEWEST_PRICE, 700, PART_STOCK),  # 100 ml for 400, 60 ml at 5: 300
        ((), 60_000, NEWEST_PRICE, 300, NEWEST),
        ((), 100, NEWEST_PRICE, 1, NEWEST),  # 0.1 ml at 5 is 0.5: halves go up
        ((), 60_000, None, 0, NO_PRICE),
        ((Layer(3, 100_000, 0, 5),), 60_000, None, 0, NO_PRICE),  # received without a price
        ((OLD,), 160_000, None, 400, NO_PRICE),  # only what lies there is known
    ],
)
def test_by_hand(
    layers: tuple[Layer, ...], quantity: int, newest: tuple[int, int] | None, cost: int, basis: str
) -> None:
    assert cost_of_use(layers, quantity, newest) == (cost, basis)
