"""What a unit is made of: told by the machine itself, or typed."""

from __future__ import annotations

from sqlalchemy import Index, Text, text
from sqlmodel import Field, SQLModel

from bench.store.tables.base import STRICT, check, yes_or_no


class Specification(SQLModel, table=True):
    """A unit's specification as it was known at one time: the newest counts, earlier ones are kept.

    `memory_modules` and `drives` are JSON lists with the unit of measure in each name. `file_digest`: SHA-256
    of the file it was read from, empty where it was typed. `told`: what was amiss with that file.
    """

    __tablename__ = "specification"
    __table_args__ = (
        check("source", "source IN ('typed', 'collector')"),
        check("memory_modules", "memory_modules IS NULL OR json_valid(memory_modules)"),
        check("drives", "drives IS NULL OR json_valid(drives)"),
        check("cores", "cores IS NULL OR cores >= 0"),
        check("memory", "memory_bytes IS NULL OR memory_bytes >= 0"),
        check("soldered", "memory_soldered_bytes IS NULL OR memory_soldered_bytes >= 0"),
        check("slots", "memory_slots IS NULL OR memory_slots >= 0"),
        check("pixels", "(screen_pixels_across IS NULL) = (screen_pixels_down IS NULL)"),
        check("diagonal", "screen_diagonal_mm IS NULL OR screen_diagonal_mm > 0"),
        check("firmware_lock", "firmware_lock IS NULL OR firmware_lock IN ('none seen', 'locked')"),
        check("account_lock", "account_lock IS NULL OR account_lock IN ('none seen', 'locked')"),
        check("digest", "(source = 'collector') = (file_digest <> '')"),
        Index("ix_specification_unit_id", "unit_id", "removed"),
        Index(
            "ix_specification_file_digest",
            "file_digest",
            sqlite_where=text("file_digest <> '' AND removed = 0"),
        ),
        yes_or_no("removed"),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    unit_id: int = Field(foreign_key="unit.id")
    source: str = Field(sa_type=Text)
    at_us: int
    person_id: int = Field(foreign_key="person.id")
    processor: str | None = Field(default=None, sa_type=Text)
    cores: int | None = None
    memory_bytes: int | None = None
    memory_slots: int | None = None
    memory_soldered_bytes: int | None = None
    memory_modules: str | None = Field(default=None, sa_type=Text)
    memory_seen_bytes: int | None = None
    drives: str | None = Field(default=None, sa_type=Text)
    screen_diagonal_mm: int | None = None
    screen_pixels_across: int | None = None
    screen_pixels_down: int | None = None
    screen_panel: str | None = Field(default=None, sa_type=Text)
    graphics: str | None = Field(default=None, sa_type=Text)
    wireless: str | None = Field(default=None, sa_type=Text)
    battery: str | None = Field(default=None, sa_type=Text)
    battery_design_uwh: int | None = None
    battery_design_uah: int | None = None
    keyboard_layout: str | None = Field(default=None, sa_type=Text)
    colour: str | None = Field(default=None, sa_type=Text)
    system: str | None = Field(default=None, sa_type=Text)
    licence: str | None = Field(default=None, sa_type=Text)
    firmware_version: str | None = Field(default=None, sa_type=Text)
    firmware_on: str | None = Field(default=None, sa_type=Text)
    firmware_lock: str | None = Field(default=None, sa_type=Text)
    account_lock: str | None = Field(default=None, sa_type=Text)
    file_digest: str = Field(default="", sa_type=Text)
    told: str = Field(default="", sa_type=Text)
    removed: int = 0
