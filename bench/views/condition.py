"""A unit's condition: its readings with their verdicts, and what to do with its battery."""

from __future__ import annotations

import json
import sqlite3
from dataclasses import dataclass
from typing import Any

from bench.desk import Desk
from bench.domain.amounts import Instant
from bench.domain.condition.battery_choice import BatteryChoice, Weighed
from bench.domain.condition.fields import AFTER
from bench.domain.condition.readings import (
    ReadingLine,
    SubjectLines,
    battery_choices,
    by_subject,
    reading_line,
)
from bench.domain.holding import Condition
from bench.domain.money import read_money
from bench.errors import NotFound
from bench.views.binder import Query, shared
from bench.views.particulars import particulars
from bench.views.shop import facts


@dataclass(frozen=True, slots=True)
class ConditionSheet:
    """Everything measured on a unit. `batteries`: what to do with each pack that was read."""

    unit_id: int
    tag: str
    model: str
    cell_finding: str | None
    subjects: tuple[SubjectLines, ...]
    batteries: tuple[BatteryChoice, ...]
    currency: str
    zone: str

    @property
    def not_measured(self) -> tuple[str, ...]:
        """The labels of what nobody measured, in order."""
        return tuple(lines.label for lines in self.subjects if not lines.measured)


@dataclass(frozen=True, slots=True)
class _Reading:
    """A reading as it is kept."""

    reading_id: int
    moment: str
    subject: str
    source: str
    at_us: Instant
    person: str
    drive_id: int | None
    drive: str
    note: str
    figures: dict[str, Any]


_READINGS = Query(
    _Reading,
    """
SELECT reading.id AS reading_id, reading.moment, reading.subject, reading.source, reading.at_us,
       person.name AS person, reading.drive_id,
       COALESCE(TRIM(drive.model || ' ' || drive.serial), '') AS drive, reading.note, reading.figures
FROM reading JOIN person ON person.id = reading.person_id LEFT JOIN drive ON drive.id = reading.drive_id
WHERE reading.unit_id = :unit_id AND reading.removed = 0 ORDER BY reading.at_us DESC, reading.id DESC
""",
    figures=json.loads,
)


def read_condition(desk: Desk, unit_id: int) -> ConditionSheet:
    """Everything measured on a unit, before and after, with verdicts. NotFound when there is no such unit."""
    with desk.store.read() as connection:
        return condition_of_unit(connection, unit_id)


def weigh_battery(
    desk: Desk, unit_id: int, *, pack_text: str = "", gain_text: str = "", fitted: str = ""
) -> tuple[BatteryChoice, ...]:
    """What to do with each of a unit's packs, weighed by cost. Nothing is kept.

    `pack_text`: what a new pack costs; `gain_text`: what it adds to the sale; `fitted`: empty for what a
    reading noted. Time counts at the shop's rate. NotFound when no battery was read.
    """
    with desk.store.read() as connection:
        sheet = condition_of_unit(connection, unit_id)
        shop = facts(connection)
    weighed = Weighed(
        pack_minor=read_money(pack_text, shop.currency) if pack_text.strip() else None,
        gain_minor=read_money(gain_text, shop.currency) if gain_text.strip() else None,
        rate_minor_per_hour=shop.rate_minor_per_hour,
    )
    choices = battery_choices(_battery(sheet.subjects), fitted.strip().casefold(), weighed)
    if not choices:
        raise NotFound(
            f"No battery of unit {sheet.tag} was read.", "Type its figures or read its file first."
        )
    return choices


def condition_of_unit(connection: sqlite3.Connection, unit_id: int) -> ConditionSheet:
    """The same as read_condition, within a snapshot that other reads share."""
    unit = particulars(connection, unit_id)
    readings = _READINGS.each(connection, unit_id=unit_id)
    subjects = by_subject(_line(reading, unit.condition) for reading in readings)
    return ConditionSheet(
        unit_id=unit_id,
        tag=unit.tag,
        model=unit.name,
        cell_finding=unit.cell_finding,
        subjects=subjects,
        batteries=battery_choices(_battery(subjects)),
        currency=unit.currency,
        zone=unit.zone,
    )


def _battery(subjects: tuple[SubjectLines, ...]) -> SubjectLines:
    return next(lines for lines in subjects if lines.subject == "battery")


def _line(reading: _Reading, held: Condition) -> ReadingLine:
    holds = reading.moment != AFTER or held.holds(reading.at_us)
    return reading_line(**shared(_Reading, reading), holds=holds)
