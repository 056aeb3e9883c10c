"""Grades and the scale as text and JSON."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bench.domain.grading import NO_CONFORMITY, SIDES, Step
from bench.reports.plain_tables import one_line, sections, told, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.views.grades import GradeLine, GradeSheet
from bench.views.tables.grades import GRADES


def grades_text(sheet: GradeSheet) -> str:
    """What is said of each part, and the scale's own claim."""
    shown = replace(GRADES, columns=GRADES.columns[:3])
    return sections(
        one_line(f"Grades of {sheet.tag}, {sheet.model}"),
        told(shown, sheet.lines, notes=[_note(line) for line in sheet.lines]),
        wrapped(NO_CONFORMITY),
    )


def grades_json(sheet: GradeSheet) -> str:
    """The same as a JSON document."""
    return json_text("grades", facts_of(sheet, sheet.zone))


def _note(line: GradeLine) -> str:
    again = "" if line.holds else "To be graded again: it was opened or came back since. "
    return f"{again}{line.sentence}".rstrip()


def scale_text(scale: Sequence[Step]) -> str:
    """The shop's scale, function and looks, the best first."""
    return sections(
        *(
            under(
                side.capitalize(),
                "\n".join(
                    wrapped(f"{step.position}. {step.name}: {step.meaning}", start=2, indent=5)
                    for step in scale
                    if step.side == side
                ),
            )
            for side in SIDES
        ),
        wrapped(NO_CONFORMITY),
    )
