"""Batteries against printed watt-hours and run times, and the lines as the rules print them."""

import pytest

from bench.domain.calculators.battery import (
    Fade,
    below_small_battery_lines,
    health_percent,
    own_fade,
    passenger_rule,
    runtime_h,
    watt_hours,
)
from tests.published.cases import Case

GAUGE = "gas-gauge manual SLUUBT5C: 4400 mAh, 6336 cWh, 14.4 V"
RULE = "49 CFR 173.185(c)(1)(i): not more than 20 Wh a cell, 100 Wh a battery"
FAA = "FAA: 100 Wh; 101 to 160 Wh with the airline's approval"
PRINTED = "half of the last digit printed"


def _wh(mah, volts):
    return lambda: watt_hours(mah, volts)


CASES = (
    Case("4400 mAh at 14.4 V, Wh", GAUGE, _wh(4400, 14.4), 63.36, 0.005, PRINTED),
    Case("20,000 mAh at 3.7 V, Wh", "airline guides: 74 Wh", _wh(20_000, 3.7), 74.0, 0.05, PRINTED),
    Case("680 mAh at 7.2 V, Wh", "a carrier's guide: 4.9 Wh", _wh(680, 7.2), 4.9, 0.05, PRINTED),
    Case("4400 mAh at 11.1 V, Wh", "batteryguy.com: 48.8 Wh", _wh(4400, 11.1), 48.8, 0.05, PRINTED),
    Case("2500 mAh at 10.8 V, Wh", "axcellencemarketing.com: 27 Wh", _wh(2500, 10.8), 27.0, 0.05, PRINTED),
    Case(
        "6600 mAh at 11.1 V at 21.2 W, hours",
        "socialphy.com: 73.26 Wh, 3.46 h",
        lambda: runtime_h(watt_hours(6600, 11.1), 21.2),
        3.46,
        0.005,
        PRINTED,
    ),
    Case(
        "4060 mAh at 14.8 V at 20 W, hours",
        "laptopbatteryexpress.com: 60.09 Wh, 3.004 h",
        lambda: runtime_h(watt_hours(4060, 14.8), 20),
        3.004,
        0.001,
        "the page rounds the watt-hours first",
    ),
    Case(
        "health of 3520 of 4400 mAh, percent",
        "gas-gauge manuals: FullChargeCapacity over DesignCapacity, by hand",
        lambda: health_percent(3520, 4400),
        80.0,
        1e-9,
        "exact but for the float",
    ),
    Case(
        "cell of 20 Wh, battery of 100",
        RULE,
        lambda: below_small_battery_lines(100, 20),
        True,
        0,
        "a line",
    ),
    Case("battery of 100.1 Wh", RULE, lambda: below_small_battery_lines(100.1, 16.7), False, 0, "a line"),
    Case("cell of 20.1 Wh", RULE, lambda: below_small_battery_lines(60.3, 20.1), False, 0, "a line"),
    Case("100 Wh as baggage", FAA, lambda: passenger_rule(100), "up to 100 Wh", 0, "a line"),
    Case(
        "160 Wh as baggage",
        FAA,
        lambda: passenger_rule(160),
        "100 to 160 Wh: with the airline's approval",
        0,
        "a line",
    ),
    Case("161 Wh as baggage", FAA, lambda: passenger_rule(161), "over 160 Wh: not as baggage", 0, "a line"),
    Case(
        "500 cycles to 80 %, new: cycles left",
        "often stated life, 300 to 500 cycles to about 80 % (secondary)",
        lambda: Fade(500, 80).cycles_left(100),
        500.0,
        1e-9,
        "the line's own end",
    ),
)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.case)
def test_published(case):
    assert case.holds(), f"{case.got()} instead of {case.expected}"


def test_no_cycle_count_is_no_pace():
    # Kernel documentation of power_supply: a cycle_count of 0 is "not available" with many drivers.
    assert own_fade(85, 0, 80) is None
    fade = own_fade(90, 200, 80)
    assert fade is not None
    assert fade.cycles_left(90) == pytest.approx(200)
