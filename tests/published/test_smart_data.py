"""smartctl's JSON: keys, exit bits, attributes against thresholds, packed raw values.

Sources: smartctl(8), EXIT STATUS; JSON printed in public issues of smartmontools and programs that read it,
names left out; ATA/ATAPI-5 and SFF-8035i rev. 2 for thresholds; raw 240518299684 with "36 (Min/Max 2/56)"
printed beside it in a public issue; the other packed values: shared reference values, by arithmetic.
Tolerance: none.
"""

from __future__ import annotations

import json

import pytest

from bench.domain.condition.ata_attributes import celsius_of, failed_against, meaning_of
from bench.domain.condition.found import ACT, FINE, OPEN, STATE
from bench.domain.condition.nvme_log import read_nvme_log
from bench.domain.condition.smartctl import SmartReport, read_smartctl
from bench.domain.condition.verdicts import Verdict, verdicts, worst
from bench.errors import BadInput
from tests.condition_files import ata_json, attribute, nvme_json, nvme_log


def read(document: object) -> SmartReport:
    return read_smartctl(json.dumps(document))


def judged(document: object, name: str = "") -> list[Verdict]:
    return [one for one in verdicts("drive", read(document).figures()) if name in ("", one.name)]


@pytest.mark.parametrize(
    ("raw", "meaning"),
    [
        (240_518_299_684, "36 °C (lowest 2, highest 56)"),  # printed: 36 (Min/Max 2/56)
        (68_719_476_772, "36 °C"),  # reference value
        (5_781_950_431_268, "36 °C (lowest 26, highest 55)"),  # reference value: 36, min 26, max 55
        (36, "36 °C"),
        (0x0000_0038_1224, "36 °C (lowest 18, highest 56)"),  # bytes 1 and 2
        (0xFFFB, "-5 °C"),  # a byte's sign
    ],
)
def test_temperatures_are_never_shown_raw(raw: int, meaning: str) -> None:
    assert meaning_of(190, raw) == meaning_of(194, raw) == meaning
    assert celsius_of(raw) == int(meaning.split(" ")[0])


def test_command_timeouts_are_never_shown_raw() -> None:
    # 0x0001_0001_0001 packs three counts of one (from memory: smartmontools prints 1 1 1)
    assert meaning_of(188, 0x0001_0001_0001) == "packed counts 1, 1, 1"
    assert meaning_of(188, 7) == "7"
    assert meaning_of(9, 31_337) == "31337"


@pytest.mark.parametrize(
    ("value", "worst_value", "threshold", "failed"),
    [(11, 11, 10, ""), (10, 10, 10, "now"), (9, 9, 10, "now"), (11, 10, 10, "past"), (1, 1, 0, "")],
)
def test_at_or_under_the_threshold(value: int, worst_value: int, threshold: int, failed: str) -> None:
    assert failed_against(value, worst_value, threshold) == failed


def test_a_pre_failure_attribute_is_acted_on_and_an_old_age_one_stated() -> None:
    low = {"value": 10, "worst": 10}
    (prefail,) = judged(ata_json(attribute(5, "Reallocated_Sector_Ct", 0, **low)), "attribute")
    (old,) = judged(ata_json(attribute(9, "Hours", 0, flags={"prefailure": False}, **low)), "attribute")
    (past,) = judged(ata_json(attribute(5, "Reallocated_Sector_Ct", 0, worst=9)), "attribute")
    assert (prefail.standing, old.standing, past.standing) == (ACT, STATE, STATE)
    assert "10, threshold 10" in prefail.words


EXIT_BITS = {
    # smartctl(8): bit 2 command or checksum, 3 DISK FAILING, 4 prefail <= threshold, 5 in the past, 6 error
    # log, 7 self-test log
    2: STATE,
    3: ACT,
    4: ACT,
    5: STATE,
    6: STATE,
    7: STATE,
}


@pytest.mark.parametrize(("bit", "standing"), EXIT_BITS.items())
def test_every_exit_bit_counts_though_the_drive_says_passed(bit: int, standing: str) -> None:
    document = ata_json(exit_status=1 << bit, passed=True)
    (found,) = judged(document, "exit_status")
    assert found.standing == standing
    assert worst(tuple(judged(document))) == standing


@pytest.mark.parametrize("bit", [0, 1])
def test_a_drive_that_was_not_opened_is_no_reading(bit: int) -> None:
    with pytest.raises(BadInput, match="could not open"):
        read(ata_json(exit_status=1 << bit))


def test_passed_alone_is_not_enough() -> None:
    document = ata_json()
    del document["ata_smart_attributes"]
    (found,) = judged(document)
    assert (found.name, found.standing) == ("passed", OPEN)
    assert judged(ata_json(passed=False), "passed")[0].standing == ACT
    assert judged(ata_json(passed=True), "passed") == []


def test_5_and_197_are_stated_as_a_convention() -> None:
    (found,) = judged(ata_json(attribute(197, "Current_Pending_Sector", 8, thresh=0)), "sectors")
    assert found.standing == STATE
    assert "8 sectors" in found.words
    assert "convention" in found.source


def test_the_health_log_says_the_same_by_json_and_by_bytes() -> None:
    by_json, by_bytes = read(nvme_json()).health, read_nvme_log(nvme_log())
    assert by_json == by_bytes


def test_an_ordinary_drive_has_nothing_against_it() -> None:
    for document in (ata_json(), nvme_json()):
        assert worst(tuple(judged(document))) == FINE
    report = read(ata_json())
    assert (report.size_bytes, report.power_on_hours, report.temperature_c) == (500_107_862_016, 31_337, 36)
    assert report.serial == "HD500-0007"


def test_the_temperature_comes_from_its_attribute_where_nothing_else_tells_it() -> None:
    document = ata_json()
    del document["temperature"]
    assert read(document).temperature_c == 36
