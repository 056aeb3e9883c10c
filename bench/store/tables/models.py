"""What the shop writes down of a model: a page, how it comes apart, which screw goes where."""

from __future__ import annotations

from sqlalchemy import Index, Text, text
from sqlmodel import Field, SQLModel

from bench.store.tables.base import STRICT, check, yes_or_no


class ModelPage(SQLModel, table=True):
    """The shop's page of a model, made when something is first written on it.

    Units are of it by maker and model, capitals apart; there is no key, as both are typed.
    """

    __tablename__ = "model_page"
    __table_args__ = (
        yes_or_no("removed"),
        Index(
            "uq_model_page_name",
            text("model COLLATE NOCASE"),
            text("maker COLLATE NOCASE"),
            unique=True,
            sqlite_where=text("removed = 0"),
        ),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    maker: str = Field(default="", sa_type=Text)
    model: str = Field(sa_type=Text)
    battery: str = Field(default="", sa_type=Text)
    drives: str = Field(default="", sa_type=Text)
    memory: str = Field(default="", sa_type=Text)
    traps: str = Field(default="", sa_type=Text)
    note: str = Field(default="", sa_type=Text)
    removed: int = 0


class ModelStep(SQLModel, table=True):
    """One step of taking such a machine apart, in order."""

    __tablename__ = "model_step"
    __table_args__ = (yes_or_no("removed"), Index("ix_model_step_page_id", "page_id", "position"), STRICT)

    id: int | None = Field(default=None, primary_key=True)
    page_id: int = Field(foreign_key="model_page.id")
    position: int
    words: str = Field(sa_type=Text)
    removed: int = 0


class ModelScrew(SQLModel, table=True):
    """Screws of one kind at one place. `torque_mnm`: in millinewton metres; NULL: not known."""

    __tablename__ = "model_screw"
    __table_args__ = (
        check("count", '"count" > 0'),
        check("torque", "torque_mnm IS NULL OR torque_mnm > 0"),
        yes_or_no("removed"),
        Index("ix_model_screw_page_id", "page_id"),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    page_id: int = Field(foreign_key="model_page.id")
    place: str = Field(sa_type=Text)
    size: str = Field(default="", sa_type=Text)
    count: int
    torque_mnm: int | None = None
    note: str = Field(default="", sa_type=Text)
    removed: int = 0
