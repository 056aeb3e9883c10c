"""The buyer's sheet in its three forms: honest about what was not tested, literal about names."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from bench.desk import Desk
from bench.domain.grading import NO_CONFORMITY
from bench.reports.buyer_sheet import buyer_html, buyer_json, buyer_text
from bench.views.buyer_sheet import PartChange, read_buyer_sheet
from bench.work.drive_moves import move_drive
from bench.work.drives import add_drive
from bench.work.grades import set_grade
from bench.work.readings import add_reading, read_reading_file
from bench.work.units import add_unit
from bench.work.waivers import list_without
from bench.work.wipes import record_wipe, verify_wipe
from tests.condition_files import as_bytes, ata_json
from tests.reports.markup import read_page
from tests.reports.reading import companions_agree, is_plain, same

HOSTILE = '<i>=x</i> & [b]"修理"'


@pytest.fixture
def sold(desk: Desk) -> Desk:
    """A unit with a wiped and an unwiped drive, two readings, a grade, and odd words."""
    add_unit(desk, maker="Invented", model=HOSTILE, serial="S-1")
    wiped = add_drive(desk, 1, model="NV-512")
    wipe_id = record_wipe(desk, wiped, method="purge", technique="crypto erase").wipe_id
    verify_wipe(desk, wipe_id, result="passed", verification="read back in full")
    add_drive(desk, 1, model="HD-500")
    list_without(desk, 1, HOSTILE)
    for moment, full in (("before", "40"), ("after", "56")):
        add_reading(desk, 1, moment=moment, subject="battery", fields={"design": "57", "full": full})
    add_reading(
        desk, 1, moment="after", subject="keyboard", fields={"keys_tested": "84", "keys_failing": "2"}
    )
    set_grade(desk, 1, "lid", function_step_id=2, looks_step_id=6, sentence=HOSTILE)
    set_grade(desk, 1, "ports", tested=False)
    return desk


TOLD = (
    "Tag 10014, serial number S-1",
    "My workshop, 2026-11-25",
    "NV-512: purge (crypto erase) 2026-11-25, verification passed: read back in full",
    "HD-500: no passed wipe on record",
    f"Listed without: {HOSTILE}",
    "No part is on record as replaced.",
    "Keyboard: 2 keys fail",
    "Drive: not measured",
    "Ports: not tested",
    "Screen: not graded",
    NO_CONFORMITY,
)


def test_the_text_says_it(sold: Desk) -> None:
    text = buyer_text(read_buyer_sheet(sold, 1))
    is_plain(text)
    assert text.startswith(f"Invented {HOSTILE}\n")
    flat = " ".join(text.split())
    assert all(words in flat for words in TOLD)
    row = next(line for line in text.split("\n") if "Full charge" in line)
    assert row.split()[-4:] == ["40.00", "Wh", "56.00", "Wh"]
    assert f"    {HOSTILE}" in text.split("\n")
    assert "works, with limits" in text


def test_the_page_says_the_same(sold: Desk) -> None:
    texts = read_page(buyer_html(read_buyer_sheet(sold, 1))).texts
    assert texts[0] == texts[1] == f"Invented {HOSTILE}"
    assert [words for words in TOLD if words not in texts] == []
    at = texts.index("Full charge")
    assert texts[at + 1 : at + 3] == ["40.00 Wh", "56.00 Wh"]


def test_the_json_is_the_sheet(sold: Desk) -> None:
    sheet = read_buyer_sheet(sold, 1)
    facts = json.loads(buyer_json(sheet))
    same(sheet, facts)
    assert companions_agree(facts) > 5
    assert facts["not_tested"] == list(sheet.not_tested)
    assert facts["found"] == list(sheet.found) == ["Keyboard: 2 keys fail"], (
        "a worn pack that went is no news"
    )
    assert {"subject", "part", "label", "before", "after"} == set(facts["before_after"][0])


def test_parts_say_where_they_came_from(sold: Desk) -> None:
    sheet = read_buyer_sheet(sold, 1)
    parts = (
        PartChange("battery", "B-1", into=True, used=False, at_us=sheet.made_us),
        PartChange("fan", "", into=True, used=True, at_us=sheet.made_us),
        PartChange("card", "", into=False, used=True, at_us=sheet.made_us),
    )
    changed = replace(sheet, parts=parts)
    words = (
        "battery: put in 2026-11-25, serial number B-1",
        "fan: used, from another unit, put in 2026-11-25",
        "card: taken out 2026-11-25",
    )
    assert all(one in buyer_text(changed) for one in words)
    assert set(words) <= set(read_page(buyer_html(changed)).texts)


def test_a_failing_drive_is_told_of_while_it_is_in_the_unit(sold: Desk) -> None:
    failing = as_bytes(ata_json(exit_status=8))
    (reading,) = read_reading_file(sold, 1, moment="before", data=failing)
    told = "Drive, Invented HD-500 HD500-0007: the drive says it is failing"
    assert told in read_buyer_sheet(sold, 1).found
    assert reading.drive_id is not None
    move_drive(sold, reading.drive_id, None, cost_text="0")
    assert told not in read_buyer_sheet(sold, 1).found


def test_a_bare_unit_says_that_nothing_was_done(desk: Desk) -> None:
    add_unit(desk, maker="", model="Bare")
    sheet = read_buyer_sheet(desk, 1)
    text = buyer_text(sheet)
    is_plain(text)
    assert "Before and after" not in text
    assert "No drive is recorded in this unit." in text
    assert text.count("not measured") == 8
    texts = read_page(buyer_html(sheet)).texts
    assert "Grades" not in texts
    assert "Battery: not measured" in texts
