"""What a person expects of selling a unit as it is, or of parting it out."""

from __future__ import annotations

from sqlalchemy import Index, Text, text
from sqlmodel import Field, SQLModel

from bench.store.tables.base import STRICT, check, yes_or_no


class WayEstimate(SQLModel, table=True):
    """What a unit would fetch by one of the ways beside repairing it, and the minutes that takes.

    NULL: not typed. What repairing it fetches stands with its purchase.
    """

    __tablename__ = "way_estimate"
    __table_args__ = (
        check("way", "way IN ('as is', 'parts')"),
        check("price", "price_minor IS NULL OR price_minor >= 0"),
        check("minutes", "minutes IS NULL OR minutes >= 0"),
        yes_or_no("removed"),
        Index("uq_way_estimate_unit_id", "unit_id", "way", unique=True, sqlite_where=text("removed = 0")),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    unit_id: int = Field(foreign_key="unit.id")
    way: str = Field(sa_type=Text)
    price_minor: int | None = None
    minutes: int | None = None
    note: str = Field(default="", sa_type=Text)
    removed: int = 0
