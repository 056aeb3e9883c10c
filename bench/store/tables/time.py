"""Time entries: start, stop, who; and what was corrected in them; what was ticked meanwhile."""

from __future__ import annotations

from sqlalchemy import ForeignKey, Index, Text, UniqueConstraint, text
from sqlmodel import Field, SQLModel

from bench.store.tables.base import NUMBERED_ONCE, check, yes_or_no


class TimeEntry(SQLModel, table=True):
    """Start, stop, who. Open while `stopped_us` is NULL. `kept_us`: when the person last said keep.

    `steady_us`: what the steady clock read at the start, of the computer's run named by `boot`. `fault_id`:
    the fault it was spent on, where that is another than its task's.
    """

    __tablename__ = "time_entry"
    __table_args__ = (
        yes_or_no("attended"),
        check("length", "stopped_us IS NULL OR stopped_us >= started_us"),
        Index("ix_time_entry_task_id", "task_id", "attended", "started_us", "stopped_us"),
        Index("ix_time_entry_started_us", "started_us", "stopped_us", "attended", "task_id", "person_id"),
        Index("ix_time_entry_person_id", "person_id", "attended", "started_us"),
        Index(
            "uq_time_entry_open_attended",
            "person_id",
            unique=True,
            sqlite_where=text("stopped_us IS NULL AND attended = 1"),
        ),
        Index(
            "uq_time_entry_open_unattended",
            "task_id",
            unique=True,
            sqlite_where=text("stopped_us IS NULL AND attended = 0"),
        ),
        Index("ix_time_entry_open", "task_id", sqlite_where=text("stopped_us IS NULL")),
        Index("ix_time_entry_runs", "person_id", "attended", sqlite_where=text("stopped_us IS NULL")),
        # The few entries longer than a day, so that no week has to look far back for what reaches into it.
        Index(
            "ix_time_entry_long",
            "stopped_us",
            "started_us",
            sqlite_where=text("stopped_us - started_us > 86400000000"),
        ),
        Index("ix_time_entry_fault_id", "fault_id", sqlite_where=text("fault_id IS NOT NULL")),
        NUMBERED_ONCE,
    )

    id: int | None = Field(default=None, primary_key=True)
    task_id: int = Field(foreign_key="task.id")
    person_id: int = Field(foreign_key="person.id")
    started_us: int
    stopped_us: int | None = None
    attended: int
    note: str = Field(default="", sa_type=Text)
    kept_us: int | None = None
    steady_us: int | None = None
    boot: str = Field(default="", sa_type=Text)
    fault_id: int | None = Field(default=None, sa_column_args=(ForeignKey("fault.id", use_alter=True),))


class Correction(SQLModel, table=True):
    """The old and new values of a corrected time entry, and why."""

    __tablename__ = "correction"
    __table_args__ = (Index("ix_correction_time_entry_id", "time_entry_id"), NUMBERED_ONCE)

    id: int | None = Field(default=None, primary_key=True)
    time_entry_id: int = Field(foreign_key="time_entry.id")
    person_id: int = Field(foreign_key="person.id")
    at_us: int
    old_started_us: int
    old_stopped_us: int | None = None
    new_started_us: int
    new_stopped_us: int | None = None
    reason: str = Field(sa_type=Text)


class SafetyCheck(SQLModel, table=True):
    """One tick of a unit's opening or closing checklist during one opening, or going on without it."""

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
