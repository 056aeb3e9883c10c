"""Faults: those of one unit, and those of the shop that are open."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.amounts import Instant
from bench.domain.faults import CURED, ORIGINS, told_words
from bench.errors import NotFound
from bench.views.binder import Query
from bench.views.outcomes import OutcomeLine, outcomes_of
from bench.views.particulars import particulars
from bench.views.shop import facts


@dataclass(frozen=True, slots=True)
class FaultLine:
    """A fault. `task`, `stage`: at which step it was found. `closed_by_test_id`: the test that closed it.

    `photographs`: how many show it.
    """

    fault_id: int
    unit_id: int
    tag: str
    model: str
    symptom: str
    place: str
    origin: str
    state: str
    found_us: Instant
    person: str
    task: str
    stage: str
    suspected: str
    cause: str
    done: str
    closed_us: Instant | None
    closed_by: str
    closed_by_test_id: int | None
    closing_test: str
    photographs: int

    @property
    def whose(self) -> str:
        """Whose it is, in words."""
        return ORIGINS[self.origin]

    @property
    def told(self) -> str:
        """What a buyer is told; empty for one that is cured."""
        return "" if self.state == CURED else told_words(self.symptom, self.place, self.state, self.done)


@dataclass(frozen=True, slots=True)
class UnitFaults:
    """The faults of a unit, the open ones first, and every attempt at a test, the newest first."""

    unit_id: int
    tag: str
    model: str
    stage: str
    currency: str
    zone: str
    faults: tuple[FaultLine, ...]
    outcomes: tuple[OutcomeLine, ...]


@dataclass(frozen=True, slots=True)
class FaultList:
    """Faults of the whole shop, those found last first."""

    faults: tuple[FaultLine, ...]
    zone: str


_LINE = """
SELECT fault.id AS fault_id, fault.unit_id, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS model,
       fault.symptom, fault.place, fault.origin, fault.state, fault.found_us, person.name AS person,
       COALESCE(task.name, '') AS task, COALESCE(stage.name, '') AS stage, fault.suspected, fault.cause,
       fault.done, fault.closed_us, COALESCE(closer.name, '') AS closed_by, fault.closed_by_test_id,
       COALESCE(test_run.kind, '') AS closing_test,
       (SELECT COUNT(*) FROM photograph WHERE photograph.fault_id = fault.id AND photograph.removed = 0
        AND photograph.erased_us IS NULL) AS photographs
FROM fault {index} CROSS JOIN unit ON unit.id = fault.unit_id AND unit.removed = 0
JOIN person ON person.id = fault.person_id LEFT JOIN task ON task.id = fault.task_id
LEFT JOIN stage ON stage.id = fault.stage_id LEFT JOIN person AS closer ON closer.id = fault.closed_by_id
LEFT JOIN test_run ON test_run.id = fault.closed_by_test_id
WHERE fault.removed = 0 AND {which}
"""


def _lines(which: str, index: str = "") -> Query[FaultLine]:
    return Query(FaultLine, _LINE.replace("{which}", which).replace("{index}", index))


_OF_UNIT = _lines("fault.unit_id = :unit_id ORDER BY fault.state <> 'open', fault.found_us, fault.id")
_OPEN = _lines("fault.state = 'open' ORDER BY fault.found_us DESC, fault.id DESC", "INDEXED BY ix_fault_open")
_ALL = _lines("1 ORDER BY fault.found_us DESC, fault.id DESC")
_ONE = _lines("fault.id = :fault_id")


def faults_of(connection: sqlite3.Connection, unit_id: int) -> tuple[FaultLine, ...]:
    """The faults of a unit, the open ones first, then by when they were found."""
    return _OF_UNIT.all(connection, unit_id=unit_id)


def read_unit_faults(desk: Desk, unit_id: int) -> UnitFaults:
    """A unit's faults and the attempts at its tests. NotFound when there is no such unit."""
    with desk.store.read() as connection:
        unit = particulars(connection, unit_id)
        return UnitFaults(
            unit_id,
            unit.tag,
            unit.name,
            unit.stage,
            unit.currency,
            unit.zone,
            faults_of(connection, unit_id),
            tuple(reversed(outcomes_of(connection, unit_id))),
        )


def read_faults(desk: Desk, *, closed: bool = False) -> FaultList:
    """The open faults of the shop, or with those that are `closed` all there ever were."""
    with desk.store.read() as connection:
        return FaultList((_ALL if closed else _OPEN).all(connection), facts(connection).zone)


def fault(connection: sqlite3.Connection, fault_id: int) -> FaultLine:
    """One fault. NotFound when there is none of that number."""
    found = _ONE.first(connection, fault_id=fault_id)
    if found is None:
        raise NotFound(f"There is no fault f{fault_id}.", "`bench fault` lists those that are open.")
    return found


def all_faults(connection: sqlite3.Connection) -> tuple[FaultLine, ...]:
    """Every fault there ever was, those found last first."""
    return _ALL.all(connection)
