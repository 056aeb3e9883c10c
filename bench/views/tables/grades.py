"""A unit's grades as a table."""

from __future__ import annotations

from bench.domain.grading import Step
from bench.views.columns import Column, Table
from bench.views.grades import GradeLine
from bench.views.kinds import SAID, UNKNOWN, Said


def _step(step: Step | None) -> Said:
    if step is None:
        return Said(UNKNOWN, "muted")
    return Said(step.name, "good" if step.position == 1 else "warning")


def _works(line: GradeLine) -> Said:
    if line.grade_id is not None and not line.tested:
        return Said("not tested", "warning")
    return _step(line.function)


def _sentence(line: GradeLine) -> Said:
    if line.grade_id is None:
        return Said("not graded", "muted")
    if line.holds:
        return Said(line.sentence)
    return Said(f"! grade again: {line.sentence}".rstrip(": "), "alert")


GRADES = Table[GradeLine](
    "grades",
    "Parts",
    (
        Column("Part", "label", width=19),
        Column("Works", _works, SAID, 12, grow=1),
        Column("Looks", lambda line: _step(line.looks), SAID, 12, grow=1),
        Column("In a sentence", _sentence, SAID, 18, grow=4),
    ),
    key="part",
)
