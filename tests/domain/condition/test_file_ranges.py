"""What a figure from a file may be: the last value each side that is a reading, and the first that is damage.

Common practice, no source, but for bytes and percents: one byte holds 0 to 255, six bits 0 to 63 (NVM Express
base specification, health log; smartctl(8), exit status).
"""

from __future__ import annotations

import pytest

from bench.domain.condition.limits import LIMITS, more_than_a_pack_can_hold, possible

TRILLION, THOUSAND_TRILLION = 1_000_000_000_000, 1_000_000_000_000_000
RANGES = {
    "design_uwh": (100_000, 1_000_000_000),
    "full_uwh": (100_000, 1_000_000_000),
    "design_uah": (50_000, 100_000_000),
    "full_uah": (50_000, 100_000_000),
    "cycles": (1, 10_000),
    "voltage_uv": (1_000_000, 60_000_000),
    "voltage_min_design_uv": (1_000_000, 60_000_000),
    "temperature_tenths_c": (-400, 1000),
    "size_bytes": (1, 1_000_000 * TRILLION),
    "exit_status": (0, 255),
    "critical_warning": (0, 63),
    "temperature_c": (-60, 150),
    "sensors_c": (-60, 150),
    "spare_percent": (0, 100),
    "spare_threshold_percent": (0, 100),
    "used_percent": (0, 255),
    "data_units_read": (0, TRILLION),
    "data_units_written": (0, TRILLION),
    "read_commands": (0, THOUSAND_TRILLION),
    "write_commands": (0, THOUSAND_TRILLION),
    "busy_minutes": (0, 100_000_000),
    "power_cycles": (0, 100_000_000),
    "power_on_hours": (0, 1_000_000),
    "unsafe_shutdowns": (0, 100_000_000),
    "media_errors": (0, TRILLION),
    "log_entries": (0, TRILLION),
    "warning_temperature_minutes": (0, 100_000_000),
    "critical_temperature_minutes": (0, 100_000_000),
}


def test_every_figure_has_its_range_here() -> None:
    assert LIMITS.keys() == RANGES.keys()


@pytest.mark.parametrize("name", RANGES)
def test_the_last_that_is_a_reading_and_the_first_that_is_not(name: str) -> None:
    least, most = RANGES[name]
    assert [possible(name, value) for value in (least - 1, least, most, most + 1)] == [
        False,
        True,
        True,
        False,
    ]


@pytest.mark.parametrize(("full", "too_much"), [(150, False), (151, True), (80, False)])
def test_a_pack_that_holds_half_more_than_by_design_is_a_wrong_figure(full: int, too_much: bool) -> None:
    assert more_than_a_pack_can_hold({"full_uwh": full, "design_uwh": 100}) == too_much
    assert more_than_a_pack_can_hold({"full_uah": full, "design_uah": 100}) == too_much
