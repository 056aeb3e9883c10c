"""The journal: who did what when, with what is needed to take it back."""

from __future__ import annotations

from sqlalchemy import Index, Text
from sqlmodel import Field, SQLModel

from bench.store.revision import SHAPE
from bench.store.tables.base import STRICT, check


class Journal(SQLModel, table=True):
    """One change by one person. `changes` is JSON: each row's values before and after, in a `shape`."""

    __tablename__ = "journal"
    __table_args__ = (
        check("via", "via IN ('dashboard', 'command', 'demo')"),
        check("changes", "json_valid(changes)"),
        check("shape", "shape >= 0"),
        Index("uq_journal_takes_back_id", "takes_back_id", unique=True),
        Index("ix_journal_unit_id", "unit_id"),
        Index("ix_journal_person_id", "person_id"),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    at_us: int
    person_id: int = Field(foreign_key="person.id")
    action: str = Field(sa_type=Text)
    summary: str = Field(sa_type=Text)
    via: str = Field(sa_type=Text)
    unit_id: int | None = None
    reason: str = Field(default="", sa_type=Text)
    changes: str = Field(sa_type=Text)
    takes_back_id: int | None = Field(default=None, foreign_key="journal.id")
    # Who restores writes a line without changes into a copy of any revision, and says no shape.
    shape: int = Field(default=SHAPE, sa_column_kwargs={"server_default": "1"})


class BookingKey(SQLModel, table=True):
    """A script's own key for a command, and the line that was booked with it: written once, never changed.

    `asked`: the fingerprint of the command, so that another one with the same key is noticed.
    """

    __tablename__ = "booking_key"
    __table_args__ = (check("key", "length(key) BETWEEN 1 AND 100"), STRICT)

    key: str = Field(primary_key=True, sa_type=Text)
    journal_id: int = Field(foreign_key="journal.id")
    asked: str = Field(sa_type=Text)


class JournalRow(SQLModel, table=True):
    """One row that a line of the journal touched. The file writes it itself, with the line."""

    __tablename__ = "journal_row"
    __table_args__ = ({"sqlite_strict": True, "sqlite_with_rowid": False},)

    table_name: str = Field(sa_type=Text, primary_key=True)
    row_id: int = Field(primary_key=True)
    journal_id: int = Field(primary_key=True, foreign_key="journal.id")
