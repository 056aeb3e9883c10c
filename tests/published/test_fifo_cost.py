"""Stock leaving at the cost of the oldest receipt, against printed worked examples.

Sources:
a) 100 at 10, 200 at 12, 250 sold: cost 2,800, closing 600 (a common textbook example, book not recorded);
b) Investopedia, CFA question of the week 110706: 2 at 700, 1 at 600, 2 at 750, 3 at 800, 4 at 825,
   eight sold: cost 5,900, closing 3,300;
c) coursehero.com/file/6386813, "FIFO vs LIFO vs Weighted Average": 300 at 20.00, 100 at 20.20,
   200 at 20.70, 200 at 21.00, 450 sold: cost 9,055, closing 7,305;
d) qammunity.org/11838651: 500 at 10, then 300 sold, 400 at 12, 500 at 15, then 800 sold: that sale
   costs 9,800.
Tolerance: none, whole minor units; prices are written in hundredths.
"""

import pytest

from bench.domain.layers import Layer, draw_oldest, left_after, value_minor


def receipts(*bought: tuple[int, int]) -> tuple[Layer, ...]:
    """Layers from (pieces, price a piece in hundredths), bought one after the other."""
    return tuple(
        Layer(receipt_id=n, quantity=pieces * 1000, cost_minor=pieces * price, received_us=n)
        for n, (pieces, price) in enumerate(bought, start=1)
    )


@pytest.mark.parametrize(
    ("bought", "sold", "cost", "closing"),
    [
        ([(100, 10_00), (200, 12_00)], 250, 2_800_00, 600_00),
        ([(2, 700_00), (1, 600_00), (2, 750_00), (3, 800_00), (4, 825_00)], 8, 5_900_00, 3_300_00),
        ([(300, 20_00), (100, 20_20), (200, 20_70), (200, 21_00)], 450, 9_055_00, 7_305_00),
    ],
)
def test_printed_examples(bought, sold, cost, closing):
    layers = receipts(*bought)
    draws = draw_oldest(layers, sold * 1000)

    assert sum(draw.cost_minor for draw in draws) == cost
    assert value_minor(left_after(layers, draws)) == closing


def test_a_printed_example_with_two_sales():
    first, *later = receipts((500, 10_00), (400, 12_00), (500, 15_00))
    left = left_after([first], draw_oldest([first], 300_000))
    draws = draw_oldest([*left, *later], 800_000)

    assert [(draw.quantity, draw.cost_minor) for draw in draws] == [
        (200_000, 2_000_00),
        (400_000, 4_800_00),
        (200_000, 3_000_00),
    ]
    assert sum(draw.cost_minor for draw in draws) == 9_800_00
