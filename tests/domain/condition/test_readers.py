"""The readers of files: what is passed over, left out and told, and what is refused."""

from __future__ import annotations

import json
from typing import Any

import pytest

from bench.domain.condition.figures import decimal, facts, shown
from bench.domain.condition.power_supply import read_power_supply
from bench.domain.condition.reading_files import NVME_LOG, POWER_SUPPLY, SMARTCTL, read_file
from bench.domain.condition.smartctl import read_smartctl
from bench.errors import BadInput
from tests.condition_files import ADAPTER, MOUSE, UEVENT, as_bytes, ata_json, attribute, nvme_json, nvme_log


def test_adapters_mice_and_empty_bays_are_passed_over() -> None:
    empty = "POWER_SUPPLY_NAME=BAT1\nPOWER_SUPPLY_TYPE=Battery\nPOWER_SUPPLY_PRESENT=0\n"
    packs = read_power_supply(ADAPTER + UEVENT + empty + MOUSE)
    assert [pack.name for pack in packs] == ["BAT0"]
    with pytest.raises(BadInput, match="no battery that is there"):
        read_power_supply(ADAPTER + empty + MOUSE)


def test_two_packs_are_two_readings() -> None:
    readings = read_file((UEVENT + UEVENT.replace("BAT0", "BAT1")).encode())
    assert [one.figures["name"] for one in readings] == ["BAT0", "BAT1"]
    assert {one.subject for one in readings} == {"battery"}
    older = UEVENT.replace("DEVTYPE=power_supply\n", "")
    assert len(read_power_supply(older + older.replace("BAT0", "BAT1"))) == 2


def test_figures_that_cannot_be_are_left_out_and_told() -> None:
    text = UEVENT.replace("CYCLE_COUNT=312", "CYCLE_COUNT=65535").replace("Invented", "In\u202evented")
    (pack,) = read_power_supply(text)
    assert pack.doubts == ("MANUFACTURER cannot be shown", "CYCLE_COUNT 65535 cannot be")
    assert pack.cycles is None
    assert pack.maker == ""
    assert pack.full_uwh == 51_300_000


def test_odd_bytes_in_a_serial_number_do_not_lose_the_rest() -> None:
    (reading,) = read_file(UEVENT.encode().replace(b"756", b"\xff\xfe"))
    assert reading.figures["serial"] == "\ufffd\ufffd"
    assert reading.figures["full_uwh"] == 51_300_000


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("hello\n", "is not a line"),
        ("POWER_SUPPLY_NAME=BAT0\nPOWER_SUPPLY_TYPE=Battery\n", "holds when full"),
        ("POWER_SUPPLY_ENERGY_FULL=0\n", "holds when full"),
        ("POWER_SUPPLY_ENERGY_FULL=51.3\n", "not a whole number"),
        ("POWER_SUPPLY_ENERGY_FULL=5130", "breaks off within ENERGY_FULL"),
        ("POWER_SUPPLY_ENERGY_FULL=50000000\nPOWER_SUPPLY_ENERGY_FULL=60000000\n", "twice"),
        ("POWER_SUPPLY_ENERGY_FULL=90000000\nPOWER_SUPPLY_ENERGY_FULL_DESIGN=50000000\n", "far above"),
        ("POWER_SUPPLY_NAME=BAT0\nPOWER_SUPPLY_ENERGY_FULL=50000000\n" * 9, "9 batteries"),
        ("x" * 100_001, "too many for a battery"),
        ("", "no battery"),
    ],
)
def test_what_a_power_supply_cannot_say(text: str, words: str) -> None:
    with pytest.raises(BadInput, match=words):
        read_power_supply(text)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "empty"),
        (b"hello", "none of the kinds"),
        (bytes(512), "nothing but zeros"),
        (nvme_log()[:511], "none of the kinds"),
        (nvme_log(b3=101), "Spare left cannot be 101"),
        (nvme_log(w1=500), "Temperature cannot be 227"),
        (nvme_log(w200=500), "Sensors cannot be 227"),
        (nvme_log(b0=64), "Critical warning cannot be 64"),
        (b"x" * 4_000_001, "too many for a reading"),
        (b'{"a": 1}', "not smartctl's"),
        (b'{"a": \xff}', "not text throughout"),
    ],
)
def test_files_that_are_refused(data: bytes, words: str) -> None:
    with pytest.raises(BadInput, match=words):
        read_file(data)


def test_a_kind_may_be_named() -> None:
    assert read_file(nvme_log(), NVME_LOG)[0].source == NVME_LOG
    assert read_file(UEVENT.encode(), POWER_SUPPLY)[0].source == POWER_SUPPLY
    with pytest.raises(BadInput, match="511 bytes"):
        read_file(nvme_log()[:511], NVME_LOG)
    with pytest.raises(BadInput, match="is not a kind of file"):
        read_file(b"x", "photograph")


