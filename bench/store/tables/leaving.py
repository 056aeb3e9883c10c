"""How units left: sold, handed back to their owner, kept for the shop, scrapped, broken for parts."""

from __future__ import annotations

from sqlalchemy import Index, Text, text
from sqlmodel import Field, SQLModel

from bench.store.tables.base import STRICT, check, yes_or_no


class WayOut(SQLModel, table=True):
    """One leaving of a unit. `ended_us`: it came in again; a unit has at most one that has not ended.

    `price_minor`: what an owner pays for the repair; NULL: not typed. `tax_minor`: how much of it is
    tax that the shop passes on. `proceeds_minor`: what scrap brought.
    """

    __tablename__ = "way_out"
    __table_args__ = (
        check("way", "way IN ('sold', 'handed back', 'kept', 'scrapped', 'parts')"),
        check("price", "price_minor IS NULL OR price_minor >= 0"),
        check("proceeds", "proceeds_minor >= 0"),
        check("tax", "tax_minor BETWEEN 0 AND COALESCE(price_minor, 0)"),
        yes_or_no("removed"),
        Index("ix_way_out_unit_id", "unit_id"),
        Index("ix_way_out_at_us", "at_us"),
        Index(
            "uq_way_out_out", "unit_id", unique=True, sqlite_where=text("removed = 0 AND ended_us IS NULL")
        ),
        Index("ix_way_out_out", "way", "unit_id", sqlite_where=text("removed = 0 AND ended_us IS NULL")),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    unit_id: int = Field(foreign_key="unit.id")
    way: str = Field(sa_type=Text)
    at_us: int
    person_id: int | None = Field(default=None, foreign_key="person.id")
    note: str = Field(default="", sa_type=Text)
    price_minor: int | None = None
    proceeds_minor: int = 0
    ended_us: int | None = None
    removed: int = 0
    tax_minor: int = 0
