"""A unit opened: its particulars, its tasks and what each takes, its hours, what it took off the shelf."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.amounts import Instant, Length, Minor, Thousandths
from bench.views.binder import Query, pairs, shared
from bench.views.drives import UnwipedReason, reasons_of
from bench.views.faults import FaultLine, faults_of
from bench.views.ledger import consumed_minor
from bench.views.outcomes import OutcomeLine, last_of_each, outcomes_of
from bench.views.particulars import UnitKept, particulars
from bench.views.safety import SafetyView, safety_of
from bench.views.specification import KeptSpecification, specification_of
from bench.views.tasks import TaskLine, tasks_of


@dataclass(frozen=True, slots=True)
class UnitSheet(UnitKept):
    """Everything about one unit.

    `without`: what was said for listing it without something, as far as it still answers. `faults`: the open
    ones first. `outcomes`: the last attempt of each kind of test.
    """

    tasks: tuple[TaskLine, ...]
    safety: SafetyView
    hands_on_us: Length
    machine_us: Length
    consumables_minor: Minor
    without: tuple[UnwipedReason, ...]
    specification: KeptSpecification | None = None
    faults: tuple[FaultLine, ...] = ()
    outcomes: tuple[OutcomeLine, ...] = ()


@dataclass(frozen=True, slots=True)
class UnitIssue:
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
class UnitConsumables:
    """Every movement for one unit, oldest first; their costs add up to the unit's consumables."""

    tag: str
    currency: str
    zone: str
    lines: tuple[UnitIssue, ...]


# Microseconds of closed entries, by hands-on or not.
_TIMES = """
SELECT entry.attended, SUM(entry.stopped_us - entry.started_us) AS spent_us
FROM task JOIN time_entry AS entry ON entry.task_id = task.id
WHERE task.unit_id = :unit_id AND entry.stopped_us IS NOT NULL GROUP BY entry.attended
"""

_UNIT_ISSUES = Query(
    UnitIssue,
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
            **shared(UnitKept, unit),
            tasks=tasks,
            safety=safety_of(connection, unit, tasks),
            hands_on_us=times.get(1, 0),
            machine_us=times.get(0, 0),
            consumables_minor=consumed_minor(connection, unit_id),
            without=reasons_of(connection, unit),
            specification=specification_of(connection, unit),
            faults=faults_of(connection, unit_id),
            outcomes=last_of_each(outcomes_of(connection, unit_id)),
        )


def read_unit_consumables(desk: Desk, unit_id: int) -> UnitConsumables:
    """The movements whose costs add up to a unit's consumables. NotFound when there is no such unit."""
    with desk.store.read() as connection:
        unit = particulars(connection, unit_id)
        return UnitConsumables(unit.tag, unit.currency, unit.zone, unit_issues(connection, unit_id))


def unit_issues(connection: sqlite3.Connection, unit_id: int) -> tuple[UnitIssue, ...]:
    """The movements behind a unit's consumables, oldest first."""
    return _UNIT_ISSUES.all(connection, unit_id=unit_id)
