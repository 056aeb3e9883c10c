"""One unit's sheet as text and JSON: particulars, tasks, lists, and what a bad cell asks for."""

from __future__ import annotations

import itertools
import json
from dataclasses import replace

from bench.desk import Desk
from bench.domain.safety import AFTER_A_BAD_CELL, CLOSING, OPENING, OPENING_ITEMS
from bench.reports import SHAPES
from bench.reports.unit_sheet import unit_json, unit_text
from bench.views.unit import read_unit
from bench.work.safety import go_on_without, report_cell, tick
from bench.work.timers import skip_task
from tests.reports.reading import companions_agree, is_plain, same
from tests.work.time_rows import first_task


def test_the_json_read_back_is_the_sheet(busy: Desk) -> None:
    for unit_id in (1, 2):
        sheet = read_unit(busy, unit_id)
        facts = json.loads(unit_json(sheet))
        same(sheet, facts)
        assert (facts["document"], facts["shape"]) == ("unit", SHAPES["unit"])
        assert companions_agree(facts) > 10


def test_the_text_tells_the_particulars_as_typed(busy: Desk) -> None:
    text = unit_text(read_unit(busy, 1))
    is_plain(text)
    assert text.startswith(
        "Unit 10014, @Invented [/] One\n\nStage         received, since Wed 25 Nov 10:00\n"
    )
    assert "first line\n=second line [b]\n" in text
    for words in (
        "Route         full refurbish",
        'Serial        =HYPERLINK("x")\n',
        "Due           2026-11-24",
        "Price paid    120.50 EUR",
        "Hands-on      1 h 25",
        "Consumables   0.00 EUR",
    ):
        assert words in text
    assert "On hold" not in text


def test_the_text_tells_how_each_task_stands(busy: Desk) -> None:
    skip_task(busy, first_task(busy, 1, skip=1), "not [needed]")
    lines = unit_text(read_unit(busy, 1)).split("\n")

    def of(task: str) -> tuple[str, str]:
        return next(pair for pair in itertools.pairwise(lines) if pair[0].startswith(task))

    assert of(" 1  ✓  look over and note faults")[0].endswith("  received   38/15 min")
    wipe, since = of(" 2  ►  wipe the drive, keep the record")
    assert wipe.endswith("inspected       runs")
    assert since == "    +Bo; 'B', [red] since Wed 25 Nov 11:20"
    assert of("13  ·  pack and hand over")[0].endswith(" 0/15 min")
    skipped, reason = of("11  ×  readings after, and grade")
    assert "skipped" in skipped
    assert reason == "    not [needed]"


def test_a_held_unit_says_why_and_since_when(busy: Desk) -> None:
    text = unit_text(read_unit(busy, 2))
    assert 'On hold       -2+3 waits for "a part", then (since Thu 26 Nov 07:20)' in text
    assert "Serial" not in text
    assert "Price paid" not in text


def test_ticks_name_who_and_when(busy: Desk) -> None:
    tick(busy, 1, OPENING, list(OPENING_ITEMS)[:2])
    go_on_without(busy, 1, CLOSING, "shown to a [customer]")
    text = unit_text(read_unit(busy, 1))
    is_plain(text)
    assert "Opening checklist:\n  [x] Shut down, charger out, Ada Thu 26 Nov 07:21\n" in text
    assert "  [ ] Battery disconnected\n" in text
    assert "Closing checklist:\n  gone on without it: shown to a [customer]\n" in text


def test_a_bad_cell_and_a_connected_battery_are_loud(busy: Desk) -> None:
    sheet = read_unit(busy, 1)
    loud = replace(sheet, safety=replace(sheet.safety, lid_off=True, battery_connected=True, alarm=True))
    assert "COVER OFF, BATTERY CONNECTED.\n" in unit_text(loud)
    apart = replace(sheet, safety=replace(sheet.safety, lid_off=True, battery_connected=False))
    assert "Cover off, battery disconnected.\n" in unit_text(apart)
    report_cell(busy, 1, "swollen")
    text = unit_text(read_unit(busy, 1))
    is_plain(text)
    assert "STOP: a swollen cell.\n" in text
    assert all(" ".join(line.split()) in " ".join(text.split()) for line in AFTER_A_BAD_CELL)


def test_screws_notes_and_a_unit_without_tasks(busy: Desk) -> None:
    sheet = read_unit(busy, 1)
    out = replace(sheet, safety=replace(sheet.safety, screws_out=11))
    assert "Screws: 11 out, not counted back yet.\n" in unit_text(out)
    noted = replace(sheet.safety.opening[0], person="Ada", at_us=sheet.added_us, note="one [left] over")
    back = replace(sheet, safety=replace(sheet.safety, screws_out=11, screws_back=10, opening=(noted,)))
    assert "Screws: 11 out, 10 back.\n" in unit_text(back)
    assert "Ada Wed 25 Nov 10:00 (one [left] over)\n" in unit_text(back)
    bare = replace(sheet, tasks=(), note="")
    assert "\n\nNo tasks.\n\nCover on" in unit_text(bare)
    is_plain(unit_text(bare))
