"""Tests of a unit that end: passed, failed or broken off. Each attempt is kept.

A test that fails opens a fault, and is to do again with every later test that was done before it: what they
found, they found on a machine that was not in order.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sqlmodel import Session, col, select

from bench.desk import Desk
from bench.domain.amounts import Instant, Length
from bench.domain.durations import MINUTE_US, read_minutes
from bench.domain.faults import OPEN
from bench.domain.outcomes import (
    FAILED,
    KINDS,
    PASSED,
    PLACE_TESTED,
    read_figures,
    read_kind,
    read_outcome,
    symptom_of,
)
from bench.domain.text import clean_line, clean_note
from bench.domain.typed import TypedFields, read_field
from bench.errors import BadInput, Refused
from bench.store.tables import Fault, Stage, Task, TestRun, TimeEntry, Unit
from bench.work.change import Change, change
from bench.work.faults import cure_within, open_fault
from bench.work.gates import may_alter, no_bad_cell
from bench.work.issuing import Issued
from bench.work.lookups import stages_in_order, tasks_in_order
from bench.work.timers import finish_within, stop_task, stop_unit
from bench.work.wanting import is_listed


@dataclass(frozen=True, slots=True)
class Ended:
    """A test that ended. `task`: the task that it was, empty for none. `fault_id`: what it opened or showed.

    `ran_us`: how long it ran, None where that is not known. `again`: the tasks that are to do again, `cured`:
    the faults it closed. `held`: the unit was offered for sale, and waits now.
    """

    test_id: int
    unit_id: int
    tag: str
    kind: str
    outcome: str
    task: str
    at_us: Instant
    ran_us: Length | None
    fault_id: int | None
    symptom: str
    again: tuple[str, ...]
    cured: tuple[int, ...]
    issued: tuple[Issued, ...]
    held: bool


def end_test(
    desk: Desk,
    unit_id: int,
    *,
    outcome: str,
    kind: str = "",
    task_id: int | None = None,
    ran_text: str = "",
    figures: Mapping[str, str] | None = None,
    note: str = "",
    symptom: str = "",
    fault_id: int | None = None,
    cures: Sequence[int] = (),
    uses: Mapping[int, int] | None = None,
) -> Ended:
    """Keep how a test of a unit ended: that of the task named, else of its first task of that kind, if any.

    Passed, its task is done and what it took is issued. Failed, it opens a fault, told by `symptom`, or shows
    the open one that `fault_id` names or that it opened before; it and the later tests that were done are to
    do again; a unit that is offered for sale waits. `ran_text`: how long it ran; nothing typed is what its
    timers say. `cures`: open faults of the unit that a test which passed has shown cured.
    """
    with change(desk, "test") as made:
        unit = made.get(Unit, unit_id, "unit")
        _is_here(made, unit)
        fields = TypedFields()
        ended = fields.read("outcome", read_outcome, outcome)
        named = fields.read("kind", read_kind, kind)
        ran = fields.read("ran_text", _ran, ran_text)
        words = fields.read("note", clean_note, note, "The note")
        seen = fields.read("symptom", clean_line, symptom, "What is seen", allow_empty=True)
        fields.check()
        task = _task_of(made, unit, named, task_id)
        tested = task.test if task is not None and task.test else named
        if not tested:
            raise BadInput(
                "Which test it is is not said.", f"Choose one of: {', '.join(KINDS)}.", field="kind"
            )
        if seen and ended != FAILED:
            raise BadInput("Only a test that failed shows a fault.", "Put it into the note.", field="symptom")
        run = made.add(
            TestRun(
                unit_id=unit_id,
                task_id=task.id if task is not None else None,
                kind=tested,
                outcome=ended,
                ran_us=_timed_us(made, task) if ran is None else ran,
                figures=json.dumps(read_figures(tested, figures or {}), ensure_ascii=False),
                note=words,
                at_us=made.now_us,
                person_id=desk.person_id,
            )
        )
        issued, again = _settle(made, unit, task, run, uses)
        fault = _fault_of(made, unit, run, seen, fault_id) if ended == FAILED else None
        cured = [_cure(made, unit, run, one) for one in cures]
        if run.ran_us is None and task is not None:
            run.ran_us = _timed_us(made, task)
        held = ended == FAILED and _waits(made, unit, tested)
        made.tells(_told(unit, run, fault, again), unit_id=unit_id)
        assert run.id is not None
        return Ended(
            test_id=run.id,
            unit_id=unit_id,
            tag=unit.tag,
            kind=tested,
            outcome=ended,
            task=task.name if task is not None else "",
            at_us=run.at_us,
            ran_us=run.ran_us,
            fault_id=fault.id if fault is not None else None,
            symptom=fault.symptom if fault is not None else "",
            again=again,
            cured=tuple(cured),
            issued=issued,
            held=held,
        )


def remove_test(desk: Desk, test_id: int, reason: str) -> None:
    """Take an attempt off the records, with the reason; a task that it alone has ended is to do again."""
    with change(desk, "remove test") as made:
        run = made.get(TestRun, test_id, "test")
        unit = made.get(Unit, run.unit_id, "unit")
        why = read_field("reason", clean_line, reason, "The reason")
        closed = select(Fault).where(Fault.closed_by_test_id == test_id, Fault.removed == 0)
        if made.session.exec(closed).first() is not None:
            raise Refused("That test has closed a fault.", "Say first that the fault is open again.")
        run.removed = 1
        task = made.session.get(Task, run.task_id) if run.task_id is not None else None
        if task is not None and task.state == "done" and not _passed(made.session, task):
            _reopen(task)
        made.tells(f"Took a {run.kind} test off {unit.tag}", unit_id=unit.id, reason=why)


def _settle(
    made: Change, unit: Unit, task: Task | None, run: TestRun, uses: Mapping[int, int] | None
) -> tuple[tuple[Issued, ...], tuple[str, ...]]:
    """What becomes of the unit's tasks: what was issued, and the names of those that are to do again."""
    if run.outcome == PASSED:
        if task is None:
            return (), ()
        took = uses
        if task.state != "todo":  # done once more: what it took then was issued then
            took = uses or {}
            _reopen(task)
        return finish_within(made, task, unit, took, tested=True), ()
    if task is not None:
        stop_task(made, task)
    if run.outcome != FAILED:
        return (), ()
    again = []
    for one in _stand_on(made, unit, task, run.kind):
        _reopen(one)
        again.append(one.name)
    return (), tuple(again)


