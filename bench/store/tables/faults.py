"""Faults of units, and tests with their outcomes: each attempt is a row."""

from __future__ import annotations

from sqlalchemy import ForeignKey, Index, Text, text
from sqlmodel import Field, SQLModel

from bench.store.tables.base import STRICT, check, kind_of_test, yes_or_no

_OPEN = "state = 'open' AND removed = 0"


class Fault(SQLModel, table=True):
    """What is wrong with a unit, as it was seen, and what became of it.

    `task_id`, `stage_id`: at which step it was found, by `person_id`. `place`: empty while not said. `done`:
    what was done, or why it stays; the buyer is told. `closed_by_test_id`: the test that showed it cured.
    """

    __tablename__ = "fault"
    __table_args__ = (
        check(
            "place",
            "place IN ('', 'display', 'lid', 'hinge', 'keyboard', 'touchpad', 'battery', 'charger', "
            "'charging port', 'ports', 'board', 'fan', 'heat sink', 'memory', 'drive', 'camera', 'speakers', "
            "'wireless', 'case', 'screws', 'system', 'other')",
        ),
        check("origin", "origin IN ('unknown', 'before', 'ours', 'part')"),
        check("state", "state IN ('open', 'cured', 'stays')"),
        check("closed", "(state = 'open') = (closed_us IS NULL)"),
        check("closer", "(closed_us IS NULL) = (closed_by_id IS NULL)"),
        check("closing_test", "closed_by_test_id IS NULL OR state = 'cured'"),
        check("told", "state <> 'stays' OR done <> ''"),
        check("symptom", "symptom <> ''"),
        yes_or_no("removed"),
        Index("ix_fault_unit_id", "unit_id", "state"),
        Index("ix_fault_task_id", "task_id", sqlite_where=text("task_id IS NOT NULL")),
        Index(
            "ix_fault_closed_by_test_id",
            "closed_by_test_id",
            sqlite_where=text("closed_by_test_id IS NOT NULL"),
        ),
        Index("ix_fault_open", "unit_id", "found_us", sqlite_where=text(_OPEN)),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    unit_id: int = Field(foreign_key="unit.id")
    symptom: str = Field(sa_type=Text)
    place: str = Field(default="", sa_type=Text)
    found_us: int
    person_id: int = Field(foreign_key="person.id")
    task_id: int | None = Field(default=None, foreign_key="task.id")
    stage_id: int | None = Field(default=None, foreign_key="stage.id")
    origin: str = Field(default="unknown", sa_type=Text)
    suspected: str = Field(default="", sa_type=Text)
    cause: str = Field(default="", sa_type=Text)
    state: str = Field(default="open", sa_type=Text)
    done: str = Field(default="", sa_type=Text)
    closed_us: int | None = None
    closed_by_id: int | None = Field(default=None, foreign_key="person.id")
    # A test names the fault it opened, and a fault the test that closed it: one waits for the other.
    closed_by_test_id: int | None = Field(
        default=None, sa_column_args=(ForeignKey("test_run.id", use_alter=True),)
    )
    removed: int = 0


class TestRun(SQLModel, table=True):
    """One attempt at a test. `figures`: JSON with the unit of measure in each name.

    `ran_us`: how long it ran. `fault_id`: the fault that it opened, or showed again.
    """

    __test__ = False  # no test of pytest's
    __tablename__ = "test_run"
    __table_args__ = (
        kind_of_test("kind", none=False),
        check("outcome", "outcome IN ('passed', 'failed', 'broken off')"),
        check("ran", "ran_us IS NULL OR ran_us >= 0"),
        check("figures", "json_valid(figures)"),
        check("fault", "fault_id IS NULL OR outcome <> 'passed'"),
        yes_or_no("removed"),
        Index("ix_test_run_unit_id", "unit_id", "kind", "at_us"),
        Index("ix_test_run_at_us", "at_us"),
        Index("ix_test_run_task_id", "task_id", "at_us", sqlite_where=text("task_id IS NOT NULL")),
        Index("ix_test_run_fault_id", "fault_id", sqlite_where=text("fault_id IS NOT NULL")),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    unit_id: int = Field(foreign_key="unit.id")
    task_id: int | None = Field(default=None, foreign_key="task.id")
    kind: str = Field(sa_type=Text)
    outcome: str = Field(sa_type=Text)
    ran_us: int | None = None
    figures: str = Field(default="{}", sa_type=Text)
    note: str = Field(default="", sa_type=Text)
    at_us: int
    person_id: int = Field(foreign_key="person.id")
    fault_id: int | None = Field(default=None, foreign_key="fault.id")
    removed: int = 0
