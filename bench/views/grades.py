"""What is said of each part of a unit, and the shop's scale."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.amounts import Instant
from bench.domain.grading import PARTS, Step
from bench.domain.holding import Condition
from bench.views.binder import Query
from bench.views.particulars import particulars


@dataclass(frozen=True, slots=True)
class GradeLine:
    """What is said of one part. A step is None where none was given; `grade_id` None: nothing was said.

    `holds`: whether the unit is still in the condition in which it was said.
    """

    part: str
    label: str
    grade_id: int | None = None
    function: Step | None = None
    looks: Step | None = None
    sentence: str = ""
    tested: bool = False
    person: str = ""
    at_us: Instant | None = None
    holds: bool = True


@dataclass(frozen=True, slots=True)
class GradeSheet:
    """Every part of a unit with its grade, and the scale."""

    unit_id: int
    tag: str
    model: str
    lines: tuple[GradeLine, ...]
    scale: tuple[Step, ...]
    zone: str

    def line(self, part: str) -> GradeLine:
        """What is said of that part."""
        return next(line for line in self.lines if line.part == part)


@dataclass(frozen=True, slots=True)
class _Said:
    """What is said of a part, with the numbers of its steps."""

    grade_id: int
    part: str
    function_step_id: int | None
    looks_step_id: int | None
    sentence: str
    tested: bool
    person: str
    at_us: Instant


_STEPS = "SELECT id AS step_id, side, position, name, meaning FROM grade_step"

# Removed ones too: a grade given once keeps its name.
_EVERY_STEP = Query(Step, _STEPS)

_SCALE = Query(Step, _STEPS + " WHERE removed = 0 ORDER BY side, position, id")

_GRADES = Query(
    _Said,
    """
SELECT grade.id AS grade_id, grade.part, grade.function_step_id, grade.looks_step_id, grade.sentence,
       grade.tested, person.name AS person, grade.at_us
FROM grade JOIN person ON person.id = grade.person_id
WHERE grade.unit_id = :unit_id AND grade.removed = 0 ORDER BY grade.id
""",
)


def read_grades(desk: Desk, unit_id: int) -> GradeSheet:
    """Every part of a unit with what is said of it, and the scale. NotFound when there is no such unit."""
    with desk.store.read() as connection:
        return grades_of(connection, unit_id)


def read_scale(desk: Desk) -> tuple[Step, ...]:
    """The shop's scale, function and looks, each the best first."""
    with desk.store.read() as connection:
        return _SCALE.all(connection)


def grades_of(connection: sqlite3.Connection, unit_id: int) -> GradeSheet:
    """The same as read_grades, within a snapshot that other reads share."""
    unit = particulars(connection, unit_id)
    steps: dict[int | None, Step] = {step.step_id: step for step in _EVERY_STEP.each(connection)}
    said = {one.part: one for one in _GRADES.each(connection, unit_id=unit_id)}
    return GradeSheet(
        unit_id=unit_id,
        tag=unit.tag,
        model=unit.name,
        lines=tuple(
            _line(part, label, said.get(part), steps, unit.condition) for part, label in PARTS.items()
        ),
        scale=_SCALE.all(connection),
        zone=unit.zone,
    )


def _line(
    part: str, label: str, said: _Said | None, steps: Mapping[int | None, Step], held: Condition
) -> GradeLine:
    if said is None:
        return GradeLine(part, label)
    return GradeLine(
        part=part,
        label=label,
        grade_id=said.grade_id,
        function=steps.get(said.function_step_id),
        looks=steps.get(said.looks_step_id),
        sentence=said.sentence,
        tested=said.tested,
        person=said.person,
        at_us=said.at_us,
        holds=held.holds(said.at_us, looks=said.function_step_id is None),
    )
