"""Moves of units between stages: what the forecast reads."""

from __future__ import annotations

from sqlalchemy import Index, text
from sqlmodel import Field, SQLModel

from bench.store.tables.base import STRICT, check, yes_or_no

_STANDS = text("removed = 0")


class StageMove(SQLModel, table=True):
    """A unit went from one stage, where it had stood since `from_since_us`, to another at `at_us`.

    Never changed or deleted: one that was undone is `removed`, one that was redone is not any more. The line
    of the journal that tells of it is found by `journal_row`, as for every row.
    """

    __tablename__ = "stage_move"
    __table_args__ = (
        check("two_stages", "from_stage_id <> to_stage_id"),
        yes_or_no("removed"),
        # The whole way of a unit, without a look at the table.
        Index(
            "ix_stage_move_unit_id",
            "unit_id",
            "removed",
            "from_stage_id",
            "from_since_us",
            "to_stage_id",
            "at_us",
        ),
        # What stood at a stage, and what came to one, the newest first.
        Index(
            "ix_stage_move_from_stage_id",
            "from_stage_id",
            "at_us",
            "from_since_us",
            sqlite_where=_STANDS,
        ),
        Index("ix_stage_move_to_stage_id", "to_stage_id", "at_us", "unit_id", sqlite_where=_STANDS),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    unit_id: int = Field(foreign_key="unit.id")
    from_stage_id: int = Field(foreign_key="stage.id")
    from_since_us: int
    to_stage_id: int = Field(foreign_key="stage.id")
    at_us: int
    person_id: int = Field(foreign_key="person.id")
    removed: int = 0
