"""What is wanting before a unit is listed or sold, and what of it a person has answered for."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from sqlmodel import Session, col, func, select

from bench.domain.condition.fields import AFTER, SUBJECTS
from bench.domain.grading import PARTS
from bench.domain.holding import GRADE, NO_DRIVE, READING, TEST, WIPE, Condition, condition_of, is_test
from bench.store.tables import Grade, Reading, Unit
from bench.work.lookups import stages_in_order, tasks_in_order
from bench.work.wiped import has_drive, not_wiped, reasons_of


class Wanting(NamedTuple):
    """One kind of what is wanting, of `domain.holding.MATTERS`, and what of it in words."""

    matter: str
    words: str


def wanting(session: Session, unit: Unit) -> tuple[Wanting, ...]:
    """Everything that is wanting and that nobody has answered for, in the order of `MATTERS`."""
    answered = answered_for(session, unit)
    return tuple(one for one in _wanting(session, unit) if one.matter not in answered)


def answered_for(session: Session, unit: Unit) -> frozenset[str]:
    """The matters for which a reason, or that no drive is in it, was said of the unit as it is now."""
    held = condition_of(unit.opened_us, unit.back_us)
    return frozenset(
        matter
        for reason in reasons_of(session, unit.id)
        for matter in reason.covers.split()
        if held.still_answers(matter, reason.at_us)
    )


def _wanting(session: Session, unit: Unit) -> Iterable[Wanting]:
    unwiped = not_wiped(session, unit.id)
    if unwiped:
        names = "; ".join(f"{drive.model} {drive.serial}".strip() for drive in unwiped)
        yield Wanting(WIPE, f"no passed wipe is recorded for: {names}")
    if not has_drive(session, unit.id):
        yield Wanting(NO_DRIVE, "no drive is recorded in it")
    held = condition_of(unit.opened_us, unit.back_us)
    if not held.since_us:
        return
    for matter, what, ended in (
        (TEST, "do again", _tests_ended(session, unit, held)),
        (READING, "read again", _readings_ended(session, unit, held)),
        (GRADE, "grade again", _grades_ended(session, unit, held)),
    ):
        if ended:
            yield Wanting(matter, f"{what}: {', '.join(ended)}")


def _tests_ended(session: Session, unit: Unit, held: Condition) -> list[str]:
    stages = stages_in_order(session)
    last_off = max((at for at, stage in enumerate(stages) if stage.lid_off), default=len(stages))
    after_cover = {stage.id for stage in stages[last_off + 1 :]}
    return [
        task.name
        for task in tasks_in_order(session, unit.id)
        if task.state == "done"
        and is_test(
            unattended=task.unattended, lid_off=task.lid_off, after_cover=task.stage_id in after_cover
        )
        and not held.holds(task.ended_us or 0)
    ]


def _readings_ended(session: Session, unit: Unit, held: Condition) -> list[str]:
    """The subjects read after the work whose newest reading is older than the condition."""
    newest = (
        select(Reading.subject, func.max(Reading.at_us))
        .where(Reading.unit_id == unit.id, Reading.moment == AFTER, Reading.removed == 0)
        .group_by(col(Reading.subject))
    )
    read = dict(session.exec(newest).all())
    return [
        SUBJECTS[name].label.casefold() for name in SUBJECTS if name in read and not held.holds(read[name])
    ]


def _grades_ended(session: Session, unit: Unit, held: Condition) -> list[str]:
    grades = select(Grade).where(Grade.unit_id == unit.id, Grade.removed == 0).order_by(col(Grade.id))
    return [
        PARTS[grade.part].casefold()
        for grade in session.exec(grades)
        if not held.holds(grade.at_us, looks=grade.function_step_id is None)
    ]