def test_smartctl_names_the_drive() -> None:
    (reading,) = read_file(b"\xef\xbb\xbf" + as_bytes(nvme_json()), None)
    assert reading.source == SMARTCTL
    assert reading.drive is not None
    assert (reading.drive.model, reading.drive.serial) == ("Invented NV-512", "NV512-0001")
    assert (reading.drive.media_type, reading.drive.size_bytes) == ("NVMe drive", 512_110_190_592)
    document = ata_json()
    del document["device"]
    assert read_file(as_bytes(document))[0].drive.media_type == ""  # type: ignore[union-attr]


def changed(document: dict[str, Any], *way: str, to: Any) -> str:
    holder = document
    for step in way[:-1]:
        holder = holder[step]
    holder[way[-1]] = to
    return json.dumps(document)


LOG = "nvme_smart_health_information_log"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (changed(nvme_json(), "smartctl", to=3), "not smartctl's"),
        (changed(nvme_json(), "smartctl", "exit_status", to="0"), "exit_status is not a whole number"),
        (changed(nvme_json(), "smartctl", "exit_status", to=256), "exit status"),
        (changed(nvme_json(), "smartctl", to={}), "exit status"),
        (changed(nvme_json(), "smart_status", "passed", to=1), "neither true nor false"),
        (changed(nvme_json(), "model_name", to=5), "model_name is not text"),
        (changed(nvme_json(), LOG, to=[]), "no critical warning"),
        (changed(nvme_json(), LOG, "critical_warning", to=64), "no critical warning"),
        (changed(nvme_json(), LOG, "available_spare", to=1.5), "available_spare is not a whole number"),
        (changed(nvme_json(), LOG, "temperature_sensors", to=["45"]), "sensors cannot be read"),
        (changed(ata_json(), "ata_smart_attributes", "table", to={}), "table of attributes"),
        (changed(ata_json(), "ata_smart_attributes", "table", to=[3]), "id cannot be"),
        (changed(ata_json(), "ata_smart_attributes", "table", to=[attribute(5, "x", -1)]), "raw value"),
        (changed(ata_json(), "ata_smart_attributes", "table", to=[attribute(5, "x", 0, worst=256)]), "worst"),
        ("{", "not JSON"),
        ("[]", "not smartctl's"),
        (json.dumps(nvme_json())[:-40], "breaks off"),
        ('{"smartctl": {"exit_status": NaN}}', "not JSON"),
        (" " * 4_000_001, "too many for one drive"),
    ],
)
def test_what_smartctl_cannot_say(text: str, words: str) -> None:
    with pytest.raises(BadInput, match=words):
        read_smartctl(text)


def test_odd_figures_in_smartctl_are_left_out_and_told() -> None:
    document = nvme_json(available_spare=255, temperature_sensors=[45, 9999])
    document["power_on_time"]["hours"] = 10**9
    document["model_name"] = "In\u202evented"
    report = read_smartctl(json.dumps(document))
    assert report.doubts == (
        "available_spare “255” cannot be",
        "some temperature sensors cannot be",
        "model_name cannot be shown",
        "hours “1000000000” cannot be",
    )
    assert report.health is not None
    assert (report.health.spare_percent, report.health.sensors_c) == (None, (45,))
    assert report.health.used_percent == 7


def test_an_attribute_without_threshold_never_fails() -> None:
    row = attribute(5, "Reallocated_Sector_Ct", 0, value=1, worst=1)
    del row["thresh"], row["flags"]
    report = read_smartctl(json.dumps(ata_json(row)))
    assert (report.attributes[0].failed, report.attributes[0].prefailure) == ("", False)
    assert report.temperature_c == 36


def test_a_temperature_that_cannot_be_is_said_so() -> None:
    document = ata_json(attribute(194, "Temperature_Celsius", 0x7F, thresh=0))
    del document["temperature"]
    report = read_smartctl(json.dumps(document))
    assert report.temperature_c is None
    assert report.attributes[0].meaning == "cannot be read"


def test_figures_are_shown_with_their_unit() -> None:
    told = {
        "passed": False,
        "exit_status": 8,
        "sensors_c": [45, 46],
        "attributes": [{}, {}],
        "size_bytes": 512_110_190_592,
        "temperature_tenths_c": -45,
        "busy_minutes": 12,
        "swelling": "no",
        "power_on_hours": 3191,
        "spare_percent": 100,
        "power_mw": 45_250,
        "unnamed": 3,
    }
    assert {fact.name: fact.shown for fact in facts(told)} == {
        "passed": "FAILED",
        "exit_status": "8",
        "sensors_c": "45 °C, 46 °C",
        "attributes": "2 read",
        "size_bytes": "512 GB",
        "temperature_tenths_c": "-4.5 °C",
        "busy_minutes": "12 min",
        "swelling": "no",
        "power_on_hours": "3191 h",
        "spare_percent": "100 %",
        "power_mw": "45.3 W",
    }
    assert shown("passed", value=True) == "passed"
    assert decimal(-1, 1000, 1) == "0.0"
