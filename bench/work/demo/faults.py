"""The demo's faults and the attempts at its tests as rows, and what of other rows belongs to a fault."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from bench.domain.durations import MINUTE_US
from bench.domain.faults import CURED, OPEN
from bench.domain.outcomes import FAILED, PASSED
from bench.domain.tags import tag_from_number
from bench.store.demo_trade import DemoFault
from bench.store.tables import Comeback, Fault, Part, Task, TestRun
from bench.work.demo.ground import Ground, Line, numbered
from bench.work.demo.story import Moment, Moments

BACK, YES = "back", "yes"


@dataclass
class FaultRows:
    """Faults, numbered by when they were found; attempts at tests; the journal's lines about them.

    `closing`: the attempt that closed a fault. `belonging`: rows that are there before the fault is.
    """

    faults: list[Fault] = field(default_factory=list)
    runs: list[TestRun] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)
    closing: list[tuple[Fault, TestRun]] = field(default_factory=list)
    belonging: list[tuple[Task | Part | Comeback, Fault]] = field(default_factory=list)

    def join(self) -> None:
        """Say in rows that are stored what belongs to which fault, and what closed it."""
        for row, fault in self.belonging:
            row.fault_id = numbered(fault.id)
        for fault, run in self.closing:
            fault.closed_by_test_id = numbered(run.id)


def fault_rows(
    ground: Ground,
    moments: Moments,
    tasks: Sequence[Task],
    parts: Sequence[Part],
    comebacks: Sequence[Comeback],
) -> FaultRows:
    """Rows of all faults, and of tests that were done or found one. `comebacks`: as trade.toml has them."""
    rows = FaultRows()
    passed = {(one.unit_id, one.name): _passed(ground, moments, one) for one in tasks if _is_done_test(one)}
    back = dict(zip(ground.demo.trade.comebacks, comebacks, strict=True))
    failed: list[tuple[TestRun, Fault]] = []
    again: list[TestRun] = []
    for one in ground.demo.trade.faults:
        unit_id = ground.unit_ids[one.unit]
        found = moments.back(one.unit) if one.at == BACK else moments.ended(one.unit, one.at)
        own = [task for task in tasks if task.unit_id == unit_id]
        test = next((task for task in own if task.name == one.at and task.test), None)
        seen = Moment(found.began_us, found.who, found.began_us) if test is not None else found
        fault = _fault(ground, moments, one, seen, tasks)
        rows.faults.append(fault)
        if one.failed:
            failed.append((_failed(ground, one, seen, unit_id, test), fault))
        if (unit_id, one.closed_at) in passed:
            rows.closing.append((fault, passed[unit_id, one.closed_at]))
        elif one.failed and one.state == CURED:
            again.append(_passed_again(ground, one, moments.ended(one.unit, one.closed_at), unit_id))
            rows.closing.append((fault, again[-1]))
        rows.belonging += [
            (task, fault) for task in tasks if (task.unit_id, task.name) == (unit_id, one.task)
        ]
        rows.belonging += [
            (part, fault) for part in parts if (part.to_unit_id, part.name) == (unit_id, one.part)
        ]
        rows.belonging += [(back[one.unit], fault)] if one.back == YES else []
        words = f"Fault on {tag_from_number(one.unit)}: {one.symptom}"
        rows.lines.append(Line(seen.at_us, seen.who, "fault", words, unit_id))
    rows.faults.sort(key=lambda fault: fault.found_us)
    for number, fault in enumerate(rows.faults, start=1):
        fault.id = number
    for run, fault in failed:
        run.fault_id = fault.id
    rows.runs = sorted((*passed.values(), *again, *(run for run, _ in failed)), key=lambda run: run.at_us)
    return rows


def _is_done_test(task: Task) -> bool:
    return bool(task.test) and task.state == "done"


def _passed(ground: Ground, moments: Moments, task: Task) -> TestRun:
    """The attempt by which a test of the story was done."""
    number = next(number for number, unit_id in ground.unit_ids.items() if unit_id == task.unit_id)
    moment = moments.ended(number, task.name)
    return TestRun(
        unit_id=task.unit_id,
        task_id=task.id,
        kind=task.test,
        outcome=PASSED,
        ran_us=moment.at_us - moment.began_us,
        at_us=moment.at_us,
        person_id=ground.people[moment.who],
    )


def _failed(ground: Ground, one: DemoFault, seen: Moment, unit_id: int, test: Task | None) -> TestRun:
    return TestRun(
        unit_id=unit_id,
        task_id=test.id if test is not None else None,
        kind=one.failed,
        outcome=FAILED,
        ran_us=(one.ran or 0) * MINUTE_US or None,
        at_us=seen.at_us,
        person_id=ground.people[seen.who],
    )


def _passed_again(ground: Ground, one: DemoFault, cured: Moment, unit_id: int) -> TestRun:
    """The attempt that showed it cured, of a test outside the route: without, the unit is not listed."""
    return TestRun(
        unit_id=unit_id,
        kind=one.failed,
        outcome=PASSED,
        ran_us=(one.ran or 0) * MINUTE_US or None,
        at_us=cured.at_us,
        person_id=ground.people[cured.who],
    )


def _fault(ground: Ground, moments: Moments, one: DemoFault, seen: Moment, tasks: Sequence[Task]) -> Fault:
    unit_id = ground.unit_ids[one.unit]
    at = next((task for task in tasks if (task.unit_id, task.name) == (unit_id, one.at)), None)
    closed = moments.ended(one.unit, one.closed_at) if one.state != OPEN else None
    return Fault(
        unit_id=unit_id,
        symptom=one.symptom,
        place=one.place,
        found_us=seen.at_us,
        person_id=ground.people[seen.who],
        task_id=at.id if at is not None else None,
        stage_id=at.stage_id if at is not None else ground.stage_id("received"),
        origin=one.origin,
        suspected=one.suspected,
        cause=one.cause,
        state=one.state,
        done=one.done,
        closed_us=closed.at_us if closed is not None else None,
        closed_by_id=ground.people[closed.who] if closed is not None else None,
    )
