"""Sharing a total by largest remainder, against a printed apportionment.

Source: electowiki.org, "Hamilton method": 60 seats over the fifteen states of 1790 by population; cost shared
by relative value: 10,000 over 15,000 and 5,000, 200 over 200, 250 and 350 (accounting textbook examples, book
not recorded); 100 over three (plain arithmetic). Tolerance: none, whole numbers.
"""

import pytest

from bench.domain.money import share

STATES_OF_1790 = {
    "Virginia": (630_560, 11),
    "Massachusetts": (475_327, 8),
    "Pennsylvania": (432_879, 7),
    "North Carolina": (353_523, 6),
    "New York": (331_589, 6),
    "Maryland": (278_514, 5),
    "Connecticut": (236_841, 4),
    "South Carolina": (206_236, 3),
    "New Jersey": (179_570, 3),
    "New Hampshire": (141_822, 2),
    "Vermont": (85_533, 1),
    "Georgia": (70_835, 1),
    "Kentucky": (68_705, 1),
    "Rhode Island": (68_446, 1),
    "Delaware": (55_540, 1),
}


def test_the_seats_of_1790():
    populations = [population for population, _ in STATES_OF_1790.values()]

    assert share(60, populations) == tuple(seats for _, seats in STATES_OF_1790.values())


@pytest.mark.parametrize(
    ("total", "weights", "parts"),
    [
        (10_000_00, (15_000, 5_000), (7_500_00, 2_500_00)),
        (200_00, (200, 250, 350), (50_00, 62_50, 87_50)),
        (100_00, (1, 1, 1), (33_34, 33_33, 33_33)),
    ],
)
def test_cost_shared_by_relative_value(total, weights, parts):
    assert share(total, weights) == parts
