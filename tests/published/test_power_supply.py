"""Linux power_supply text read into figures with their units.

Sources: kernel Documentation/power/power_supply_class.rst and ABI/testing/sysfs-class-power (µAh, µWh, µV,
tenths of a degree, a cycle count of 0 is not available); uevent texts printed in public bug reports and
articles, with names left out. Tolerance: none, the figures are whole; health to a tenth of a percent.
"""

from __future__ import annotations

import pytest

from bench.domain.condition.figures import shown
from bench.domain.condition.power_supply import read_power_supply
from bench.domain.condition.verdicts import health_of


def uevent(**keys: object) -> str:
    return "".join(f"POWER_SUPPLY_{key}={value}\n" for key, value in keys.items())


# (keys as printed, full in Wh or mAh as shown, health in percent worked by hand)
PRINTED = [
    # an article on reading the battery in a terminal: 60,000,000 and 52,260,000 µWh
    (
        uevent(NAME="BAT0", ENERGY_FULL_DESIGN=60_000_000, ENERGY_FULL=52_260_000, CYCLE_COUNT=0),
        "52.26 Wh",
        87.1,
    ),
    # a public parser's sample: 46,970,000 and 41,250,000 µWh
    (uevent(NAME="BAT0", ENERGY_FULL_DESIGN=46_970_000, ENERGY_FULL=41_250_000), "41.25 Wh", 87.8),
    # the same sample's second machine, in charge: 2,200,000 and 2,167,000 µAh
    (uevent(NAME="BAT0", CHARGE_FULL_DESIGN=2_200_000, CHARGE_FULL=2_167_000), "2167 mAh", 98.5),
    # a forum's: 45,640,000 and 44,611,000 µWh
    (uevent(NAME="BAT0", ENERGY_FULL_DESIGN=45_640_000, ENERGY_FULL=44_611_000), "44.61 Wh", 97.7),
    # a kernel mailing list's: energy before charge, and above design: 42,450,000 of 41,040,000 µWh
    (
        uevent(
            ENERGY_FULL=42_450_000,
            ENERGY_FULL_DESIGN=41_040_000,
            CHARGE_FULL=3_898_000,
            CHARGE_FULL_DESIGN=3_800_000,
        ),
        "42.45 Wh",
        103.4,
    ),
]


@pytest.mark.parametrize(("text", "full", "health"), PRINTED)
def test_units_and_health(text: str, full: str, health: float) -> None:
    (pack,) = read_power_supply(text)
    figures = pack.figures()
    name = "full_uwh" if "full_uwh" in figures else "full_uah"
    assert shown(name, figures[name]) == full
    assert health_of(figures) == pytest.approx(health, abs=0.05)  # printed to a tenth


def test_voltage_is_in_microvolts_and_temperature_in_tenths() -> None:
    # The mailing list's text: VOLTAGE_NOW=11441000, TEMP=198, CYCLE_COUNT=12.
    (pack,) = read_power_supply(
        uevent(ENERGY_FULL=42_450_000, VOLTAGE_NOW=11_441_000, TEMP=198, CYCLE_COUNT=12)
    )
    assert shown("voltage_uv", pack.voltage_uv) == "11.44 V"
    assert shown("temperature_tenths_c", pack.temperature_tenths_c) == "19.8 °C"
    assert pack.cycles == 12


def test_a_cycle_count_of_0_is_not_available() -> None:
    (pack,) = read_power_supply(uevent(ENERGY_FULL=50_000_000, CYCLE_COUNT=0))
    assert pack.cycles is None
    assert "cycles" not in pack.figures()
