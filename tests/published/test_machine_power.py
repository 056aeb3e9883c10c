"""Energy of machine time.

Sources: SI Brochure, 9th edition (BIPM 2019), tables 4 and 8 (W = J/s, 1 h = 3600 s; from memory), with pint
as the reference library for the units; so that 1 kWh = W x h / 1000 = 3.6 MJ. Tolerance: half a watt hour, to
which the answer is rounded.
"""

from __future__ import annotations

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.machine_power import MachineTime, machine_power

HOUR_US = 3_600_000_000
UNITS = pint.UnitRegistry()


def test_a_kilowatt_hour_is_a_thousand_watts_for_an_hour() -> None:
    power = machine_power([MachineTime("soak test", HOUR_US, 1_000)], None, 30_000)
    assert (power.kwh, power.cost_minor) == (1_000, 30)  # 300.00 for 1000 kWh are 0.30 for one
    assert UNITS.Quantity(1, "kWh").to("MJ").magnitude == pytest.approx(3.6)


@given(st.integers(0, 100 * HOUR_US), st.integers(0, 5_000), st.integers(0, 10**6))
def test_against_pint(us: int, watts: int, price: int) -> None:
    power = machine_power([MachineTime("wipe", us, None)], watts, price)
    energy = UNITS.Quantity(watts, "W") * UNITS.Quantity(us, "us")
    kwh = energy.to("kWh").magnitude
    assert power.kwh / 1000 == pytest.approx(kwh, abs=0.000_51)
    assert power.cost_minor == pytest.approx(kwh * price / 1000, abs=0.51)
    assert power.unknown_us == 0


def test_time_of_which_no_watts_are_known_is_said_and_left_out() -> None:
    power = machine_power([MachineTime("a", HOUR_US, 40), MachineTime("b", HOUR_US, None)], None, None)
    assert (power.kwh, power.cost_minor, power.us, power.unknown_us) == (40, None, 2 * HOUR_US, HOUR_US)
