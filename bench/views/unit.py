"""A unit opened: its particulars, its tasks and what each takes, its hours, what it took off the shelf."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from datetime import date

from bench.desk import Desk
from bench.domain.amounts import Instant, Length, Minor, Thousandths
from bench.views.binder import Query, pairs, value
from bench.views.drives import UnwipedReason, reasons_of
from bench.views.faults import FaultLine, faults_of
from bench.views.outcomes import OutcomeLine, last_of_each, outcomes_of
from bench.views.particulars import particulars
from bench.views.safety import SafetyView, safety_of
from bench.views.tasks import TaskLine, tasks_of


@dataclass(frozen=True, slots=True)
class UnitSheet:
    """Everything about one unit. Money in minor units of the shop's currency.

    `owner`: whose it is, where it was brought in for repair; empty for the shop's own.

    `without`: what was said for listing it without something, as far as it still answers. `faults`: the open
    ones first. `outcomes`: the last attempt of each kind of test.
    """

    unit_id: int
    tag: str
    maker: str
    model: str
    serial: str
    note: str
    route_id: int | None
    route: str
    stage_id: int
    stage: str
    stage_since_us: Instant
    added_us: Instant
    due_on: date | None
    price_minor: Minor | None
    held: str | None
    held_us: Instant | None
    tasks: tuple[TaskLine, ...]
    safety: SafetyView
    attended_us: Length
    unattended_us: Length
    materials_minor: Minor
    currency: str
    zone: str
    without: tuple[UnwipedReason, ...] = ()
    owner: str = ""
    owner_contact: str = ""
    faults: tuple[FaultLine, ...] = ()
    outcomes: tuple[OutcomeLine, ...] = ()


@dataclass(frozen=True, slots=True)
class MaterialLine:
    """One movement for a unit. `quantity` in thousandths of `base_unit` and `cost_minor` are below 0 for an
    issue, above 0 where it was taken back."""

    movement_id: int
    at_us: Instant
    consumable_id: int
    name: str
    base_unit: str
    quantity: Thousandths
    cost_minor: Minor
    task: str
    person: str


@dataclass(frozen=True, slots=True)
class UnitMaterials:
    """Every movement for one unit, oldest first; their costs add up to the unit's materials."""

    tag: str
    currency: str
    zone: str
    lines: tuple[MaterialLine, ...]


# Microseconds of closed entries, by attended or not.
_TIMES = """
SELECT entry.attended, SUM(entry.stopped_us - entry.started_us) AS spent_us
FROM task JOIN time_entry AS entry ON entry.task_id = task.id
WHERE task.unit_id = :unit_id AND entry.stopped_us IS NOT NULL GROUP BY entry.attended
"""

# FIFO cost of what was issued to the unit, less what was taken back.
_MATERIALS = """
SELECT COALESCE(-SUM(movement.cost_minor), 0)
FROM task JOIN movement ON movement.task_id = task.id WHERE task.unit_id = :unit_id
"""

_MATERIAL_LINES = Query(
    MaterialLine,
    """
SELECT movement.id AS movement_id, movement.at_us, consumable.id AS consumable_id, consumable.name,
       consumable.base_unit, movement.quantity, movement.cost_minor, task.name AS task, person.name AS person
FROM task JOIN movement ON movement.task_id = task.id
JOIN consumable ON consumable.id = movement.consumable_id JOIN person ON person.id = movement.person_id
WHERE task.unit_id = :unit_id ORDER BY movement.id
""",
)


def read_unit(desk: Desk, unit_id: int) -> UnitSheet:
    """Everything about one unit, in one snapshot. NotFound when there is no such unit."""
    with desk.store.read() as connection:
        unit = particulars(connection, unit_id)
        times = pairs(connection, _TIMES, unit_id=unit_id)
        tasks = tasks_of(connection, unit)
        return UnitSheet(
            unit_id=unit_id,
            tag=unit.tag,
            maker=unit.maker,
            model=unit.model,
            serial=unit.serial,
            note=unit.note,
            route_id=unit.route_id,
            route=unit.route,
            stage_id=unit.stage_id,
            stage=unit.stage,
            stage_since_us=unit.stage_since_us,
            added_us=unit.added_us,
            due_on=unit.due_on,
            price_minor=unit.price_minor,
            held=unit.held,
            held_us=unit.held_us,
            tasks=tasks,
            safety=safety_of(connection, unit, tasks),
            attended_us=times.get(1, 0),
            unattended_us=times.get(0, 0),
            materials_minor=value(connection, _MATERIALS, unit_id=unit_id),
            currency=unit.currency,
            zone=unit.zone,
            without=reasons_of(connection, unit),
            owner=unit.owner,
            owner_contact=unit.owner_contact,
            faults=faults_of(connection, unit_id),
            outcomes=last_of_each(outcomes_of(connection, unit_id)),
        )


def read_unit_materials(desk: Desk, unit_id: int) -> UnitMaterials:
    """The movements whose costs add up to a unit's materials. NotFound when there is no such unit."""
    with desk.store.read() as connection:
        unit = particulars(connection, unit_id)
        return UnitMaterials(unit.tag, unit.currency, unit.zone, material_lines(connection, unit_id))


def material_lines(connection: sqlite3.Connection, unit_id: int) -> tuple[MaterialLine, ...]:
    """The movements behind a unit's materials, oldest first."""
    return _MATERIAL_LINES.all(connection, unit_id=unit_id)
