"""The demo's readings before and after, and its grades, as rows."""

from __future__ import annotations

import json
from dataclasses import dataclass, field

from bench.domain.condition.fields import BEFORE, read_fields, subject_named
from bench.domain.condition.reading_files import TYPED
from bench.domain.grading import FUNCTION, LOOKS, PARTS
from bench.domain.tags import tag_from_number
from bench.store.demo_trade import DemoReading
from bench.store.tables import Grade, Reading
from bench.work.demo.drives import LOOKED_OVER, READ_AFTER, DriveRows
from bench.work.demo.ground import Ground, Line
from bench.work.demo.story import Moments


@dataclass
class ConditionRows:
    """Readings and grades, the earliest first, and the journal's lines about them."""

    readings: list[Reading] = field(default_factory=list)
    grades: list[Grade] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)


def condition_rows(ground: Ground, moments: Moments, drives: DriveRows) -> ConditionRows:
    """Rows of all that was measured and graded: when the unit was looked over, and at its readings after."""
    rows = ConditionRows()
    _add_readings(rows, ground, moments, drives)
    _add_grades(rows, ground, moments)
    rows.readings.sort(key=lambda reading: reading.at_us)
    rows.grades.sort(key=lambda grade: grade.at_us)
    return rows


def figures_of(one: DemoReading) -> dict[str, object]:
    """What is kept of a reading as typed. BadInput where the file holds what no person could type."""
    typed = dict(pair.strip().split("=", 1) for pair in one.figures.split(";"))
    return read_fields(subject_named(one.subject), typed)


def _add_readings(rows: ConditionRows, ground: Ground, moments: Moments, drives: DriveRows) -> None:
    came_with = {
        ground.unit_ids[drive.came_with]: number
        for number, drive in enumerate(ground.demo.trade.drives, start=1)
        if drive.came_with
    }
    for one in ground.demo.trade.readings:
        before, unit_id = one.moment == BEFORE, ground.unit_ids[one.unit]
        moment = moments.ended_one_of(one.unit, LOOKED_OVER if before else READ_AFTER)
        of_drive = one.subject == "drive"
        rows.readings.append(
            Reading(
                unit_id=unit_id,
                drive_id=drives.in_unit(unit_id, one.moment, came_with) if of_drive else None,
                moment=one.moment,
                subject=one.subject,
                source=TYPED,
                figures=json.dumps(figures_of(one), ensure_ascii=False),
                note=one.note,
                at_us=moment.at_us,
                person_id=ground.people[moment.who],
            )
        )
        label = subject_named(one.subject).label.casefold()
        words = f"Read {label} of {tag_from_number(one.unit)} {one.moment} the work"
        rows.lines.append(Line(moment.at_us, moment.who, "reading", words, unit_id))


def _add_grades(rows: ConditionRows, ground: Ground, moments: Moments) -> None:
    steps = ground.terms.steps
    for one in ground.demo.trade.grades:
        moment, unit_id = moments.ended_one_of(one.unit, READ_AFTER), ground.unit_ids[one.unit]
        rows.grades.append(
            Grade(
                unit_id=unit_id,
                part=one.part,
                function_step_id=steps[FUNCTION, one.function] if one.function else None,
                looks_step_id=steps[LOOKS, one.looks] if one.looks else None,
                sentence=one.sentence,
                tested=int(one.tested == "yes"),
                at_us=moment.at_us,
                person_id=ground.people[moment.who],
            )
        )
        words = f"Graded {PARTS[one.part].casefold()} of {tag_from_number(one.unit)}"
        rows.lines.append(Line(moment.at_us, moment.who, "grade", words, unit_id))
