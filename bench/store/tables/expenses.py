"""Money that belongs to no unit, and what machines draw while tasks run by themselves."""

from __future__ import annotations

from sqlalchemy import Index, Text, text
from sqlmodel import Field, SQLModel

from bench.store.tables.base import STRICT, check, unique_while_kept, yes_or_no


class Expense(SQLModel, table=True):
    """One general expense or income on a day. `amount_minor`: with tax, above 0 on either side.

    `tax_per_10000`: the rate of the tax in it; NULL: not typed.
    """

    __tablename__ = "expense"
    __table_args__ = (
        check("side", "side IN ('expense', 'income')"),
        check("amount", "amount_minor > 0"),
        check("tax", "tax_per_10000 IS NULL OR tax_per_10000 BETWEEN 0 AND 10000"),
        yes_or_no("removed"),
        Index("ix_expense_day", "day"),
        Index("ix_expense_category", text("category COLLATE NOCASE"), "id"),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    day: str = Field(sa_type=Text)
    side: str = Field(sa_type=Text)
    category: str = Field(sa_type=Text)
    amount_minor: int
    party: str = Field(default="", sa_type=Text)
    note: str = Field(default="", sa_type=Text)
    tax_per_10000: int | None = None
    removed: int = 0


class TaskPower(SQLModel, table=True):
    """What a machine draws while tasks of this name run, in watts; others draw the shop's usual."""

    __tablename__ = "task_power"
    __table_args__ = (
        check("watts", "watts BETWEEN 0 AND 5000"),
        yes_or_no("removed"),
        unique_while_kept("task_power"),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    name: str = Field(sa_type=Text)
    watts: int
    removed: int = 0
