"""Paste against printed resistances, a library's own random numbers, and plain arithmetic."""

from math import sqrt

import numpy as np
import pytest

from bench.domain.calculators.paste import (
    LoadTest,
    compare,
    jobs_in_tube,
    layer_resistance_k_w,
    layer_volume_ul,
    rise_per_watt,
)
from tests.published.cases import Case

NOTES = "a thermal design note: bare die 10 × 10 mm"
BEFORE, AFTER = LoadTest(92, 24, 45), LoadTest(71, 22, 45)

CASES = (
    Case(
        "10 × 10 mm, k 5 W/mK, 25 µm",
        NOTES,
        lambda: layer_resistance_k_w(100, 25, 5),
        0.05,
        0.0005,
        "printed to two digits, the formula gives it exactly",
    ),
    Case(
        "10 × 10 mm, k 5 W/mK, 100 µm",
        NOTES,
        lambda: layer_resistance_k_w(100, 100, 5),
        0.20,
        0.0005,
        "printed to two digits, the formula gives it exactly",
    ),
    Case(
        "10 × 10 mm, k 57 W/mK, 15 µm",
        NOTES,
        lambda: layer_resistance_k_w(100, 15, 57),
        0.003,
        0.0005,
        "half of the last digit printed",
    ),
    Case(
        "150 mm², k 8.5 W/mK, 50 µm",
        "plain arithmetic of t/(kA)",
        lambda: layer_resistance_k_w(150, 50, 8.5),
        0.0392,
        0.00005,
        "half of the last digit given",
    ),
    Case(
        "150 mm² × 0.05 mm",
        "plain arithmetic",
        lambda: layer_volume_ul(150, 50),
        7.5,
        1e-9,
        "exact but for the float",
    ),
    Case(
        "4 g at 2.5 g/cm³, 15 µl a job",
        "plain arithmetic: 1600 µl, 106 whole jobs",
        lambda: jobs_in_tube(4, 2.5, 15),
        106,
        0,
        "whole jobs: exact",
    ),
    Case(
        "92 °C in 24 °C at 45 W",
        "plain arithmetic of (T − room)/P",
        lambda: rise_per_watt(92, 24, 45),
        1.511,
        0.0005,
        "half of the last digit given",
    ),
    Case(
        "71 °C in 22 °C at 45 W after it: change in percent",
        "plain arithmetic",
        lambda: compare(BEFORE, AFTER, 1, 5).change_percent,
        -27.9,
        0.05,
        "half of the last digit given",
    ),
    Case(
        "four readings, each within ±1 K, at 45 W: expanded uncertainty",
        "JCGM 100:2008 4.3.7, 5.1.2, 6.2 by hand: 2 × √(4/3)/45",
        lambda: compare(BEFORE, AFTER, 1, 0).uncertainty,
        2 * sqrt(4 / 3) / 45,
        1e-12,
        "one formula twice: the float",
    ),
    Case(
        "one power within ±10 % at 1.5 K/W, the temperatures exact: expanded uncertainty",
        "JCGM 100:2008 5.1.2 by hand: u(1/P)/(1/P) = 0.1/√3, of two tests 2 × √2 × 1.5 × 0.1/√3",
        lambda: compare(LoadTest(82, 22, 40), LoadTest(82, 22, 40), 0, 10).uncertainty,
        2 * sqrt(2) * 1.5 * 0.1 / sqrt(3),
        1e-12,
        "one formula twice: the float",
    ),
)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.case)
def test_published(case):
    assert case.holds(), f"{case.got()} instead of {case.expected}"


def test_the_uncertainty_is_that_of_random_readings():
    # 200,000 pairs of load tests by numpy, every reading off by up to 1 K and power by up to 5 %, evenly.
    # Tolerance 1 %: the standard deviation of so many numbers has a standard error of about 0.2 %.
    random = np.random.default_rng(4)
    off = random.uniform(-1, 1, size=(4, 200_000))
    power = 45 * (1 + random.uniform(-0.05, 0.05, size=(2, 200_000)))
    before = ((92 + off[0]) - (24 + off[1])) / power[0]
    after = ((71 + off[2]) - (22 + off[3])) / power[1]

    assert compare(BEFORE, AFTER, 1, 5).uncertainty == pytest.approx(2 * np.std(after - before), rel=0.01)


def test_one_degree_is_noise_and_twenty_are_not():
    assert not compare(LoadTest(80, 22, 15), LoadTest(79, 22, 15), 1, 5).real
    assert compare(BEFORE, AFTER, 1, 5).real


def test_a_meter_off_by_a_tenth_hides_a_tenth():
    # 8 % less at equal temperatures is real only if the power is known better than the meter tells.
    less = LoadTest(92, 24, 49)
    assert compare(BEFORE, less, 0.1, 0).real
    assert not compare(BEFORE, less, 0.1, 10).real
