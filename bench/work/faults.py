"""Faults of a unit: seen, described, cured or left as they are; and what was done for them."""

from __future__ import annotations

from dataclasses import dataclass

from sqlmodel import col, select

from bench.desk import Desk
from bench.domain.amounts import Instant
from bench.domain.faults import CURED, OPEN, STAYS, place_in, read_origin, read_place, read_state
from bench.domain.outcomes import KINDS, PASSED
from bench.domain.text import clean_line
from bench.domain.typed import TypedFields, read_field
from bench.errors import BadInput, NotFound, Refused
from bench.store.tables import (
    Comeback,
    Fault,
    Part,
    PartsOrder,
    Photograph,
    Sale,
    Task,
    TestRun,
    TimeEntry,
    Unit,
)
from bench.work.change import Change, change
from bench.work.lookups import open_entries
from bench.work.names import tells_if_changed

_Belonging = Task | TimeEntry | Part | Comeback | PartsOrder


@dataclass(frozen=True, slots=True)
class FaultKept:
    """A fault as it stands after what was done to it."""

    fault_id: int
    unit_id: int
    tag: str
    symptom: str
    place: str
    origin: str
    state: str
    found_us: Instant


def add_fault(
    desk: Desk,
    unit_id: int,
    *,
    symptom: str,
    place: str = "",
    origin: str = "",
    suspected: str = "",
    task_id: int | None = None,
) -> FaultKept:
    """A fault that was seen on a unit, wherever the unit is; a line of text will do.

    Without a `place` it is the part that the symptom names, if any. It was found at the task named, else at
    that of the person's own timer on the unit, and at the unit's stage.
    """
    with change(desk, "fault") as made:
        unit = made.get(Unit, unit_id, "unit")
        fields = TypedFields()
        words = fields.read("symptom", clean_line, symptom, "What is seen")
        where = fields.read("place", read_place, place)
        whose = fields.read("origin", read_origin, origin or "unknown")
        why = fields.read("suspected", clean_line, suspected, "The suspected cause", allow_empty=True)
        fields.check()
        found_at = _own_task(made, unit, task_id) if task_id is not None else _timed(made, unit)
        fault = open_fault(made, unit, words, where or place_in(words), found_at)
        fault.origin, fault.suspected = whose, why
        made.tells(f"Fault on {unit.tag}: {words}", unit_id=unit_id)
        return kept(fault, unit)


def open_fault(made: Change, unit: Unit, symptom: str, place: str, task_id: int | None) -> Fault:
    """A fault inside a transaction that does more, such as a test that failed."""
    assert unit.id is not None
    return made.add(
        Fault(
            unit_id=unit.id,
            symptom=symptom,
            place=place,
            found_us=made.now_us,
            person_id=made.desk.person_id,
            task_id=task_id,
            stage_id=unit.stage_id,
        )
    )


def edit_fault(
    desk: Desk,
    fault_id: int,
    *,
    symptom: str | None = None,
    place: str | None = None,
    origin: str | None = None,
    suspected: str | None = None,
    cause: str | None = None,
    state: str | None = None,
    done: str | None = None,
    closed_by_test_id: int | None = None,
) -> FaultKept:
    """Say more of a fault, or what became of it; None leaves what was said.

    `done`: what was done, or why it stays, which a buyer is told. One that is cured needs that or a test that
    passed; one that stays needs it. `closed_by_test_id`: that test, of the same unit.
    """
    with change(desk, "edit fault") as made:
        fault, unit = _fault_and_unit(made, fault_id)
        fields = TypedFields()
        if symptom is not None:
            fault.symptom = fields.read("symptom", clean_line, symptom, "What is seen")
        if place is not None:
            fault.place = fields.read("place", read_place, place)
        if origin is not None:
            fault.origin = fields.read("origin", read_origin, origin)
        for name, text in (("suspected", suspected), ("cause", cause), ("done", done)):
            if text is not None:
                words = _WORDS[name]
                setattr(fault, name, fields.read(name, clean_line, text, words, 400, allow_empty=True))
        now = fault.state if state is None else fields.read("state", read_state, state)
        fields.check()
        _come_to(made, fault, unit, now, closed_by_test_id)
        ended = {CURED: "Cured", STAYS: "Left as it is"}.get(fault.state, "Edited fault")
        tells_if_changed(made, f"{ended} on {unit.tag}: {fault.symptom}", unit.id)
        return kept(fault, unit)


def cure_within(made: Change, fault: Fault, run: TestRun) -> None:
    """Close a fault that a test which passed has shown cured, inside that test's transaction."""
    fault.state, fault.closed_us, fault.closed_by_id = CURED, made.now_us, made.desk.person_id
    fault.closed_by_test_id = run.id


def remove_fault(desk: Desk, fault_id: int, reason: str) -> None:
    """Take a fault off the records, with the reason: it was none. What pointed to it does so no more."""
    with change(desk, "remove fault") as made:
        fault, unit = _fault_and_unit(made, fault_id)
        why = read_field("reason", clean_line, reason, "The reason")
        for table in (Task, TimeEntry, Part, PartsOrder, Comeback, TestRun, Photograph):
            for row in made.session.exec(select(table).where(table.fault_id == fault_id)):
                row.fault_id = None
        fault.removed = 1
        made.tells(f"Took a fault off {unit.tag}: {fault.symptom}", unit_id=unit.id, reason=why)


