"""Percentiles against numpy and printed values.

Sources: numpy.percentile, whose default is Hyndman and Fan's type 7; 1..10 gives 9.1 at 90 % and 8.65 at
85 %; Excel 2013 tutorial (jabsto.com) for method 7: the first quartile of 10, 22, 33, 40 is 19.
Tolerance: 1e-12 relative, the two add the same terms in another order.
"""

import random

import numpy as np
import pytest

from bench.domain.statistics_of_work import median, percentile, spread


@pytest.mark.parametrize("count", [1, 2, 3, 4, 5, 7, 10, 50, 201])
def test_percentiles_agree_with_numpy(count):
    dice = random.Random(count)
    values = [dice.randrange(0, 40_000_000_000) for _ in range(count)]

    for hundredths in range(101):
        expected = float(np.percentile(values, hundredths))
        assert percentile(values, hundredths / 100) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("values", "share", "printed"),
    [(range(1, 11), 0.90, 9.1), (range(1, 11), 0.85, 8.65), ([10, 22, 33, 40], 0.25, 19)],
)
def test_printed_values(values, share, printed):
    assert percentile(list(values), share) == pytest.approx(printed, rel=1e-12)


def test_the_median_agrees_with_numpy():
    values = [17.5, 3.25, 99.0, 41.0]

    assert median(values) == pytest.approx(float(np.median(values)), rel=1e-12)


def test_the_spread_of_times_agrees_with_numpy_to_the_microsecond():
    times = [1_800_000_001, 2_400_000_000, 2_700_000_003, 5_000_000_000, 900_000_000, 3_000_000_000]
    found = spread(times)

    assert found is not None
    assert found.count == 6
    assert abs(found.median_us - float(np.median(times))) <= 0.5
    assert abs(found.p80_us - float(np.percentile(times, 80))) <= 0.5
