"""Commands of a machine's own file: the collector printed, its file taken in, a specification typed."""

from __future__ import annotations

import io
import subprocess
import sys
from pathlib import Path

import pytest

from tests.machine_files import SAID, machine_file
from tests.test_cli import Did, Refused, answer


@pytest.fixture
def file(tmp_path: Path) -> str:
    path = tmp_path / "machine.txt"
    path.write_bytes(machine_file())
    return str(path)


def test_the_collector_is_printed_and_saved_as_it_is(did: Did, refused: Refused, tmp_path: Path) -> None:
    script = did("collector")
    assert script.startswith("#!/bin/sh\n")
    to = tmp_path / "collect.sh"
    assert did("collector", "--to", str(to)) == f"Wrote {to}. Run it on the machine, as root: sh collect.sh\n"
    assert to.read_text() == script
    assert subprocess.run(["/bin/sh", "-n", to], check=False).returncode == 0
    assert "there already" in refused(2, "collector", "--to", str(to))
    assert to.read_text() == script
    assert "cannot be written" in refused(2, "collector", "--to", str(tmp_path / "nowhere" / "collect.sh"))


def test_a_file_makes_a_unit_and_says_what_it_told(did: Did, file: str) -> None:
    said = did("intake", file)
    assert said.startswith("Added unit 10014.\n  Processor      Quern Q5 @ 1.60 GHz, 4 cores\n")
    assert "Reading 1, battery before the work:" in said
    assert "Recorded the drive Quern Q2 Q7001." in said
    assert "Memory         16 GB, 8 GB soldered" in did("unit", "10014")
    assert "Drives         512 GB SSD, NVMe Quern Q2" in did("spec", "10014")


def test_a_second_file_says_what_changed(did: Did, refused: Refused, file: str) -> None:
    tag = answer(did, "intake", file)["tag"]
    assert "taken in already" in refused(4, "intake", file)
    less = {"dmidecode": SAID["dmidecode"].replace("Core Count: 4", "Core Count: 2"), "lspci": None}
    Path(file).write_bytes(machine_file(less))
    said = did("intake", file, tag, "--after")
    assert said.startswith(
        f"Filled unit {tag}.\n"
        "  Processor: Quern Q5 @ 1.60 GHz, 4 cores → Quern Q5 @ 1.60 GHz, 2 cores\n"
        "Reading 3, battery after the work:\n"
    )
    assert said.endswith("Not there when it was collected: lspci.\n")
    Path(file).write_bytes(machine_file(less, "2026-11-30T08:00:00Z"))
    assert "Nothing changed since the last one." in did("intake", file)
    shown = did("spec", tag)
    assert shown.count("\nChanged ") == 2
    assert "Amiss with its file\n" in shown
    facts = answer(did, "spec", tag)
    assert [one["source"] for one in facts["kept"]] == ["collector"] * 3
    assert facts["kept"][0]["machine"]["memory_modules"][1]["size_bytes"] == 8 * 2**30
    assert facts["kept"][0]["machine"]["firmware_on"] == "2021-03-04"


def test_a_file_comes_by_standard_input(did: Did, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(machine_file())))
    facts = answer(did, "intake", "-", "--route", "full refurbish")
    assert facts["new_unit"] is True
    assert facts["changes"] == []
    assert answer(did, "unit", facts["tag"])["tasks"]


def test_a_specification_is_typed(did: Did, refused: Refused) -> None:
    tag = str(answer(did, "add", "Model One")["tag"])
    assert did("spec", tag).endswith("Nothing is known of what it is made of.\n")
    said = did("spec", tag, "memory=16 GB", "colour=silver", "account_lock=locked")
    assert said == (
        f"Kept the specification of {tag}:\n"
        "  Memory: not known → 16 GB\n  Colour: not known → silver\n  Account lock: not known → locked\n"
    )
    assert "It has processor, cores, memory" in refused(2, "spec", tag, "size=3")
    assert "has no = in it" in refused(2, "spec", tag, "memory")
    facts = answer(did, "spec", tag, "memory=")
    assert facts["changes"] == [{"label": "Memory", "before": "16 GB", "after": ""}]
    sheet = did("sheet", tag)
    assert "Specification\n" in sheet
    assert "Colour: silver" in sheet
    assert "Account lock: locked" in sheet.partition("What you should know")[2]
    listing = did("listing", tag)
    assert "- Colour: silver" in listing
    assert "- Account lock: locked" in listing.partition("Faults and wear")[2]
    assert {"label": "Colour", "words": "silver"} in answer(did, "listing", tag)["specification"]
    did("undo")
    assert "16 GB" in did("spec", tag)


def test_a_file_that_is_none_is_one_sentence(refused: Refused, tmp_path: Path) -> None:
    (tmp_path / "x.txt").write_text("hello\n")
    assert "not one that the collector left" in refused(2, "intake", str(tmp_path / "x.txt"))
    assert "is not a file" in refused(2, "intake", str(tmp_path / "y.txt"))
