"""Grades are given, and the shop's scale is kept."""

from __future__ import annotations

import sqlite3

from sqlmodel import col, select

from bench.desk import Desk
from bench.domain.grading import (
    FUNCTION,
    LOOKS,
    PARTS,
    GradeLine,
    GradeSheet,
    Step,
    check_grade,
    check_part,
    check_side,
)
from bench.domain.holding import Condition, condition_of
from bench.domain.text import clean_line, quoted
from bench.domain.typed_fields import TypedFields, read_field
from bench.errors import BadInput, NotFound, Refused
from bench.store.tables import Grade, GradeStep, Unit
from bench.views import grades as reads
from bench.views import unit as unit_reads
from bench.work.change import Change, change
from bench.work.names import tells_if_changed
from bench.work.ordering import place, shift

LONGEST_NAME = 40
LONGEST_SENTENCE = 500


def read_grades(desk: Desk, unit_id: int) -> GradeSheet:
    """Every part of a unit with what is said of it, and the scale. NotFound when there is no such unit."""
    with desk.store.read() as connection:
        return grades_within(connection, unit_id)


def read_scale(desk: Desk) -> tuple[Step, ...]:
    """The shop's scale, function and looks, each the best first."""
    with desk.store.read() as connection:
        return _scale(connection)


def set_grade(
    desk: Desk,
    unit_id: int,
    part: str,
    *,
    function_step_id: int | None = None,
    looks_step_id: int | None = None,
    sentence: str = "",
    tested: bool = True,
) -> GradeLine:
    """Say of one part how it works and how it looks, in place of what was said before; answers the line.

    BadInput when a step below the best has no sentence, or what was not tested is graded for function.
    """
    with change(desk, "grade") as made:
        unit = made.get(Unit, unit_id, "unit")
        line = read_field(
            "sentence", clean_line, sentence, "The sentence", LONGEST_SENTENCE, allow_empty=True
        )
        check_part(part)
        check_grade(
            function=_step_of(made, function_step_id, FUNCTION),
            looks=_step_of(made, looks_step_id, LOOKS),
            sentence=line,
            tested=tested,
        )
        for before in _said_of(made, unit_id, part):
            before.removed = 1
        made.add(
            Grade(
                unit_id=unit_id,
                part=part,
                function_step_id=function_step_id,
                looks_step_id=looks_step_id,
                sentence=line,
                tested=int(tested),
                at_us=made.now_us,
                person_id=desk.person_id,
            )
        )
        made.tells(f"Graded {PARTS[part].casefold()} of {unit.tag}", unit_id=unit_id)
    return read_grades(desk, unit_id).line(part)


def remove_grade(desk: Desk, unit_id: int, part: str) -> None:
    """Say nothing of a part any more. NotFound when nothing was said."""
    with change(desk, "remove grade") as made:
        unit = made.get(Unit, unit_id, "unit")
        said = _said_of(made, unit_id, check_part(part))
        if not said:
            raise NotFound(f"Nothing is said of {PARTS[part].casefold()} of {unit.tag}.", "Grade it first.")
        for row in said:
            row.removed = 1
        made.tells(f"Took the grade of {PARTS[part].casefold()} off {unit.tag}", unit_id=unit_id)


def add_step(desk: Desk, side: str, *, name: str, meaning: str) -> int:
    """A new step at the lower end of the scale for function or for looks; answers its number."""
    with change(desk, "add step") as made:
        alike = _steps(made, check_side(side))
        fields = TypedFields()
        step = GradeStep(
            side=side,
            position=len(alike) + 1,
            name=fields.read("name", _free_name, made, side, name),
            meaning=fields.read("meaning", _meaning, meaning),
        )
        fields.check()
        made.add(step)
        place([*alike, step])
        made.tells(f"Added the step {step.name} for {side}")
        assert step.id is not None
        return step.id


def edit_step(desk: Desk, step_id: int, *, name: str, meaning: str) -> None:
    """Give a step another name or meaning; units graded with it show the new words."""
    with change(desk, "edit step") as made:
        step = made.get(GradeStep, step_id, "step")
        before = step.name
        fields = TypedFields()
        new_name = fields.read("name", _free_name, made, step.side, name, step_id)
        new_meaning = fields.read("meaning", _meaning, meaning)
        fields.check()
        step.name, step.meaning = new_name, new_meaning
        tells_if_changed(made, f"Edited the step {before} for {step.side}")


