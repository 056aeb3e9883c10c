"""Commands of condition, wiping and grading: a unit from its first reading to its buyer's sheet."""

from __future__ import annotations

import io
import json
import sys
from pathlib import Path

import pytest

from tests.condition_files import UEVENT, as_bytes, ata_json, nvme_json, nvme_log
from tests.reports.markup import read_page
from tests.test_cli import Did, Refused, answer


@pytest.fixture
def tag(did: Did) -> str:
    return str(answer(did, "add", "Model One", "--maker", "Invented")["tag"])


def test_a_reading_is_typed_and_shown_with_its_verdict(did: Did, tag: str) -> None:
    assert did("reading", tag, "battery").startswith(
        "Battery, its inputs:\n  design=  Design capacity: 0.1 to 1000 Wh"
    )
    said = did("reading", tag, "battery", "design=57 Wh", "full=40", "fitted=glued in", "--note", "cold")
    assert said == (f"Reading 1 of {tag}, battery before the work:\n  state it: 70.2 % of design: worn\n")
    did("reading", tag, "battery", "design=57", "full=56.9", "--after")
    shown = did("condition", tag)
    assert "before: typed, Ada" in shown
    assert "OK: 99.8 % of design" in shown
    assert "gas-gauge manuals" not in shown
    assert "gas-gauge manuals" in did("condition", tag, "--why")
    facts = answer(did, "condition", tag)
    battery = facts["subjects"][0]
    assert battery["before"][0]["figures"]["full_uwh"] == 40_000_000
    assert battery["parts"][0]["after"]["full_uwh"] == 56_900_000
    assert did("reading", tag, "--remove", "2", "--note", "wrong unit") == "Took reading 2 off.\n"
    assert "99.8 %" not in did("condition", tag)


def test_the_battery_is_weighed(did: Did, tag: str) -> None:
    did("reading", tag, "battery", "design=57", "full=40")
    said = did("condition", tag, "--pack", "40", "--gain", "60", "--fitted", "glued in")
    assert "Battery: replace." in said
    assert "in all 48.00 EUR; the sale gains 60.00 EUR" in said
    (choice,) = answer(did, "condition", tag, "--pack", "40", "--gain", "10")["batteries"]
    assert (choice["choice"], choice["gain_minor"]) == ("sell as is, figure stated", 1000)
    assert choice["costs"][0] == {"words": "pack", "amount_minor": 4000}


def test_files_are_read_by_path_and_from_standard_input(
    did: Did, tag: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    smart = tmp_path / "smart.json"
    smart.write_bytes(as_bytes(nvme_json()))
    said = did("reading", tag, "--file", str(smart))
    assert f"Recorded the drive Invented NV-512 NV512-0001 in {tag}." in said
    assert "  OK: no critical warning\n" in said
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(UEVENT.encode())))
    (reading,) = answer(did, "reading", tag, "--file", "-")["readings"]
    assert (reading["subject"], reading["moment"]) == ("battery", "before")
    log = tmp_path / "log.bin"
    log.write_bytes(nvme_log())
    (reading,) = answer(
        did, "reading", tag, "--file", str(log), "--kind", "nvme_log", "--drive", "1", "--after"
    )["readings"]
    assert (reading["drive_id"], reading["moment"]) == (1, "after")


def test_swelling_says_at_once_what_to_do(did: Did, refused: Refused, tag: str) -> None:
    said = did("reading", tag, "battery", "swelling=yes")
    assert f"Unit {tag} is on hold: a swollen cell." in said
    assert "Do not charge it" in said
    assert "STOP: a swollen cell." in did("condition", tag)


def test_readings_that_cannot_be(refused: Refused, tag: str, tmp_path: Path) -> None:
    for words, arguments in (
        ("What to read is not clear", ("reading", tag)),
        ("What to read is not clear", ("reading", tag, "screws", "--file", "x")),
        ("has no = in it", ("reading", tag, "screws", "2")),
        ("is not measured here", ("reading", tag, "smell", "x=1")),
        ("is not measured here", ("reading", tag, "smell")),
        ("is not a file", ("reading", tag, "--file", str(tmp_path / "none"))),
        ("is not a kind of file", ("reading", tag, "--file", __file__, "--kind", "photograph")),
        ("none of the kinds", ("reading", tag, "--file", __file__)),
    ):
        assert words in refused(2, *arguments)
    assert "no reading with number 9" in refused(3, "reading", tag, "--remove", "9", "--note", "x")
    assert "No battery" in refused(3, "condition", tag, "--pack", "40")


