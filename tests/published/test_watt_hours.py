"""Watt-hours from what a battery file tells.

Sources: 49 CFR 171.8 (Ah × V); gas-gauge manual SLUUBT5C: 4400 mAh, 6336 cWh, 14.4 V; airline guides: 20,000
mAh at 3.7 V is 74 Wh; a carrier's guide: 680 mAh at 7.2 V is 4.9 Wh. Tolerance: half of the last digit.
"""

from __future__ import annotations

import pytest

from bench.domain.calculators.battery import watt_hours
from bench.domain.condition.figures import shown
from bench.domain.condition.power_supply import read_power_supply


@pytest.mark.parametrize(
    ("microampere_hours", "microvolts", "wh", "tolerance"),
    [
        (4_400_000, 14_400_000, 63.36, 0.005),
        (20_000_000, 3_700_000, 74, 0.5),
        (680_000, 7_200_000, 4.9, 0.05),
    ],
)
def test_charge_times_nominal_voltage(
    microampere_hours: int, microvolts: int, wh: float, tolerance: float
) -> None:
    text = (
        f"POWER_SUPPLY_CHARGE_FULL={microampere_hours}\nPOWER_SUPPLY_CHARGE_FULL_DESIGN={microampere_hours}\n"
        f"POWER_SUPPLY_VOLTAGE_MIN_DESIGN={microvolts}\n"
    )
    (pack,) = read_power_supply(text)
    assert pack.design_uah is not None
    assert pack.voltage_min_design_uv is not None
    assert watt_hours(pack.design_uah / 1000, pack.voltage_min_design_uv / 10**6) == pytest.approx(
        wh, abs=tolerance
    )


def test_microwatt_hours_are_shown_as_the_rules_rate_them() -> None:
    assert shown("design_uwh", 63_360_000) == "63.36 Wh"
    assert shown("design_uwh", 100_000_000) == "100.00 Wh"
