"""What a buyer is told of a unit: grades, before and after, what was replaced, what was not tested."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from bench.desk import Desk
from bench.domain.amounts import Instant
from bench.domain.condition.figures import Fact, Figures, facts
from bench.domain.condition.found import ACT, STATE
from bench.domain.condition.readings import SubjectLines
from bench.domain.condition.verdicts import verdicts
from bench.domain.specification import LOCKED, specification_lines
from bench.views.binder import Query
from bench.views.condition import ConditionSheet, condition_of_unit
from bench.views.drives import DriveSheet, drives_in
from bench.views.faults import FaultLine, faults_of
from bench.views.grades import GradeLine, GradeSheet, grades_of
from bench.views.particulars import particulars
from bench.views.parts import IS_LAST
from bench.views.photographs import ShownPhotograph, shown_of
from bench.views.shop import facts as shop_facts
from bench.views.specification import KeptSpecification, lines_with_drives, specification_of

MEASURED_BEFORE = "measured before it was opened or came back; to be measured again"
GRADED_BEFORE = "graded before it was opened or came back; to be graded again"

# The machine's own words and counters without meaning to a buyer stay on the condition sheet.
_FOR_BUYERS = frozenset(
    [
        *("design_uwh", "full_uwh", "design_uah", "full_uah", "cycles", "swelling"),
        *("size_bytes", "used_percent", "spare_percent", "power_on_hours", "media_errors"),
        *("data_units_written",),
        *("passes", "errors", "idle_tenths_c", "load_tenths_c", "room_tenths_c", "power_mw"),
        *("brightness_cd_m2", "dead_pixels", "ports_tested", "ports_working"),
        *("keys_tested", "keys_failing", "screws_missing"),
    ]
)


@dataclass(frozen=True, slots=True)
class PartChange:
    """A part that is in the unit now, or one of its own that is out. `used`: it came from another unit."""

    name: str
    serial: str
    into: bool
    used: bool
    at_us: Instant


@dataclass(frozen=True, slots=True)
class BeforeAfter:
    """One line of the comparison: a figure's label with what it was and what it is; empty: not measured."""

    subject: str
    part: str
    label: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class BuyerSheet:
    """Everything a buyer's sheet says."""

    shop: str
    unit_id: int
    tag: str
    maker: str
    model: str
    serial: str
    grades: GradeSheet
    condition: ConditionSheet
    drives: DriveSheet
    parts: tuple[PartChange, ...]
    photographs: tuple[ShownPhotograph, ...]
    made_us: Instant
    zone: str
    specification: KeptSpecification | None = None
    faults: tuple[FaultLine, ...] = ()

    @property
    def specified(self) -> tuple[tuple[str, str], ...]:
        """Label and words of each line of the specification; none where it was never told."""
        return lines_with_drives(self.specification, self.drives.drives)

    @property
    def known_faults(self) -> tuple[str, ...]:
        """Every fault that is open and every one that stays, in words."""
        return tuple(one.told for one in self.faults if one.told)

    @property
    def graded(self) -> tuple[GradeLine, ...]:
        """The parts something was said of that still holds."""
        return tuple(line for line in self.grades.lines if line.grade_id is not None and line.holds)

    @property
    def before_after(self) -> tuple[BeforeAfter, ...]:
        """Every figure a buyer cares for, before and after."""
        return tuple(line for lines in self.condition.subjects for line in _before_after(lines))

    @property
    def found(self) -> tuple[str, ...]:
        """Every finding a buyer must be told of, by the newest figures of each part that is still there."""
        return (*self.locks, *self._findings())

    @property
    def locks(self) -> tuple[str, ...]:
        """The locks that were seen on the unit."""
        if self.specification is None:
            return ()
        lines = specification_lines(self.specification.machine)
        return tuple(f"{line.label}: {line.text}" for line in lines if line.text == LOCKED)

    def _findings(self) -> tuple[str, ...]:
        there = {f"{drive.model} {drive.serial}".strip() for drive in self.drives.drives}
        return tuple(
            f"{lines.label}{f', {part.part}' if part.part else ''}: {verdict.words}"
            for lines in self.condition.subjects
            for part in lines.parts
            if lines.subject != "drive" or not part.part or part.part in there
            for verdict in verdicts(lines.subject, part.latest)
            if verdict.standing in (STATE, ACT)
        )

    @property
    def not_tested(self) -> tuple[str, ...]:
        """What nobody measured, the parts that were not tested or not looked at, and what holds no longer."""
        parts = (
            f"{line.label}: {words}" for line in self.grades.lines if (words := _not_graded(line)) is not None
        )
        ended = (
            f"{lines.label}: {MEASURED_BEFORE}"
            for lines in self.condition.subjects
            if lines.ended and not lines.after
        )
        return (*(f"{label}: not measured" for label in self.condition.not_measured), *ended, *parts)