def test_a_drive_is_wiped_verified_certified_and_the_unit_listed(
    did: Did, refused: Refused, tag: str, tmp_path: Path
) -> None:
    said = did("drive", tag, "--model", "NV-512", "--serial", "N-1", "--size", "512", "--type", "NVMe")
    assert "Drive 1: NV-512 N-1, NOT WIPED: no wipe record" in said
    assert "no passed wipe is recorded for: NV-512 N-1" in refused(
        4, "move", tag, "listed", "--open-tasks", "skip", "--reason", "test"
    )
    assert "No wipe of NV-512 N-1 is recorded" in refused(3, "certificate", tag)
    assert "No wipe of NV-512 N-1" in refused(3, "wipe", tag, "--verify", "passed", "--how", "read back")
    said = did("wipe", tag, "purge", "NVMe sanitize, block erase", "--tool", "t", "--tool-version", "2")
    assert said == (
        "Wipe 1 of d1 NV-512 N-1: purge, not verified.\nIt counts once a verification of it passed.\n"
    )
    assert "nothing to certify" in refused(4, "certificate", "d1")
    kept = answer(did, "wipe", "d1", "--verify", "passed", "--how", "read back in full")
    assert (kept["document"], kept["result"], kept["counts"]) == ("wipe", "passed", True)
    assert "Sanitization description            purge\n" in did("certificate", tag)
    assert answer(did, "certificate", "D1")["wipe"]["verification"] == "read back in full"
    for ending in ("pdf", "html", "txt", "json"):
        path = tmp_path / f"wipe.{ending}"
        assert did("certificate", tag, "--to", str(path)) == f"Wrote {path}.\n"
        assert "already" in refused(2, "certificate", tag, "--to", str(path))
    assert (tmp_path / "wipe.pdf").read_bytes().startswith(b"%PDF-")
    assert "N-1" in read_page((tmp_path / "wipe.html").read_text()).texts
    assert json.loads((tmp_path / "wipe.json").read_text())["document"] == "certificate"
    assert "which format" in refused(2, "certificate", tag, "--to", str(tmp_path / "wipe.doc"))
    assert answer(did, "drive", tag)["may_be_listed"] is True
    assert "to listed" in did("move", tag, "listed")


def test_drives_move_to_the_shelf_and_back(did: Did, refused: Refused, tag: str) -> None:
    did("drive", tag, "--serial", "A-1")
    did("drive", tag, "--serial", "B-2", "--from", "a clearance", "--number", "M-7", "--maker", "Invented")
    assert "several drives: d1 A-1, d2 Invented B-2" in refused(2, "wipe", tag, "clear", "overwrite")
    assert "Type 0 if it carries none" in refused(2, "drive", "--move", "d1")
    assert "Drive 1: A-1" in did("drive", "--move", "d1", "--cost", "0")
    assert "media number M-7, from a clearance" in did("drive", tag)
    assert "Drive 1: A-1" in did("drive", tag, "--move", "D1")
    did("drive", tag, "--remove", "d2", "--reason", "sold on its own")
    assert len(answer(did, "drive", tag)["drives"]) == 1
    assert "not a drive's number" in refused(2, "drive", tag, "--move", "1")
    assert "no drive with number 9" in refused(3, "certificate", "d9")
    other = answer(did, "add", "Two")["tag"]
    assert "No drive is recorded" in refused(3, "wipe", other, "clear", "overwrite")


def test_a_unit_goes_on_without_a_wipe_for_a_reason(did: Did, refused: Refused, tag: str) -> None:
    did("drive", tag, "--model", "NV-512")
    said = did("wipe", tag, "--without", "the buyer asked for it")
    wanting = "no passed wipe is recorded for: NV-512"
    assert said == f"Unit {tag} may be listed without ({wanting}): the buyer asked for it\n"
    assert "May be listed without" in did("drive", tag)
    assert "not clear" in refused(2, "wipe", tag)
    assert "not clear" in refused(2, "wipe", tag, "clear", "x", "--without", "y")


def test_grades_and_the_buyers_sheet(did: Did, refused: Refused, tag: str, tmp_path: Path) -> None:
    assert "1. all works" in did("grade")
    assert len(answer(did, "grade")["scale"]) == 7
    said = did("grade", tag, "Lid", "--function", "all", "--looks", "light", "--say", "Two fine marks.")
    assert said == "Lid: function all works, looks light wear. Two fine marks.\n"
    line = answer(did, "grade", tag, "ports", "--untested")
    assert (line["part"], line["tested"], line["function"]) == ("ports", False, None)
    assert "Two fine marks." in did("grade", tag)
    assert answer(did, "grade", tag)["lines"][0]["sentence"] == "Two fine marks."
    assert "is not graded" in refused(2, "grade", tag, "hinge", "--say", "x")
    assert "a sentence must say" in refused(2, "grade", tag, "case", "--looks", "damaged")
    assert "There is no step for looks" in refused(3, "grade", tag, "case", "--looks", "blue")
    assert "Ports: not tested" in did("sheet", tag)
    assert answer(did, "sheet", tag)["document"] == "buyer_sheet"
    path = tmp_path / "sheet.html"
    did("sheet", tag, "--to", str(path))
    assert "Two fine marks." in read_page(path.read_text()).texts
    assert did("grade", tag, "lid", "--clear") == "Nothing is said of lid any more.\n"
    assert "Two fine marks." not in did("sheet", tag)


def test_an_ata_drive_with_a_failing_attribute_is_told(did: Did, tag: str, tmp_path: Path) -> None:
    path = tmp_path / "ata.json"
    path.write_bytes(as_bytes(ata_json(exit_status=8)))
    assert "  act on it: the drive says it is failing\n" in did("reading", tag, "--file", str(path))
