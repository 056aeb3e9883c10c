"""A unit's condition: readings before and after, its drives and their wipes, its grade."""

from __future__ import annotations

from sqlalchemy import Index, Text
from sqlmodel import Field, SQLModel

from bench.store.tables.base import STRICT, check, yes_or_no


class Reading(SQLModel, table=True):
    """Measured values of one subject at one time. `figures` is JSON with the unit of measure in each name."""

    __tablename__ = "reading"
    __table_args__ = (
        check("moment", "moment IN ('before', 'after')"),
        check(
            "subject",
            "subject IN ('battery', 'drive', 'memory', 'heat', 'screen', 'ports', 'keyboard', 'screws')",
        ),
        check("source", "source IN ('typed', 'power_supply', 'nvme_log', 'smartctl')"),
        check("figures", "json_valid(figures)"),
        Index("ix_reading_unit_id", "unit_id"),
        Index("ix_reading_drive_id", "drive_id"),
        yes_or_no("removed"),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    unit_id: int = Field(foreign_key="unit.id")
    drive_id: int | None = Field(default=None, foreign_key="drive.id")
    moment: str = Field(sa_type=Text)
    subject: str = Field(sa_type=Text)
    source: str = Field(sa_type=Text)
    figures: str = Field(sa_type=Text)
    note: str = Field(default="", sa_type=Text)
    at_us: int
    person_id: int = Field(foreign_key="person.id")
    removed: int = 0


class Drive(SQLModel, table=True):
    """A storage drive, in a unit or (`unit_id` NULL) on the shelf.

    `came_in_unit_id`: the unit in which it came to the shop, NULL for one that came by itself.
    `outside_us`: until when a buyer had it, NULL where none did.
    """

    __tablename__ = "drive"
    __table_args__ = (
        check("size", "size_bytes IS NULL OR size_bytes > 0"),
        Index("ix_drive_unit_id", "unit_id"),
        Index("ix_drive_serial", "serial"),
        Index("ix_drive_came_in_unit_id", "came_in_unit_id"),
        yes_or_no("removed"),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    unit_id: int | None = Field(default=None, foreign_key="unit.id")
    maker: str = Field(default="", sa_type=Text)
    model: str = Field(default="", sa_type=Text)
    serial: str = Field(default="", sa_type=Text)
    media_type: str = Field(default="", sa_type=Text)
    media_number: str = Field(default="", sa_type=Text)
    size_bytes: int | None = None
    came_from: str = Field(default="", sa_type=Text)
    removed: int = 0
    came_in_unit_id: int | None = Field(default=None, foreign_key="unit.id")
    outside_us: int | None = None


class Wipe(SQLModel, table=True):
    """One sanitization of a drive and its verification, in the words of NIST SP 800-88."""

    __tablename__ = "wipe"
    __table_args__ = (
        check("method", "method IN ('clear', 'purge', 'destroy')"),
        check("result", "result IN ('passed', 'failed', 'not verified')"),
        check("verified", "(result = 'not verified') = (verified_us IS NULL)"),
        Index("ix_wipe_drive_id", "drive_id"),
        yes_or_no("removed"),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    drive_id: int = Field(foreign_key="drive.id")
    method: str = Field(sa_type=Text)
    technique: str = Field(sa_type=Text)
    tool: str = Field(default="", sa_type=Text)
    tool_version: str = Field(default="", sa_type=Text)
    confidentiality_before: str = Field(default="", sa_type=Text)
    confidentiality_after: str = Field(default="", sa_type=Text)
    destination: str = Field(default="", sa_type=Text)
    location: str = Field(default="", sa_type=Text)
    title: str = Field(default="", sa_type=Text)
    contact: str = Field(default="", sa_type=Text)
    person_id: int = Field(foreign_key="person.id")
    wiped_us: int
    verification: str = Field(default="", sa_type=Text)
    result: str = Field(sa_type=Text)
    verified_by_id: int | None = Field(default=None, foreign_key="person.id")
    verified_us: int | None = None
    verifier_title: str = Field(default="", sa_type=Text)
    verifier_location: str = Field(default="", sa_type=Text)
    verifier_contact: str = Field(default="", sa_type=Text)
    note: str = Field(default="", sa_type=Text)
    removed: int = 0


class Unwiped(SQLModel, table=True):
    """Why a unit may be listed without something that is wanted before: a wipe at first, hence the name.

    `covers`: what of `domain.holding.MATTERS`, words apart.
    """

    __tablename__ = "unwiped"
    __table_args__ = (Index("ix_unwiped_unit_id", "unit_id"), yes_or_no("removed"), STRICT)

    id: int | None = Field(default=None, primary_key=True)
    unit_id: int = Field(foreign_key="unit.id")
    person_id: int = Field(foreign_key="person.id")
    at_us: int
    reason: str = Field(sa_type=Text)
    removed: int = 0
    covers: str = Field(default="wipe", sa_type=Text)


class GradeStep(SQLModel, table=True):
    """One step of the shop's own scale, for function or for looks, best first."""

    __tablename__ = "grade_step"
    __table_args__ = (check("side", "side IN ('function', 'looks')"), yes_or_no("removed"), STRICT)

    id: int | None = Field(default=None, primary_key=True)
    side: str = Field(sa_type=Text)
    position: int
    name: str = Field(sa_type=Text)
    meaning: str = Field(sa_type=Text)
    removed: int = 0


class Grade(SQLModel, table=True):
    """What is said of one part of a unit, function and looks apart. Part 'whole' is the unit itself."""

    __tablename__ = "grade"
    __table_args__ = (
        check("part", "part IN ('whole', 'lid', 'screen', 'keyboard', 'case', 'battery', 'ports')"),
        yes_or_no("tested"),
        Index("ix_grade_unit_id", "unit_id"),
        yes_or_no("removed"),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    unit_id: int = Field(foreign_key="unit.id")
    part: str = Field(sa_type=Text)
    function_step_id: int | None = Field(default=None, foreign_key="grade_step.id")
    looks_step_id: int | None = Field(default=None, foreign_key="grade_step.id")
    sentence: str = Field(default="", sa_type=Text)
    tested: int = 1
    at_us: int
    person_id: int = Field(foreign_key="person.id")
    removed: int = 0