# A part with which the unit came, and which is not in it now.
_OWN_AND_OUT = """NOT EXISTS (
    SELECT 1 FROM part AS other WHERE other.component_id = part.component_id AND other.removed = 0
    AND (other.id < part.id OR (other.to_unit_id = :unit_id AND NOT EXISTS (
        SELECT 1 FROM part AS later WHERE later.component_id = other.component_id AND later.removed = 0
        AND later.id > other.id))))"""

_PARTS = Query(
    PartChange,
    """
SELECT name, serial, to_unit_id IS :unit_id AS "into", from_unit_id IS NOT NULL AS used, at_us
FROM part WHERE removed = 0
AND ((to_unit_id = :unit_id AND {is_last}) OR (from_unit_id = :unit_id AND {own_out}))
ORDER BY at_us, id
""".replace("{is_last}", IS_LAST).replace("{own_out}", _OWN_AND_OUT),
)


def read_buyer_sheet(desk: Desk, unit_id: int) -> BuyerSheet:
    """Grades, readings before and after, parts, wipes, and what was not tested. NotFound for no such unit."""
    now_us = desk.clock.now_us()
    with desk.store.read() as connection:
        return buyer_sheet(connection, unit_id, now_us, desk.store.path)


def buyer_sheet(connection: sqlite3.Connection, unit_id: int, now_us: int, path: Path) -> BuyerSheet:
    """The same, within a snapshot that other reads share. `path`: the data file's."""
    unit = particulars(connection, unit_id)
    return BuyerSheet(
        shop=shop_facts(connection).name,
        unit_id=unit_id,
        tag=unit.tag,
        maker=unit.maker,
        model=unit.model,
        serial=unit.serial,
        grades=grades_of(connection, unit_id),
        condition=condition_of_unit(connection, unit_id),
        drives=drives_in(connection, unit_id),
        parts=_PARTS.all(connection, unit_id=unit_id),
        photographs=shown_of(connection, unit_id, path),
        made_us=now_us,
        zone=unit.zone,
        specification=specification_of(connection, unit),
        faults=faults_of(connection, unit_id),
    )


def _not_graded(line: GradeLine) -> str | None:
    if line.grade_id is None:
        return "not graded"
    if not line.holds:
        return GRADED_BEFORE
    return None if line.tested else "not tested"


def _before_after(lines: SubjectLines) -> Iterable[BeforeAfter]:
    for part in lines.parts:
        earlier, later = for_buyers(part.before), for_buyers(part.after)
        for name in dict.fromkeys((*earlier, *later)):
            label = (earlier.get(name) or later[name]).label
            was, now = (figures[name].shown if name in figures else "" for figures in (earlier, later))
            yield BeforeAfter(lines.label, part.part, label, was, now)


def for_buyers(figures: Figures) -> dict[str, Fact]:
    """The figures that a buyer cares for, by name."""
    return {fact.name: fact for fact in facts(figures) if fact.name in _FOR_BUYERS}
