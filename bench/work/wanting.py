"""What is wanting before a unit is listed or sold, and what of it a person has answered for."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from sqlmodel import Session, col, func, select

from bench.domain.condition.fields import AFTER, SUBJECTS
from bench.domain.grading import PARTS
from bench.domain.holding import (
    GRADE,
    MATTERS,
    NO_DRIVE,
    READING,
    TEST,
    WIPE,
    Condition,
    condition_of,
    is_test,
)
from bench.domain.outcomes import BROKEN_OFF, FAILED, KINDS
from bench.store.tables import Grade, Reading, TestRun, Unit
from bench.work.lookups import stages_in_order, tasks_in_order
from bench.work.wiped import has_drive, not_wiped, reasons_of


class Wanting(NamedTuple):
    """One kind of what is wanting, of `domain.holding.MATTERS`, and what of it in words."""

    matter: str
    words: str


def wanting(session: Session, unit: Unit) -> tuple[Wanting, ...]:
    """Everything that is wanting and that nobody has answered for, in the order of `MATTERS`."""
    answered = answered_for(session, unit)
    found = [one for one in _wanting(session, unit) if one.matter not in answered]
    failed = _tests_failed(session, unit)
    if failed:
        again = next((one.words for one in found if one.matter == TEST), "")
        said = Wanting(TEST, "; ".join(words for words in (f"failed: {', '.join(failed)}", again) if words))
        found = [one for one in found if one.matter != TEST] + [said]
    return tuple(sorted(found, key=lambda one: list(MATTERS).index(one.matter)))


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
            unattended=task.unattended or task.test,
            lid_off=task.lid_off,
            after_cover=task.stage_id in after_cover,
        )
        and not held.holds(task.ended_us or 0)
    ]


def _tests_failed(session: Session, unit: Unit) -> list[str]:
    """The kinds of test whose last attempt failed, where nobody has answered for it since."""
    runs = select(TestRun).where(
        TestRun.unit_id == unit.id, TestRun.removed == 0, TestRun.outcome != BROKEN_OFF
    )
    newest = {run.kind: run for run in session.exec(runs.order_by(col(TestRun.at_us), col(TestRun.id)))}
    failed = [run for run in newest.values() if run.outcome == FAILED]
    said = [one.at_us for one in reasons_of(session, unit.id) if TEST in one.covers.split()] if failed else []
    return [KINDS[run.kind].label.lower() for run in failed if not any(at_us >= run.at_us for at_us in said)]


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
