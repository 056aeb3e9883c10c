"""Readings put side by side: which belong to one part, which is the newest, what each pack's choice is."""

from __future__ import annotations

from typing import Any

from bench.domain.condition.battery_choice import KEEP, SELL_AS_IS, STOP
from bench.domain.condition.readings import (
    ReadingLine,
    SubjectLines,
    battery_choices,
    by_subject,
    reading_line,
)


def reading(moment: str, subject: str = "battery", drive: str = "", **figures: Any) -> ReadingLine:
    return reading_line(
        reading_id=1,
        moment=moment,
        subject=subject,
        source="typed",
        at_us=0,
        person="Ada",
        drive_id=None,
        drive=drive,
        note="",
        figures=figures,
    )


def only(*newest_first: ReadingLine) -> SubjectLines:
    (lines,) = [lines for lines in by_subject(newest_first) if lines.measured]
    return lines


def test_every_subject_is_there_measured_or_not() -> None:
    lines = by_subject([reading("before", "screws", screws_missing=0)])
    assert [one.label for one in lines if one.measured] == ["Screws"]
    assert len(lines) == 8
    assert lines[0].subject == "battery"


def test_the_newest_of_each_figure_counts_and_older_ones_fill_in() -> None:
    lines = only(
        reading("after", full_uwh=95, name="BAT0"),
        reading("before", cycles=312, name="BAT0"),
        reading("before", cycles=300, full_uwh=50, name="BAT0"),
    )
    (part,) = lines.parts
    assert (part.part, part.before) == ("BAT0", {"cycles": 312, "name": "BAT0", "full_uwh": 50})
    assert part.latest == {"cycles": 312, "name": "BAT0", "full_uwh": 95}


def test_a_reading_that_names_no_part_is_of_the_only_one_named() -> None:
    (part,) = only(reading("after", full_uwh=95, name="BAT0"), reading("before", full_uwh=50)).parts
    assert (part.part, part.before["full_uwh"], part.after["full_uwh"]) == ("BAT0", 50, 95)


def test_of_several_named_parts_none_is_guessed() -> None:
    lines = only(
        reading("before", "drive", drive="B 2", used_percent=9),
        reading("before", "drive", drive="A 1", used_percent=7),
        reading("before", "drive", used_percent=3),
    )
    assert [(part.part, part.before["used_percent"]) for part in lines.parts] == [
        ("B 2", 9),
        ("A 1", 7),
        ("", 3),
    ]


def test_each_pack_has_its_own_choice() -> None:
    lines = only(
        reading("before", name="BAT1", full_uwh=50, design_uwh=100, fitted="glued in"),
        reading("before", name="BAT0", full_uwh=90, design_uwh=100),
    )
    assert [choice.choice for choice in battery_choices(lines)] == [SELL_AS_IS, KEEP]
    assert battery_choices(by_subject([])[0]) == ()


def test_swelling_before_is_over_once_a_flat_pack_is_in() -> None:
    swollen = reading("before", full_uwh=90, design_uwh=100, swelling="yes")
    assert [one.choice for one in battery_choices(only(swollen))] == [STOP]
    fresh = reading("after", full_uwh=99, design_uwh=100, swelling="no")
    assert [one.choice for one in battery_choices(only(fresh, swollen))] == [KEEP]
    unseen = reading("after", full_uwh=99, design_uwh=100)
    assert [one.choice for one in battery_choices(only(unseen, swollen))] == [STOP]


def test_heat_before_and_after_is_compared() -> None:
    lines = only(
        reading("after", "heat", load_tenths_c=710, room_tenths_c=220, power_mw=45_000),
        reading("before", "heat", load_tenths_c=920, room_tenths_c=240, power_mw=45_000),
    )
    assert "Cooler per watt" in lines.parts[0].compared[0].words