def _stand_on(made: Change, unit: Unit, task: Task | None, kind: str) -> list[Task]:
    """The tests that were done and are to do again after a failure: its own, and those that come later."""
    tasks = tasks_in_order(made.session, unit.id)
    first = next(
        (at for at, one in enumerate(tasks) if (one is task if task is not None else one.test == kind)),
        len(tasks),
    )
    return [one for one in tasks[first:] if one.test and one.state == "done"]


def _fault_of(made: Change, unit: Unit, run: TestRun, seen: str, fault_id: int | None) -> Fault:
    fault = made.get(Fault, fault_id, "fault") if fault_id is not None else _shown_before(made, run)
    if fault is not None and (fault.unit_id != unit.id or fault.state != OPEN):
        raise Refused(f"That is no open fault of unit {unit.tag}.", "Choose one of its own, or name none.")
    if fault is None or (seen and fault_id is None and seen != fault.symptom):
        words = seen or symptom_of(run.kind, run.note)
        fault = open_fault(made, unit, words, PLACE_TESTED.get(run.kind, ""), run.task_id)
    run.fault_id = fault.id
    return fault


def _shown_before(made: Change, run: TestRun) -> Fault | None:
    """The open fault that the test before of this kind on the unit had opened."""
    statement = (
        select(Fault)
        .join(TestRun, col(TestRun.fault_id) == Fault.id)
        .where(
            TestRun.unit_id == run.unit_id,
            TestRun.kind == run.kind,
            TestRun.removed == 0,
            Fault.state == OPEN,
            Fault.removed == 0,
        )
        .order_by(col(TestRun.at_us).desc(), col(TestRun.id).desc())
    )
    return made.session.exec(statement).first()


