"""What a unit is made of: the newest specification, and the earlier ones behind it."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from bench.desk import Desk
from bench.domain.amounts import Instant
from bench.domain.specification import (
    NAMES,
    SOURCES,
    FittedDrive,
    MemoryModule,
    Specification,
    SpecificationChange,
    changes_between,
    specification_lines,
)
from bench.views.binder import Query
from bench.views.drives import DriveLine
from bench.views.particulars import Particulars, particulars

BEFORE_OPENED = "before it was opened or came back"


@dataclass(frozen=True, slots=True)
class KeptSpecification:
    """A specification as it is kept. `told`: what was amiss with the file it came from.

    `holds`: the unit was neither opened nor away since. `machine`: what it says.
    """

    specification_id: int
    source: str
    at_us: Instant
    person: str
    told: tuple[str, ...]
    holds: bool
    machine: Specification


@dataclass(frozen=True, slots=True)
class SpecificationSheet:
    """All that is kept of what a unit is made of, the newest first."""

    unit_id: int
    tag: str
    maker: str
    model: str
    serial: str
    kept: tuple[KeptSpecification, ...]
    zone: str

    @property
    def newest(self) -> KeptSpecification | None:
        """The one that counts."""
        return self.kept[0] if self.kept else None

    @property
    def changed(self) -> tuple[tuple[KeptSpecification, tuple[SpecificationChange, ...]], ...]:
        """Each but the first with what it says otherwise than the one before it, the newest first."""
        return tuple(
            (later, changes_between(earlier.machine, later.machine))
            for later, earlier in zip(self.kept, self.kept[1:], strict=False)
        )


@dataclass(frozen=True, slots=True)
class _Kept:
    """Whose a specification is, and when it was told."""

    specification_id: int
    source: str
    at_us: Instant
    person: str
    told: str


def _records(of: Callable[..., Any]) -> Callable[[str], tuple[Any, ...]]:
    return lambda text: tuple(of(**row) for row in json.loads(text))


_WHERE = "WHERE specification.unit_id = :unit_id AND specification.removed = 0"
_NEWEST_FIRST = "ORDER BY specification.id DESC LIMIT :most"
_KEPT = Query(
    _Kept,
    f"""
SELECT specification.id AS specification_id, source, at_us, person.name AS person, told
FROM specification JOIN person ON person.id = specification.person_id {_WHERE} {_NEWEST_FIRST}
""",  # noqa: S608 - texts of ours
)
_MACHINE = Query(
    Specification,
    f"SELECT {', '.join(NAMES)} FROM specification {_WHERE} {_NEWEST_FIRST}",  # noqa: S608 - names of ours
    memory_modules=_records(MemoryModule),
    drives=_records(FittedDrive),
)
_ALL = -1


def read_specification(desk: Desk, unit_id: int) -> SpecificationSheet:
    """What a unit is made of, as it was told over time. NotFound when there is no such unit."""
    with desk.store.read() as connection:
        unit = particulars(connection, unit_id)
        return SpecificationSheet(
            unit_id=unit_id,
            tag=unit.tag,
            maker=unit.maker,
            model=unit.model,
            serial=unit.serial,
            kept=_kept(connection, unit, _ALL),
            zone=unit.zone,
        )


def specification_of(connection: sqlite3.Connection, unit: Particulars) -> KeptSpecification | None:
    """The one that counts, within a snapshot that other reads share; None where none was told."""
    return next(iter(_kept(connection, unit, 1)), None)


def lines_with_drives(
    kept: KeptSpecification | None, drives: tuple[DriveLine, ...]
) -> tuple[tuple[str, str], ...]:
    """Label and words of each line for a buyer: drives as they are on record now, not as once told."""
    if kept is None:
        return ()
    there = tuple(FittedDrive(one.model, one.serial, one.media_type, one.size_bytes) for one in drives)
    known = replace(kept.machine, drives=there or None)
    return tuple((line.label, line.text) for line in specification_lines(known))


def _kept(connection: sqlite3.Connection, unit: Particulars, most: int) -> tuple[KeptSpecification, ...]:
    kept = _KEPT.all(connection, unit_id=unit.unit_id, most=most)
    machines = _MACHINE.all(connection, unit_id=unit.unit_id, most=most)
    return tuple(
        KeptSpecification(
            specification_id=one.specification_id,
            source=one.source,
            at_us=one.at_us,
            person=one.person,
            told=tuple(line for line in one.told.split("\n") if line),
            holds=unit.condition.holds(one.at_us),
            machine=machine,
        )
        for one, machine in zip(kept, machines, strict=True)
    )


def source_words(kept: KeptSpecification) -> str:
    """Where it comes from, and whether it may be out of date."""
    return SOURCES[kept.source] + ("" if kept.holds else f", {BEFORE_OPENED}")
