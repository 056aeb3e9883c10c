"""Repairs of owners' machines: the job, the lines of its quote, and apart from all else the access word."""

from __future__ import annotations

from sqlalchemy import Index, Text, text
from sqlmodel import Field, SQLModel

from bench.store.tables.base import STRICT, check, yes_or_no


class RepairJob(SQLModel, table=True):
    """One repair of a unit that is its owner's. A unit has at most one that is not collected.

    `complaint`: in the owner's words. `arrival`: its state when it came. `data_consent`: what the owner says
    of the data. `answer`: to the quote, on which day and how. `ready_on`: when the owner was told that it
    is ready. `way_out_id`: how it was handed back. `warranty_days`: on the repair; NULL: not said.
    """

    __tablename__ = "repair_job"
    __table_args__ = (
        check(
            "data_consent",
            "data_consent IN ('', 'may be erased', 'must be kept', 'ask first', 'no access given')",
        ),
        check("answer", "answer IS NULL OR answer IN ('accepted', 'declined')"),
        check("answered", "(answer IS NULL) = (answered_on IS NULL)"),
        check("answered_quote", "answer IS NULL OR quoted_on IS NOT NULL"),
        check("collected", "(collected_on IS NULL) = (way_out_id IS NULL)"),
        check("warranty", "warranty_days IS NULL OR warranty_days BETWEEN 0 AND 3650"),
        yes_or_no("removed"),
        Index("ix_repair_job_unit_id", "unit_id"),
        Index("ix_repair_job_way_out_id", "way_out_id"),
        Index(
            "uq_repair_job_open",
            "unit_id",
            unique=True,
            sqlite_where=text("removed = 0 AND collected_on IS NULL"),
        ),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    unit_id: int = Field(foreign_key="unit.id")
    at_us: int
    person_id: int = Field(foreign_key="person.id")
    complaint: str = Field(sa_type=Text)
    came_along: str = Field(default="", sa_type=Text)
    arrival: str = Field(default="", sa_type=Text)
    data_consent: str = Field(default="", sa_type=Text)
    diagnosis: str = Field(default="", sa_type=Text)
    quoted_on: str | None = Field(default=None, sa_type=Text)
    quote_until: str | None = Field(default=None, sa_type=Text)
    answer: str | None = Field(default=None, sa_type=Text)
    answered_on: str | None = Field(default=None, sa_type=Text)
    answered_how: str = Field(default="", sa_type=Text)
    warranty_days: int | None = None
    ready_on: str | None = Field(default=None, sa_type=Text)
    collected_on: str | None = Field(default=None, sa_type=Text)
    way_out_id: int | None = Field(default=None, foreign_key="way_out.id")
    removed: int = 0


class QuoteLine(SQLModel, table=True):
    """One line of a quote or a bill. `price_minor`: of one piece or hour, without tax.

    `beyond`: it was added after the quote was answered, and stands in the bill alone.
    """

    __tablename__ = "quote_line"
    __table_args__ = (
        check("kind", "kind IN ('parts', 'labour', 'other', 'allowance')"),
        check("quantity", "quantity > 0"),
        check("price", "price_minor >= 0"),
        check("tax", "tax_per_10000 BETWEEN 0 AND 10000"),
        yes_or_no("beyond"),
        yes_or_no("removed"),
        Index("ix_quote_line_job_id", "job_id"),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    job_id: int = Field(foreign_key="repair_job.id")
    what: str = Field(sa_type=Text)
    kind: str = Field(sa_type=Text)
    quantity: int
    price_minor: int
    tax_per_10000: int = 0
    beyond: int = 0
    removed: int = 0


class AccessWord(SQLModel, table=True):
    """The word that opens an owner's machine, while its repair lasts. Not journaled, not exported."""

    __tablename__ = "access_word"
    __table_args__ = (Index("uq_access_word_job_id", "job_id", unique=True), STRICT)

    id: int | None = Field(default=None, primary_key=True)
    job_id: int = Field(foreign_key="repair_job.id")
    word: str = Field(sa_type=Text)
    kept_us: int