def reorder_step(desk: Desk, step_id: int, steps: int) -> None:
    """Move a step up (below 0) or down its side of the scale, no further than the ends."""
    with change(desk, "reorder step") as made:
        step = made.get(GradeStep, step_id, "step")
        if shift(_steps(made, step.side), step, steps):
            made.tells(f"Moved the step {step.name} for {step.side}")


def remove_step(desk: Desk, step_id: int) -> None:
    """Take a step out of the scale; units graded with it keep its words. Refused for a side's only step."""
    with change(desk, "remove step") as made:
        step = made.get(GradeStep, step_id, "step")
        alike = _steps(made, step.side)
        if len(alike) == 1:
            raise Refused(f"{step.name} is the only step for {step.side}.", "Edit it instead.")
        step.removed = 1
        place([one for one in alike if one.id != step_id])
        made.tells(f"Removed the step {step.name} for {step.side}")


def grades_within(connection: sqlite3.Connection, unit_id: int) -> GradeSheet:
    """The same as read_grades, within a snapshot that other reads share."""
    unit = unit_reads.particulars(connection, unit_id)
    if unit is None:
        raise NotFound(f"There is no unit with number {unit_id}.", "It may have been taken back.")
    steps = {row["id"]: Step(*row) for row in reads.every_step(connection)}
    held = condition_of(unit["opened_us"], unit["back_us"])
    said = {row["part"]: row for row in reads.grades(connection, unit_id)}
    return GradeSheet(
        unit_id=unit_id,
        tag=unit["tag"],
        model=f"{unit['maker']} {unit['model']}".strip(),
        lines=tuple(_line(part, label, said.get(part), steps, held) for part, label in PARTS.items()),
        scale=_scale(connection),
        zone=unit["zone"],
    )


def _line(
    part: str, label: str, row: sqlite3.Row | None, steps: dict[int, Step], held: Condition
) -> GradeLine:
    if row is None:
        return GradeLine(part, label)
    return GradeLine(
        part=part,
        label=label,
        grade_id=row["id"],
        function=steps.get(row["function_step_id"]),
        looks=steps.get(row["looks_step_id"]),
        sentence=row["sentence"],
        tested=bool(row["tested"]),
        person=row["person"],
        at_us=row["at_us"],
        holds=held.holds(row["at_us"], looks=row["function_step_id"] is None),
    )


def _scale(connection: sqlite3.Connection) -> tuple[Step, ...]:
    return tuple(Step(*row) for row in reads.scale(connection))


def _steps(made: Change, side: str) -> list[GradeStep]:
    statement = select(GradeStep).where(GradeStep.side == side, GradeStep.removed == 0)
    return list(made.session.exec(statement.order_by(col(GradeStep.position), col(GradeStep.id))))


def _step_of(made: Change, step_id: int | None, side: str) -> Step | None:
    if step_id is None:
        return None
    row = made.get(GradeStep, step_id, "step")
    if row.side != side:
        raise BadInput(f"{row.name} is a step for {row.side}, not for {side}.", "Choose one of that side.")
    return Step(step_id, row.side, row.position, row.name, row.meaning)


def _said_of(made: Change, unit_id: int, part: str) -> list[Grade]:
    statement = select(Grade).where(Grade.unit_id == unit_id, Grade.part == part, Grade.removed == 0)
    return list(made.session.exec(statement))


def _free_name(made: Change, side: str, text: str, besides_id: int | None = None) -> str:
    name = clean_line(text, "The step's name", LONGEST_NAME)
    with made.session.no_autoflush:
        alike = _steps(made, side)
    if any(one.name.casefold() == name.casefold() and one.id != besides_id for one in alike):
        raise BadInput(f"There is already a step {quoted(name)} for {side}.", "Give it another name.")
    return name


def _meaning(text: str) -> str:
    return clean_line(text, "The meaning")