def _cure(made: Change, unit: Unit, run: TestRun, fault_id: int) -> int:
    fault = made.get(Fault, fault_id, "fault")
    if run.outcome != PASSED:
        raise BadInput("Only a test that passed closes a fault.", "Name none.", field="cures")
    if fault.unit_id != unit.id or fault.state != OPEN:
        raise Refused(f"That is no open fault of unit {unit.tag}.", "Choose one of its own.")
    cure_within(made, fault, run)
    fault.done = fault.done or f"{KINDS[run.kind].label} passed"
    return fault_id


def _waits(made: Change, unit: Unit, kind: str) -> bool:
    """Put a unit that is offered for sale on hold: what turned out about it is told before it goes."""
    if unit.held_reason is not None or not is_listed(stages_in_order(made.session), unit.stage_id):
        return False
    stop_unit(made, unit.id, hands_on_only=True)
    unit.held_reason, unit.held_us = f"{KINDS[kind].label.lower()} failed", made.now_us
    return True


def _is_here(made: Change, unit: Unit) -> None:
    stage = made.get(Stage, unit.stage_id, "stage")
    if stage.final:
        raise Refused(f"Unit {unit.tag} has left ({stage.name}).", "Record its return first.")
    no_bad_cell(unit)
    may_alter(made, unit)


def _task_of(made: Change, unit: Unit, kind: str, task_id: int | None) -> Task | None:
    """The task that is tested by: the one named, else the unit's first of that kind, those to do first."""
    if task_id is not None:
        task = made.get(Task, task_id, "task")
        if task.unit_id != unit.id:
            raise Refused(f"That task is not of unit {unit.tag}.", "Choose one of its own.")
        if kind and task.test and task.test != kind:
            raise BadInput(f"{task.name} is a {task.test} test.", "Name that kind, or none.", field="kind")
        return task
    alike = [one for one in tasks_in_order(made.session, unit.id) if kind and one.test == kind]
    return next(iter(sorted(alike, key=lambda one: one.state != "todo")), None)


def _timed_us(made: Change, task: Task | None) -> int | None:
    """What the task's timers have run for since its last attempt, those that run still until now."""
    if task is None:
        return None
    since = select(TestRun.at_us).where(TestRun.task_id == task.id, TestRun.at_us < made.now_us)
    last_us = max(made.session.exec(since), default=0)
    entries = made.session.exec(select(TimeEntry).where(TimeEntry.task_id == task.id))
    lengths = [
        (one.stopped_us if one.stopped_us is not None else made.now_us) - one.started_us
        for one in entries
        if one.started_us >= last_us
    ]
    return max(0, sum(lengths)) if lengths else None


def _passed(session: Session, task: Task) -> bool:
    statement = select(TestRun.id).where(
        TestRun.task_id == task.id, TestRun.outcome == PASSED, TestRun.removed == 0
    )
    return session.exec(statement).first() is not None


def _reopen(task: Task) -> None:
    task.state, task.ended_us, task.skip_reason = "todo", None, None


def _ran(text: str) -> int | None:
    return read_minutes(text) * MINUTE_US if text.strip() else None


def _told(unit: Unit, run: TestRun, fault: Fault | None, again: Sequence[str]) -> str:
    words = f"{KINDS[run.kind].label} of {unit.tag} {run.outcome}"
    words += f": {fault.symptom}" if fault is not None else ""
    return words + (f"; to do again: {', '.join(again)}" if again else "")
