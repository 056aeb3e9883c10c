"""The NVMe SMART / Health log byte by byte.

Source of offsets, widths and meanings: NVM Express base specification, SMART / Health Information (02h), as
repeated in public headers; units-written pairs: published health logs. The log is built here from those
offsets by hand, not by the program. Tolerance: none.
"""

from __future__ import annotations

import pytest

from bench.domain.calculators.drive_wear import bytes_written
from bench.domain.condition.figures import shown
from bench.domain.condition.found import ACT, FINE, STATE
from bench.domain.condition.nvme_log import NvmeHealth, read_nvme_log
from bench.domain.condition.verdicts import verdicts
from bench.errors import BadInput

OFFSETS = {
    "data_units_read": 32,
    "data_units_written": 48,
    "read_commands": 64,
    "write_commands": 80,
    "busy_minutes": 96,
    "power_cycles": 112,
    "power_on_hours": 128,
    "unsafe_shutdowns": 144,
    "media_errors": 160,
    "log_entries": 176,
}


def log(**at: bytes) -> bytes:
    """512 zeros, spare 100 and threshold 10 but for what is put at `at32=...`."""
    whole = bytearray(512)
    whole[3], whole[4] = 100, 10
    for name, value in at.items():
        start = int(name[2:])
        whole[start : start + len(value)] = value
    return bytes(whole)


@pytest.mark.parametrize(("name", "offset"), OFFSETS.items())
def test_counters_are_little_endian_where_the_specification_puts_them(name: str, offset: int) -> None:
    health = read_nvme_log(log(**{f"at{offset}": b"\x04\x03\x02\x00"}))
    assert getattr(health, name) == 0x020304
    others = [getattr(health, other) for other in OFFSETS if other != name]
    assert others == [0] * 9


def test_a_counter_has_sixteen_bytes() -> None:
    # 1 at the sixteenth byte is 2^120: no drive has that, and it must not be read as 1 or 0.
    with pytest.raises(BadInput, match="Written by the host cannot be"):
        read_nvme_log(log(at63=b"\x01"))
    assert read_nvme_log(log(at64=b"\x01")).read_commands == 1


@pytest.mark.parametrize(
    ("kelvin", "celsius"),
    [
        (0x0136, 37),  # reference value: 0x0136 K -> 37 °C, with the whole number 273
        (273, 0),
        (255, -18),
    ],
)
def test_kelvin_is_shown_with_integer_273(kelvin: int, celsius: int) -> None:
    health = read_nvme_log(log(at1=kelvin.to_bytes(2, "little"), at202=kelvin.to_bytes(2, "little")))
    assert health.temperature_c == celsius
    assert health.sensors_c == (celsius,)


def test_a_sensor_of_0_kelvin_is_not_there() -> None:
    health = read_nvme_log(log())
    assert health.temperature_c is None
    assert health.sensors_c == ()


@pytest.mark.parametrize(
    ("units", "terabytes"),
    [
        (62_786_553, "32.15 TB"),  # published log: 32.1 TB
        (107_103_479, "54.84 TB"),  # published log: 54.8 TB
        (1_000_000, "0.51 TB"),  # 0.512
        (1_665_680, "0.85 TB"),
    ],
)
def test_a_data_unit_is_512000_bytes(units: int, terabytes: str) -> None:
    health = read_nvme_log(log(at48=units.to_bytes(16, "little")))
    assert health.data_units_written == units
    assert bytes_written(units) == units * 1000 * 512
    assert shown("data_units_written", units) == terabytes


def test_minutes_over_temperature_have_four_bytes() -> None:
    health = read_nvme_log(log(at192=b"\x01\x02\x00\x00\x03\x00\x01\x00"))
    assert (health.warning_temperature_minutes, health.critical_temperature_minutes) == (0x0201, 0x010003)


def test_percentage_used_may_pass_100_and_stops_at_255() -> None:
    for used, standing in ((79, FINE), (80, STATE), (99, STATE), (100, ACT), (143, ACT), (255, ACT)):
        figures = read_nvme_log(log(at5=bytes([used]))).figures()
        assert figures["used_percent"] == used
        (found,) = [one for one in verdicts("drive", figures) if one.name == "used"]
        assert found.standing == standing


@pytest.mark.parametrize(
    ("bit", "word"),
    [
        (0, "spare"),
        (1, "temperature"),
        (2, "reliability"),
        (3, "read-only"),
        (4, "backup"),
        (5, "persistent memory"),
    ],
)
def test_each_critical_warning_bit_has_its_meaning(bit: int, word: str) -> None:
    found = [
        one
        for one in verdicts("drive", NvmeHealth(critical_warning=1 << bit).figures())
        if one.name == "critical_warning"
    ]
    assert [one.standing for one in found] == [ACT]
    assert word in found[0].words
    assert "byte 0" in found[0].source


@pytest.mark.parametrize(("spare", "standing"), [(11, FINE), (10, ACT), (9, ACT), (0, ACT)])
def test_spare_at_or_under_the_threshold(spare: int, standing: str) -> None:
    found = verdicts("drive", read_nvme_log(log(at3=bytes([spare]))).figures())
    assert next(one for one in found if one.name == "spare").standing == standing