def point_to_fault(
    desk: Desk,
    fault_id: int,
    *,
    task_id: int | None = None,
    entry_id: int | None = None,
    part_id: int | None = None,
    comeback_id: int | None = None,
    order_id: int | None = None,
    off: bool = False,
) -> FaultKept:
    """Say what belongs to a fault: a task with its time, one time entry, a part, a return, an order.

    What an order brought goes along with it. `off`: it does not after all. Refused for what belongs to
    another unit, BadInput where nothing is named.
    """
    with change(desk, "point to fault") as made:
        fault, unit = _fault_and_unit(made, fault_id)
        rows: list[tuple[_Belonging, str]] = []
        if task_id is not None:
            rows.append((made.get(Task, task_id, "task"), "task"))
        if entry_id is not None:
            rows.append((made.get(TimeEntry, entry_id, "time entry"), "time entry"))
        if part_id is not None:
            rows.append((made.get(Part, part_id, "part"), "part"))
        if comeback_id is not None:
            rows.append((made.get(Comeback, comeback_id, "return"), "return"))
        if order_id is not None:
            order = made.get(PartsOrder, order_id, "order")
            rows.append((order, "order"))
            rows += [(part, "part") for part in _proceeds(made, order)]
        if not rows:
            raise BadInput(
                "What belongs to the fault is not said.",
                "Name a task, a time, a part, an order or a return.",
            )
        for row, what in rows:
            if unit.id not in _units_of(made, row):
                raise Refused(
                    f"That {what} is not of unit {unit.tag}, which has the fault.", "Choose one of its own."
                )
            if not off or row.fault_id == fault_id:
                row.fault_id = None if off else fault_id
        does = "no longer belongs" if off else "belongs"
        tells_if_changed(
            made,
            f"A {', a '.join(what for _, what in rows)} of {unit.tag} {does} to: {fault.symptom}",
            unit.id,
        )
        return kept(fault, unit)


def kept(fault: Fault, unit: Unit) -> FaultKept:
    """The fault as an answer."""
    assert fault.id is not None
    return FaultKept(
        fault.id,
        fault.unit_id,
        unit.tag,
        fault.symptom,
        fault.place,
        fault.origin,
        fault.state,
        fault.found_us,
    )


_WORDS = {
    "suspected": "The suspected cause",
    "cause": "The cause found",
    "done": "What was done",
}


def _come_to(made: Change, fault: Fault, unit: Unit, state: str, test_id: int | None) -> None:
    if test_id is not None:
        if state != CURED:
            raise BadInput("A test closes a fault that is cured.", "Say that it is, or name no test.")
        run = made.get(TestRun, test_id, "test")
        if run.unit_id != unit.id or run.outcome != PASSED:
            raise Refused("Only a test of this unit that passed closes a fault.", "Choose another one.")
        fault.closed_by_test_id = test_id
    if state == STAYS and not fault.done:
        raise BadInput("Why it stays is not said.", "Type it: the buyer is told.", field="done")
    if state == CURED and not fault.done:
        if fault.closed_by_test_id is None:
            raise BadInput(
                "What cured it is not said.", "Type it, or name the test that passed.", field="done"
            )
        closing = made.get(TestRun, fault.closed_by_test_id, "test")
        fault.done = f"{KINDS[closing.kind].label} passed"
    if state == fault.state:
        return
    fault.state = state
    if state == OPEN:
        fault.closed_us = fault.closed_by_id = fault.closed_by_test_id = None
        return
    fault.closed_us, fault.closed_by_id = made.now_us, made.desk.person_id
    if state == STAYS:
        fault.closed_by_test_id = None


def _own_task(made: Change, unit: Unit, task_id: int) -> int:
    task = made.get(Task, task_id, "task")
    if task.unit_id != unit.id:
        raise Refused(f"That task is not of unit {unit.tag}.", "Choose one of its own.")
    return task_id


def _timed(made: Change, unit: Unit) -> int | None:
    """The task on the unit that the person's own timer runs for; None where none does."""
    own = (one for one in open_entries(made.session, unit.id) if one.person_id == made.desk.person_id)
    return next((one.task_id for one in sorted(own, key=lambda one: -one.attended)), None)


def _proceeds(made: Change, order: PartsOrder) -> list[Part]:
    """The move by which what an order brought came into the unit that it was for, if it did."""
    if order.component_id is None:
        return []
    moves = select(Part).where(
        Part.component_id == order.component_id, Part.to_unit_id == order.unit_id, Part.removed == 0
    )
    return list(made.session.exec(moves))


def _units_of(made: Change, row: _Belonging) -> set[int | None]:
    if isinstance(row, (Task, PartsOrder)):
        return {row.unit_id}
    if isinstance(row, TimeEntry):
        return {made.get(Task, row.task_id, "task").unit_id}
    if isinstance(row, Part):
        return {row.from_unit_id, row.to_unit_id}
    return {made.session.exec(select(Sale.unit_id).where(col(Sale.id) == row.sale_id)).one()}


def _fault_and_unit(made: Change, fault_id: int) -> tuple[Fault, Unit]:
    fault = made.get(Fault, fault_id, "fault")
    unit = made.session.get(Unit, fault.unit_id)
    if unit is None:
        raise NotFound("The unit of that fault is not there.", "It may have been undone.")
    return fault, unit
