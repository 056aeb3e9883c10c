"""The sheets of condition, drives and grades as text and JSON."""

from __future__ import annotations

import json

import pytest

from bench.desk import Desk
from bench.domain.grading import FUNCTION, LOOKS, NO_CONFORMITY
from bench.domain.safety import AFTER_A_BAD_CELL
from bench.reports.condition_sheet import (
    choice_text,
    condition_json,
    condition_text,
    grades_json,
    grades_text,
    scale_text,
)
from bench.reports.drive_sheet import drives_json, drives_text
from bench.views.condition import read_condition, weigh_battery
from bench.views.drives import read_drives
from bench.views.grades import read_grades, read_scale
from bench.work.drives import add_drive
from bench.work.grades import set_grade
from bench.work.readings import add_reading, read_reading_file
from bench.work.units import add_unit
from bench.work.waivers import list_without
from bench.work.wipes import record_wipe, verify_wipe
from tests.clocks import HandSetClock
from tests.condition_files import UEVENT, as_bytes, ata_json, attribute
from tests.reports.reading import companions_agree, is_plain, same

HOSTILE = "[b]=x[/b], 修理; 'q'"


@pytest.fixture
def measured(desk: Desk, clock: HandSetClock) -> Desk:
    """One unit with readings of every kind before and some after, and odd words in them."""
    unit_id = add_unit(desk, maker="@Invented", model=HOSTILE).unit_id
    read_reading_file(desk, unit_id, moment="before", data=UEVENT.replace("=312", "=99999").encode())
    failing = attribute(5, HOSTILE, 12, value=3, worst=3)
    read_reading_file(desk, unit_id, moment="before", data=as_bytes(ata_json(failing, exit_status=24)))
    heat = {"room": "24", "load": "92", "power": "45"}
    add_reading(desk, unit_id, moment="before", subject="heat", fields=heat, note="one\ntwo")
    clock.advance(minutes=90)
    cooler = {"room": "22", "load": "71", "power": "45"}
    add_reading(desk, unit_id, moment="after", subject="heat", fields=cooler)
    return desk


def test_the_condition_read_back_is_the_sheet(measured: Desk) -> None:
    sheet = read_condition(measured, 1)
    facts = json.loads(condition_json(sheet))
    same(sheet, facts)
    assert facts["document"] == "condition"
    assert facts["not_measured"] == list(sheet.not_measured)
    assert companions_agree(facts) == 4
    drive = next(one for one in facts["subjects"] if one["subject"] == "drive")
    assert drive["before"][0]["figures"]["attributes"][0]["raw"] == 12


def test_the_text_tells_readings_verdicts_and_what_was_left_out(measured: Desk) -> None:
    sheet = read_condition(measured, 1)
    text = condition_text(sheet)
    is_plain(text)
    flat = " ".join(text.split())
    for words in (
        "before, BAT0: power supply text, Ada Wed 25 Nov 10:00 (no. 1)",
        "Full charge 51.30 Wh",
        "OK: 90.0 % of design",
        "Left out of the file: CYCLE_COUNT 99999 cannot be.",
        f"act on it: attribute 5 {HOSTILE}: 3, threshold 10",
        "act on it: the drive says it is failing",
        f"state it: attribute 5 {HOSTILE}: 12 sectors",
        "before against after OK: Cooler per watt: 1.51 → 1.09 K/W",
        "one ⏎ two",
        "Battery: keep. 90.0 % of design, limit 80 %.",
        "Not measured: Memory test, Screen, Ports, Keyboard, Screws.",
    ):
        assert words in flat, words
    assert "NVM Express" not in text


def test_the_definitions_are_one_option_away(measured: Desk) -> None:
    text = condition_text(read_condition(measured, 1), why=True)
    is_plain(text)
    flat = " ".join(text.split())
    assert "[smartctl(8), EXIT STATUS]" in flat
    assert "JCGM 100:2008" in flat
    assert "is kept. [common practice, no source]" in flat


