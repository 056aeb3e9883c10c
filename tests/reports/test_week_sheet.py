"""The week sheet: text, CSV and JSON say the same, and each can be added up again."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace

from bench.desk import Desk
from bench.domain.money import show_money
from bench.reports import SHAPES
from bench.reports.week_sheet import CSV_COLUMNS, week_csv, week_json, week_text
from bench.views.week import WeekSheet, read_week
from tests.clocks import HandSetClock
from tests.reports.conftest import BO, SHOP
from tests.reports.reading import companions_agree, instant_of, is_plain, same
from tests.reports.trading import trade

HOURS = ("hands_on_us", "machine_us")


def rows_of(sheet: WeekSheet) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(week_csv(sheet), newline="")))


def test_the_json_read_back_is_the_sheet(busy: Desk) -> None:
    sheet = read_week(busy)
    facts = json.loads(week_json(sheet))
    same(sheet, facts)
    assert (facts["hands_on_us"], facts["machine_us"]) == (sheet.hands_on_us, sheet.machine_us)
    assert sum(entry["in_week_us"] for entry in facts["entries"]) == sheet.hands_on_us + sheet.machine_us
    assert companions_agree(facts) > 50


def test_the_shape_of_the_json_is_a_promise(busy: Desk) -> None:
    facts = json.loads(week_json(read_week(busy)))
    assert (facts["document"], facts["shape"]) == ("week", SHAPES["week"])
    hours = {"hands_on_us", "hands_on_minutes", "machine_us", "machine_minutes"}
    assert set(facts) == hours | {
        *("document", "shape", "week", "shop", "currency", "zone", "read_us", "read_local"),
        *("days", "stages", "people", "earlier", "sold", "earned", "repairs", "estimates", "entries"),
    }
    rates = {"units", "margin_minor", "margin_at_most_minor", "incomplete", "hands_on_us", "hands_on_minutes"}
    own = {"name", "per_hour_minor", "per_spent_hour_minor", "spent_us", "spent_minutes"}
    assert set(facts["earned"]) == rates | own
    assert set(facts["days"][0]) == hours | {"day"}
    assert set(facts["stages"][0]) == hours | {"stage"}
    assert set(facts["people"][0]) == hours | {"person_id", "person"}
    assert set(facts["earlier"][0]) == hours | {"week"}
    assert set(facts["estimates"][0]) == {
        *("task", "count", "estimate_minutes", "median_us", "median_minutes", "p80_us", "p80_minutes"),
        *("week_us", "week_minutes", "route_task_ids"),
    }
    assert set(facts["entries"][0]) == {
        *("entry_id", "task_id", "task", "unit_id", "tag", "stage", "person_id", "person", "hands_on"),
        *("started_us", "started_local", "stopped_us", "stopped_local", "corrected"),
        *("in_week_us", "in_week_minutes"),
    }


def test_the_csv_adds_up_to_its_total_in_every_direction(busy: Desk) -> None:
    sheet = read_week(busy)
    rows = rows_of(sheet)
    assert tuple(rows[0]) == CSV_COLUMNS
    for column, total in zip(HOURS, (sheet.hands_on_us, sheet.machine_us), strict=True):
        for kind in ("total", "day", "stage", "person", "entry"):
            assert sum(int(row[column]) for row in rows if row["row"] == kind) == total > 0


def test_the_csv_read_back_is_the_sheet(busy: Desk) -> None:
    sheet = read_week(busy)
    rows = rows_of(sheet)
    total = rows[0]
    assert (total["row"], total["week"], total["zone"]) == ("total", "2026-W48", "Europe/Berlin")
    assert (total["read_us"], instant_of(total["read_local"])) == (
        str(sheet.read_us),
        sheet.read_us // 10**6 * 10**6,
    )
    assert total["shop"] == f"'{SHOP}"
    days = [row for row in rows if row["row"] == "day"]
    assert [(row["day"], int(row["hands_on_us"])) for row in days] == [
        (line.day.isoformat(), line.hands_on_us) for line in sheet.days
    ]
    stages = {(row["stage"], row["day"]): row for row in rows if row["row"] == "stage"}
    for stage in sheet.stages:
        for day, hands_on_us, machine_us in zip(
            sheet.week.days(), stage.hands_on_us, stage.machine_us, strict=True
        ):
            row = stages.pop((stage.stage, day.isoformat()), None)
            shown = (0, 0) if row is None else tuple(int(row[column]) for column in HOURS)
            assert shown == (hands_on_us, machine_us)
    assert not stages
    earlier = [row for row in rows if row["row"] == "earlier"]
    assert [row["week"] for row in earlier] == [str(line.week) for line in sheet.earlier]
    entries = [row for row in rows if row["row"] == "entry"]
    assert [(row["entry_id"], row["started_us"], row["stopped_us"], row["corrected"]) for row in entries] == [
        (
            str(line.entry_id),
            str(line.started_us),
            "" if line.stopped_us is None else str(line.stopped_us),
            str(line.corrected).lower(),
        )
        for line in sheet.entries
    ]
    (estimate,) = [row for row in rows if row["row"] == "estimate"]
    (line,) = sheet.estimates
    assert (estimate["task"], estimate["count"], estimate["median_us"], estimate["estimate_minutes"]) == (
        line.task,
        "1",
        str(line.median_us),
        str(line.estimate_minutes),
    )


def test_what_was_sold_is_the_same_in_all_three(desk: Desk, clock: HandSetClock) -> None:
    trade(desk, clock)
    sheet = read_week(desk)
    (sold,) = sheet.sold
    facts = json.loads(week_json(sheet))
    same(sheet, facts)
    assert facts["earned"]["margin_minor"] == facts["sold"][0]["margin_minor"] == sold.margin_minor != 0
    assert facts["earned"]["per_hour_minor"] == facts["sold"][0]["per_hour_minor"] == sold.per_hour_minor
    assert companions_agree(facts["earned"]) == 2
    rows = [row for row in rows_of(sheet) if row["row"] in ("total", "sold")]
    assert {row["margin_minor"] for row in rows} == {str(sold.margin_minor)}
    assert {row["currency"] for row in rows} == {"EUR"}
    assert [row["model"] for row in rows] == ["", f"'{sold.model}"]
    text = week_text(sheet)
    is_plain(text)
    assert sold.per_hour_minor is not None
    assert text.count(show_money(sold.margin_minor, "EUR")) == 3  # the unit; all of them, twice
    assert text.count(f"  {show_money(sold.per_hour_minor, 'EUR')}\n") == 3
    assert "by all hours of the week" in text


def test_a_spreadsheet_runs_nothing_of_it(busy: Desk) -> None:
    cells = [cell for row in csv.reader(io.StringIO(week_csv(read_week(busy)), newline="")) for cell in row]
    assert f"'{BO}" in cells
    assert not [cell for cell in cells if cell[:1] in "=+-@" and cell]


def test_the_text_is_plain_and_tells_every_part(busy: Desk) -> None:
    sheet = read_week(busy)
    text = week_text(sheet)
    is_plain(text)
    assert text.startswith("Week 2026-W48, Mon 23 Nov to Sun 29 Nov 2026\n=Shop, ")
    for words in (
        "2026-11-25    14.1 h        12.7 h",  # 38 + 47 + 760 minutes; 760
        "total         21.4 h        20.0 h",  # and 440; 441
        "Hands-on, by stage",
        "Machine time, by stage",
        "Hours by person",
        "2026-W47                   0 h           0 h",
        "look over and note faults     1  15 min  38 min  38 min",
        "–running",
    ):
        assert words in text, words
    for entry in sheet.entries:
        assert any(
            line.split(" ")[:3][-1] == str(entry.entry_id) or line.startswith(f"{entry.entry_id} ")
            for line in text.split("\n")
        )


def test_hours_in_the_text_are_those_of_the_sheet(busy: Desk) -> None:
    """Each day's line of the text, read back, is within half a tenth of an hour of the microseconds."""
    sheet = read_week(busy)
    lines = week_text(sheet).split("Hours by day\n")[1].split("\n\n")[0].split("\n")[1:]
    shown = [tuple(float(word) for word in line.split()[1:] if word != "h") for line in lines]
    exact = [(day.hands_on_us, day.machine_us) for day in sheet.days]
    exact.append((sheet.hands_on_us, sheet.machine_us))
    for hours, us in zip(shown, exact, strict=True):
        assert all(abs(a - b / 3_600_000_000) <= 0.05 for a, b in zip(hours, us, strict=True))


def test_an_empty_week_has_its_days_and_nothing_else(desk: Desk) -> None:
    sheet = read_week(desk)
    text = week_text(sheet)
    is_plain(text)
    assert "total            0 h           0 h" in text
    assert "by stage" not in text
    assert "Entries" not in text
    assert {row["row"] for row in rows_of(sheet)} == {"total", "day", "earlier"}
    same(sheet, json.loads(week_json(sheet)))


def test_control_characters_written_by_another_program_do_not_reach_the_terminal(busy: Desk) -> None:
    sheet = replace(read_week(busy), shop="Shop\x1b]0;x\x07\nnext")
    is_plain(week_text(sheet))
    assert "\x1b" not in week_json(sheet)
    same(sheet, json.loads(week_json(sheet)))
