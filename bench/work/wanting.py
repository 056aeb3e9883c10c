"""What is wanting before a unit is listed or sold, and what of it a person has answered for."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
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
from bench.domain.wipe import counts, outside_until_us
from bench.store.tables import Drive, Grade, Purchase, Reading, Shop, Stage, TestRun, Unit, Unwiped, Wipe
from bench.work.lookups import stages_in_order, tasks_in_order


def is_wiped(session: Session, drive: Drive) -> bool:
    """Whether a drive's newest wipe passed its verification, and nobody outside had the drive since."""
    newest = session.exec(
        select(Wipe)
        .where(Wipe.drive_id == drive.id, Wipe.removed == 0)
        .order_by(col(Wipe.wiped_us).desc(), col(Wipe.id).desc())
        .limit(1)
    ).first()
    return newest is not None and wipe_counts(session, drive, newest)


def wipe_counts(session: Session, drive: Drive, wipe: Wipe) -> bool:
    """Whether that wipe of a drive counts as one."""
    came = session.get(Unit, drive.came_in_unit_id) if drive.came_in_unit_id is not None else None
    bought = select(Purchase.bought_on).where(Purchase.unit_id == drive.came_in_unit_id)
    bought_on = session.exec(bought).first() if came is not None else None
    until_us = outside_until_us(
        drive.outside_us,
        came.added_us if came is not None else None,
        date.fromisoformat(bought_on) if bought_on else None,
        session.exec(select(Shop.zone)).one(),
    )
    return counts(wipe.result, wipe.wiped_us, until_us)


def not_wiped(session: Session, unit_id: int | None) -> list[Drive]:
    """The drives in a unit without a wipe that counts."""
    drives = select(Drive).where(Drive.unit_id == unit_id, Drive.removed == 0).order_by(col(Drive.id))
    return [drive for drive in session.exec(drives) if not is_wiped(session, drive)]


def has_drive(session: Session, unit_id: int | None) -> bool:
    """Whether a drive is recorded in a unit."""
    drives = select(Drive.id).where(Drive.unit_id == unit_id, Drive.removed == 0).limit(1)
    return session.exec(drives).first() is not None


def reasons_of(session: Session, unit_id: int | None) -> list[Unwiped]:
    """What was said of a unit for listing it all the same, ended or not."""
    return list(session.exec(select(Unwiped).where(Unwiped.unit_id == unit_id, Unwiped.removed == 0)))


def is_listed(stages: Sequence[Stage], stage_id: int | None) -> bool:
    """Whether a unit at that stage is offered for sale or sold: from the first stage that lists on.

    A way out at which nothing is sold is neither.
    """
    first = next((at for at, stage in enumerate(stages) if stage.lists), len(stages))
    return any(
        stage.id == stage_id and (stage.lists or stage.sells or (at >= first and not stage.final))
        for at, stage in enumerate(stages)
    )


class Wanting(NamedTuple):
    """One kind of what is wanting, of `domain.holding.MATTERS`, and what of it in words."""

    matter: str
    words: str


def wanting(session: Session, unit: Unit) -> tuple[Wanting, ...]:
    """Everything that is wanting and that nobody has answered for, in the order of `MATTERS`."""
    answered = answered_for(session, unit)
    found = [one for one in _wanting(session, unit) if one.matter not in answered]
    failed = tests_failed(session, unit)
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


def tests_failed(session: Session, unit: Unit) -> list[str]:
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