def test_a_swollen_cell_stands_on_top(measured: Desk) -> None:
    add_reading(measured, 1, moment="after", subject="battery", fields={"swelling": "yes"})
    text = condition_text(read_condition(measured, 1))
    is_plain(text)
    assert text.split("\n")[2] == "STOP: a swollen cell."
    flat = " ".join(text.split())
    assert all(line in flat for line in AFTER_A_BAD_CELL)
    assert "Battery: stop." in flat


def test_what_replacing_costs_is_shown_line_by_line(measured: Desk) -> None:
    add_reading(measured, 1, moment="after", subject="battery", fields={"design": "57", "full": "40"})
    (choice,) = weigh_battery(measured, 1, pack_text="40", gain_text="60", fitted="glued in")
    text = choice_text(choice, "EUR", why=True)
    assert "Battery: replace. The sale gains more than replacing costs." in text
    assert "  pack: 40.00 EUR\n  60 min at the bench: 0.00 EUR\n  risk of a glued pack: 8.00 EUR\n" in text
    assert "in all 48.00 EUR; the sale gains 60.00 EUR" in text
    assert "no metal blades" in text
    (unknown,) = weigh_battery(measured, 1, pack_text="40")
    assert "the sale gains not given" in choice_text(unknown, "EUR")


def test_drives_and_their_wipes(measured: Desk) -> None:
    drive_id = read_drives(measured, 1).drives[0].drive_id
    add_drive(measured, 1, model=HOSTILE, media_number="M-7", came_from="a clearance", size_text="256")
    failed = record_wipe(measured, drive_id, method="clear", technique="overwrite, one pass").wipe_id
    verify_wipe(measured, failed, result="failed", verification="read back")
    again = record_wipe(measured, drive_id, method="purge", technique="x", tool="t", tool_version="2").wipe_id
    sheet = read_drives(measured, 1)
    text = drives_text(sheet)
    is_plain(text)
    assert "NOT WIPED: purge, not verified" in text
    assert "It cannot be listed until" in text
    assert f"{HOSTILE}, NOT WIPED: no wipe record" in text
    assert "256 GB, media number M-7, from a clearance" in text
    verify_wipe(measured, again, result="passed", verification="read back")
    list_without(measured, 1, "the buyer asked for it")
    sheet = read_drives(measured, 1)
    text = drives_text(sheet)
    is_plain(text)
    assert "Drive 1: Invented HD-500 HD500-0007, wiped" in text
    flat = " ".join(text.split())
    assert "purge, x with t 2, Ada Wed 25 Nov 11:30; passed: read back, Ada" in flat
    assert "clear, overwrite, one pass, Ada Wed 25 Nov 11:30; failed: read back" in flat
    assert "May be listed without: the buyer asked for it (Ada Wed 25 Nov 11:30)" in flat
    facts = json.loads(drives_json(sheet))
    same(sheet, facts)
    assert [drive["wiped"] for drive in facts["drives"]] == [True, False]
    assert facts["may_be_listed"] is True
    shelf = drives_text(read_drives(measured, None))
    assert shelf == "Drives on the shelf\n\nNone recorded.\n"


def test_grades_and_the_scale(measured: Desk) -> None:
    best = {side: next(one for one in read_scale(measured) if one.side == side) for side in (FUNCTION, LOOKS)}
    set_grade(
        measured,
        1,
        "lid",
        function_step_id=best[FUNCTION].step_id,
        looks_step_id=best[LOOKS].step_id,
        sentence=HOSTILE,
    )
    set_grade(measured, 1, "ports", tested=False)
    set_grade(measured, 1, "case", sentence="Warm.")
    sheet = read_grades(measured, 1)
    text = grades_text(sheet)
    is_plain(text)
    lines = text.split("\n")
    assert any(line.split("  ")[0] == "Lid" and "all works" in line for line in lines)
    assert f"    {HOSTILE}" in lines
    assert any(line.startswith("Ports") and "not tested" in line for line in lines)
    assert any(line.startswith("Case") and line.endswith("–") for line in lines)
    assert any(line.startswith("Screen") and line.count("–") == 2 for line in lines)
    assert NO_CONFORMITY in " ".join(text.split())
    same(sheet, json.loads(grades_json(sheet)))
    scale = scale_text(read_scale(measured))
    is_plain(scale)
    assert "Function\n  1. all works: Everything that was tested did what it should." in scale
