"""Grades are given, and the shop's scale is kept."""

from __future__ import annotations

from collections.abc import Collection
from typing import NamedTuple

from sqlmodel import col, select

from bench.desk import Desk
from bench.domain.grading import (
    FUNCTION,
    LOOKS,
    PARTS,
    Step,
    check_grade,
    check_part,
    check_side,
)
from bench.domain.text import clean_line, quoted
from bench.domain.typed import TypedFields, read_field
from bench.errors import BadInput, NotFound, Refused
from bench.store.tables import Grade, GradeStep, Unit
from bench.views.grades import GradeLine, read_grades
from bench.work.change import Change, change
from bench.work.names import tells_if_changed
from bench.work.ordering import place, shift

LONGEST_NAME = 40
LONGEST_SENTENCE = 500


class Said(NamedTuple):
    """What is said of a part."""

    function_step_id: int | None
    looks_step_id: int | None
    sentence: str
    tested: bool


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
        said = Said(function_step_id, looks_step_id, line, tested)
        _say(made, unit_id, part, said)
        made.tells(f"Graded {PARTS[part].casefold()} of {unit.tag}", unit_id=unit_id)
    return read_grades(desk, unit_id).line(part)


def grade_the_rest(
    desk: Desk,
    unit_id: int,
    *,
    function_step_id: int | None,
    looks_step_id: int | None,
    sentence: str = "",
    parts: Collection[str] = (),
) -> tuple[str, ...]:
    """Say the same of every part of which nothing is said that still holds; answers those parts' names.

    `parts`: of these instead, whatever was said of them. Each passes what `set_grade` asks. It is one act,
    undone as one. Refused where every part is graded.
    """
    with change(desk, "grade") as made:
        unit = made.get(Unit, unit_id, "unit")
        meant = {check_part(part) for part in parts}
        rest = [
            one
            for one in read_grades(desk, unit_id).lines
            if (one.part in meant if meant else one.grade_id is None or not one.holds)
        ]
        if not rest:
            raise Refused(f"Every part of {unit.tag} is graded.", "Grade one part again.")
        line = read_field(
            "sentence", clean_line, sentence, "The sentence", LONGEST_SENTENCE, allow_empty=True
        )
        check_grade(
            function=_step_of(made, function_step_id, FUNCTION),
            looks=_step_of(made, looks_step_id, LOOKS),
            sentence=line,
            tested=True,
        )
        for part in rest:
            _say(made, unit_id, part.part, Said(function_step_id, looks_step_id, line, tested=True))
        named = tuple(one.label for one in rest)
        made.tells(f"Graded {len(named)} parts of {unit.tag} alike: {', '.join(named)}", unit_id=unit_id)
    return named


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


def _say(made: Change, unit_id: int, part: str, said: Said) -> None:
    """Say it of a part, in place of what was said before."""
    for before in _said_of(made, unit_id, part):
        before.removed = 1
    made.add(
        Grade(
            unit_id=unit_id,
            part=part,
            function_step_id=said.function_step_id,
            looks_step_id=said.looks_step_id,
            sentence=said.sentence,
            tested=int(said.tested),
            at_us=made.now_us,
            person_id=made.desk.person_id,
        )
    )


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
