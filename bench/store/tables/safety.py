"""Ticks of the opening and close-up lists."""

from __future__ import annotations

from sqlalchemy import Text, UniqueConstraint
from sqlmodel import Field, SQLModel

from bench.store.tables.base import NUMBERED_ONCE, check


class SafetyCheck(SQLModel, table=True):
    """One tick of a unit's opening or close-up list during one opening, or going on without it."""

    __tablename__ = "safety_check"
    __table_args__ = (
        UniqueConstraint("unit_id", "lid_count", "list", "item"),
        check("list", "list IN ('opening', 'close_up')"),
        check("without", "(item = 'without') = (reason IS NOT NULL)"),
        NUMBERED_ONCE,
    )

    id: int | None = Field(default=None, primary_key=True)
    unit_id: int = Field(foreign_key="unit.id")
    lid_count: int
    list: str = Field(sa_type=Text)
    item: str = Field(sa_type=Text)
    person_id: int = Field(foreign_key="person.id")
    at_us: int
    screws: int | None = None
    note: str = Field(default="", sa_type=Text)
    reason: str | None = Field(default=None, sa_type=Text)
