"""Routes: the ordered list of tasks that a kind of job needs, and what each takes."""

from __future__ import annotations

from sqlalchemy import Index, Text, UniqueConstraint
from sqlmodel import Field, SQLModel

from bench.store.tables.base import (
    NUMBERED_ONCE,
    STRICT,
    check,
    hazard_kind,
    kind_of_test,
    unique_while_kept,
    yes_or_no,
)


class Route(SQLModel, table=True):
    """A kind of job."""

    __tablename__ = "route"
    __table_args__ = (yes_or_no("removed"), unique_while_kept("route"), STRICT)

    id: int | None = Field(default=None, primary_key=True)
    name: str = Field(sa_type=Text)
    removed: int = 0


class RouteTask(SQLModel, table=True):
    """A task that units on this route are given. `opens`: it takes the cover off. `test`: a kind of test."""

    __tablename__ = "route_task"
    __table_args__ = (
        check("estimate", "estimate_minutes > 0"),
        yes_or_no("unattended"),
        yes_or_no("lid_off"),
        yes_or_no("opens"),
        hazard_kind(),
        kind_of_test(),
        yes_or_no("removed"),
        Index("ix_route_task_route_id", "route_id"),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    route_id: int = Field(foreign_key="route.id")
    stage_id: int = Field(foreign_key="stage.id")
    position: int
    name: str = Field(sa_type=Text)
    estimate_minutes: int
    unattended: int = 0
    lid_off: int = 0
    removed: int = 0
    opens: int = 0
    hazard: str = Field(default="", sa_type=Text)
    test: str = Field(default="", sa_type=Text)


class RouteUse(SQLModel, table=True):
    """What a route's task takes of a consumable, in thousandths of the base unit."""

    __tablename__ = "route_use"
    __table_args__ = (
        UniqueConstraint("route_task_id", "consumable_id"),
        check("quantity", "quantity > 0"),
        NUMBERED_ONCE,
    )

    id: int | None = Field(default=None, primary_key=True)
    route_task_id: int = Field(foreign_key="route_task.id")
    consumable_id: int = Field(foreign_key="consumable.id")
    quantity: int
