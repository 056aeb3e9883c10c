"""A machine's own file: whole, with tools missing, cut anywhere, changed anywhere, or made of any bytes."""

from __future__ import annotations

import json
from contextlib import suppress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.domain.machine.machine_file import MachineFile, read_machine_file
from bench.domain.machine.sections import read_collector_file
from bench.domain.specification import Specification, specification_lines
from bench.errors import BadInput
from tests.condition_files import ata_json
from tests.machine_files import SAID, drive, dump, edid, lsblk_json, machine_file

WHOLE = machine_file()


def shown(file: MachineFile) -> dict[str, str]:
    return {line.label: line.text for line in specification_lines(file.specification)}


def test_a_whole_file() -> None:
    file = read_machine_file(WHOLE)
    assert (file.maker, file.model, file.serial, file.at) == (
        *("Pell", "Wren 14", "PL900001"),
        "2026-11-27T08:00:00Z",
    )
    assert shown(file) == {
        "Processor": "Quern Q5 @ 1.60 GHz, 4 cores",
        "Memory": "16 GB, 8 GB soldered, 1 of 1 slot filled, DDR4",
        "Drives": "512 GB SSD, NVMe Quern Q2",
        "Screen": "14.0 in, 1920 × 1080, PLQ 1234 PN14-FHD",
        "Graphics": "Quern Graphics 20",
        "Wireless": 'Fenn Wireless "AX" 2x2',
        "Battery": "Invented PK-57, 57 Wh design",
        "Licence": "a key in the firmware",
        "Firmware": "N2X 1.42 of 2021-03-04",
        "Firmware lock": "none seen",
    }
    assert [(one.subject, one.source) for one in file.readings] == [
        ("battery", "power_supply"),
        ("drive", "smartctl"),
    ]
    (only,) = file.drives
    assert (only.serial, only.media_type) == ("Q7001", "SSD, NVMe")
    assert file.told == ()


def test_every_tool_may_be_missing_and_each_is_told() -> None:
    file = read_machine_file(machine_file(dict.fromkeys(SAID)))
    assert file.specification == Specification()
    assert (file.readings, file.drives, file.drives_looked_for) == ((), (), False)
    (told,) = file.told
    assert all(name.split()[0] in told for name in SAID)


@pytest.mark.parametrize("name", SAID)
def test_without_one_tool_the_others_are_read(name: str) -> None:
    file = read_machine_file(machine_file({name: None}))
    assert file.told == (f"Not there when it was collected: {name.split()[0]}.",)
    assert len(shown(file)) >= 8
    assert (file.maker, file.serial) == ("Pell", "PL900001")


@pytest.mark.parametrize("name", SAID)
def test_garbage_of_one_tool_is_a_sentence(name: str) -> None:
    silent = {"power_supply": None} if name == "upower" else {}  # it is asked where the kernel tells nothing
    file = read_machine_file(machine_file({**silent, name: "\x02garbage{[\n"}))
    assert name in " ".join(file.told) or name in ("net", "acpi")
    assert len(shown(file)) >= 8


def test_a_changed_section_is_told_and_not_taken() -> None:
    at = WHOLE.index(b"Wren 14")
    file = read_machine_file(WHOLE[:at] + b"Wren 15" + WHOLE[at + 7 :])
    assert file.told == ("The section dmidecode was changed since it was written: nothing of it was taken.",)
    assert file.model == "Wren 14"  # the kernel tells it too


@pytest.mark.parametrize("cut", range(30, len(WHOLE), 131))
def test_a_cut_file_tells_where_it_breaks_off(cut: int) -> None:
    whole = {one.name for one in read_collector_file(WHOLE).sections}
    part = read_collector_file(WHOLE[:cut])
    assert sum(bool(one.damage) for one in part.sections) <= 1
    assert {one.name for one in part.sections[:-1]} <= whole
    assert "breaks off" in " ".join(read_machine_file(WHOLE[:cut]).told)


