"""Photographs of units: what is on record of each file that lies in the folder beside the data file."""

from __future__ import annotations

from sqlalchemy import Index, Text, text
from sqlmodel import Field, SQLModel

from bench.store.tables.base import STRICT, check, yes_or_no


class Photograph(SQLModel, table=True):
    """A picture of a unit, and what else it shows. Its file: `folder`/`name` in the folder of photographs.

    `folder` is the unit's tag when it was kept. `sha256`: of the file as it is kept, in hexadecimal.
    `taken_us`: when it was taken, where its file said it. `shown`: it goes into papers. `erased_us`: its file
    was deleted then, and with it name and hash. A removed one's file stays. `model_page_id`: it stands on the
    page of the unit's model, `model_step_id` at one of its steps; it remains the unit's, and goes with it.
    """

    __tablename__ = "photograph"
    __table_args__ = (
        check("kind", "kind IN ('jpeg', 'png', 'webp')"),
        check("size", "size_bytes > 0"),
        check("erased", "(erased_us IS NULL) = (name <> '')"),
        check("sha256", "(erased_us IS NULL) = (length(sha256) = 64)"),
        check("model_step", "model_step_id IS NULL OR model_page_id IS NOT NULL"),
        yes_or_no("shown"),
        yes_or_no("removed"),
        Index("ix_photograph_unit_id", "unit_id"),
        Index("ix_photograph_task_id", "task_id"),
        Index("ix_photograph_grade_id", "grade_id"),
        Index("ix_photograph_fault_id", "fault_id", sqlite_where=text("fault_id IS NOT NULL")),
        Index("ix_photograph_model_page_id", "model_page_id", sqlite_where=text("model_page_id IS NOT NULL")),
        Index("ix_photograph_model_step_id", "model_step_id", sqlite_where=text("model_step_id IS NOT NULL")),
        Index(
            "uq_photograph_unit_id_sha256",
            "unit_id",
            "sha256",
            unique=True,
            sqlite_where=text("removed = 0 AND erased_us IS NULL"),
        ),
        Index(
            "uq_photograph_unit_id_folder_name",
            "unit_id",
            "folder",
            "name",
            unique=True,
            sqlite_where=text("erased_us IS NULL"),
        ),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    unit_id: int = Field(foreign_key="unit.id")
    folder: str = Field(sa_type=Text)
    name: str = Field(sa_type=Text)
    sha256: str = Field(sa_type=Text)
    size_bytes: int
    kind: str = Field(sa_type=Text)
    taken_us: int | None = None
    kept_us: int
    person_id: int = Field(foreign_key="person.id")
    # What it shows of the unit: one foreign key a subject, each with its index above.
    task_id: int | None = Field(default=None, foreign_key="task.id")
    grade_id: int | None = Field(default=None, foreign_key="grade.id")
    fault_id: int | None = Field(default=None, foreign_key="fault.id")
    model_page_id: int | None = Field(default=None, foreign_key="model_page.id")
    model_step_id: int | None = Field(default=None, foreign_key="model_step.id")
    shown: int = 0
    erased_us: int | None = None
    removed: int = 0


class PhotographCaption(SQLModel, table=True):
    """What is said under a photograph; said again, it is another row.

    A row of its own, so that saying it again is undone like anything else while it stands here alone.
    """

    __tablename__ = "photograph_caption"
    __table_args__ = (
        yes_or_no("removed"),
        Index("ix_photograph_caption_photograph_id", "photograph_id"),
        Index(
            "uq_photograph_caption_photograph_id",
            "photograph_id",
            unique=True,
            sqlite_where=text("removed = 0"),
        ),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    photograph_id: int = Field(foreign_key="photograph.id")
    caption: str = Field(sa_type=Text)
    removed: int = 0
