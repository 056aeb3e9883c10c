"""Read a unit's condition: its readings with their verdicts, and what to do with its battery."""

from __future__ import annotations

import json
import sqlite3

from bench.desk import Desk
from bench.domain.condition.battery_choice import BatteryChoice, Weighed
from bench.domain.condition.fields import AFTER
from bench.domain.condition.sheet import (
    ConditionSheet,
    ReadingLine,
    SubjectLines,
    battery_choices,
    by_subject,
    reading_line,
)
from bench.domain.holding import Condition, condition_of
from bench.domain.money import read_money
from bench.errors import NotFound
from bench.views import condition as reads
from bench.views import shop as shop_reads
from bench.views import unit as unit_reads


def read_condition(desk: Desk, unit_id: int) -> ConditionSheet:
    """Everything measured on a unit, before and after, with verdicts. NotFound when there is no such unit."""
    with desk.store.read() as connection:
        return condition_within(connection, unit_id)


def weigh_battery(
    desk: Desk, unit_id: int, *, pack_text: str = "", gain_text: str = "", fitted: str = ""
) -> tuple[BatteryChoice, ...]:
    """What to do with each of a unit's packs, weighed by cost. Nothing is kept.

    `pack_text`: what a new pack costs; `gain_text`: what it adds to the sale; `fitted`: empty for what a
    reading noted. Time counts at the shop's rate. NotFound when no battery was read.
    """
    with desk.store.read() as connection:
        sheet = condition_within(connection, unit_id)
        shop = shop_reads.facts(connection)
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


def condition_within(connection: sqlite3.Connection, unit_id: int) -> ConditionSheet:
    """The same, within a snapshot that other reads share."""
    unit = unit_reads.particulars(connection, unit_id)
    if unit is None:
        raise NotFound(f"There is no unit with number {unit_id}.", "It may have been taken back.")
    held = condition_of(unit["opened_us"], unit["back_us"])
    subjects = by_subject(_line(row, held) for row in reads.readings(connection, unit_id))
    return ConditionSheet(
        unit_id=unit_id,
        tag=unit["tag"],
        model=f"{unit['maker']} {unit['model']}".strip(),
        cell_finding=unit["cell_finding"],
        subjects=subjects,
        batteries=battery_choices(_battery(subjects)),
        currency=unit["currency"],
        zone=unit["zone"],
    )


def _battery(subjects: tuple[SubjectLines, ...]) -> SubjectLines:
    return next(lines for lines in subjects if lines.subject == "battery")


def _line(row: sqlite3.Row, held: Condition) -> ReadingLine:
    return reading_line(
        reading_id=row["id"],
        moment=row["moment"],
        subject=row["subject"],
        source=row["source"],
        at_us=row["at_us"],
        person=row["person"],
        drive_id=row["drive_id"],
        drive=row["drive"],
        note=row["note"],
        figures=json.loads(row["figures"]),
        holds=row["moment"] != AFTER or held.holds(row["at_us"]),
    )