def test_a_file_cut_between_two_sections_is_told() -> None:
    at = WHOLE.index(b"section lspci")
    assert read_machine_file(WHOLE[:at]).told == ("The file breaks off: what came after that is not in it.",)
    assert read_machine_file(WHOLE[:-1]).told == ()  # a last line end that a copy lost


def test_a_section_whose_name_was_lost_is_told() -> None:
    file = read_machine_file(WHOLE.replace(b"section lspci", b"sec\xffion lspci"))
    assert file.told == ("The file has lines that belong to no section: nothing of them was taken.",)
    assert file.specification.graphics is None


def test_line_ends_of_another_system_are_taken() -> None:
    assert read_machine_file(WHOLE.replace(b"\n", b"\r\n")) == read_machine_file(WHOLE)


@pytest.mark.parametrize("data", [b"", b"{}", b"bench collector 2\n", b"\x00" * 600])
def test_another_file_is_refused(data: bytes) -> None:
    with pytest.raises(BadInput, match="not one that the collector left"):
        read_machine_file(data)


def test_one_too_large_is_refused() -> None:
    with pytest.raises(BadInput, match="too many"):
        read_machine_file(WHOLE + b"\n" * 8_000_000)


def test_a_screen_that_was_plugged_in_is_not_the_machines() -> None:
    said = {"edid card0-eDP-1": None, "edid card0-HDMI-A-1": dump(edid())}
    assert "Screen" not in shown(read_machine_file(machine_file(said)))


def test_no_battery_seen_is_said_and_not_known_is_not() -> None:
    said = {"upower": None, "power_supply": "\n"}
    assert shown(read_machine_file(machine_file(said)))["Battery"] == "none seen"
    assert "Battery" not in shown(read_machine_file(machine_file({"upower": None, "power_supply": None})))


def test_a_drive_of_another_bus_has_its_own_reading() -> None:
    said = {
        "lsblk": lsblk_json(
            drive(), drive(name="sda", tran="sata", model="Invented HD-500", serial="HD500-0007")
        ),
        "smartctl /dev/sda": json.dumps(ata_json()) + "\n",
        "nvme /dev/nvme0n1": '{"critical_warning": 0, "percent_used": 9}\n',
    }
    file = read_machine_file(machine_file(said))
    assert [one.source for one in file.readings] == ["power_supply", "smartctl", "smartctl"]
    assert [one.serial for one in file.drives] == ["Q7001", "HD500-0007"]
    without = read_machine_file(machine_file(said | {"smartctl /dev/nvme0n1": None}))
    logs = [one for one in without.readings if one.source == "nvme_log"]
    assert [one.drive.serial for one in logs if one.drive] == ["Q7001"]
    assert logs[0].figures["used_percent"] == 9


@settings(max_examples=300, deadline=None)
@given(st.binary(max_size=600))
def test_any_bytes_are_read_or_refused(data: bytes) -> None:
    for whole in (data, b"bench collector 1\n" + data):
        with suppress(BadInput):
            assert isinstance(read_machine_file(whole), MachineFile)


@settings(max_examples=150, deadline=None)
@given(st.sampled_from(sorted(SAID)), st.text(max_size=200))
def test_any_text_of_a_tool_is_read_or_told(name: str, text: str) -> None:
    said = text.encode("utf-8", "replace").decode().replace("\r", "") + "\n"
    file = read_machine_file(machine_file({name: said}))
    assert isinstance(file.told, tuple)
    assert shown(file)


@settings(max_examples=150, deadline=None)
@given(st.integers(0, len(WHOLE) - 1), st.binary(min_size=1, max_size=30))
def test_damage_anywhere_never_ends_it(at: int, garbage: bytes) -> None:
    try:
        file = read_machine_file(WHOLE[:at] + garbage + WHOLE[at + len(garbage) :])
    except BadInput:
        assert at < 20  # in its first line
    else:
        assert file.maker in ("Pell", "")
