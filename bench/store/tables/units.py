"""Units, the stages they pass, the tasks that are done on them, and the routes these come from."""

from __future__ import annotations

from sqlalchemy import ForeignKey, Index, Text, UniqueConstraint, text
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


class Stage(SQLModel, table=True):
    """Where on its way a unit is. `lid_off`: the bottom cover is off there. `final`: the unit has left.

    `lists`: from here on a unit is offered for sale. `sells`: a unit that leaves here is sold.
    """

    __tablename__ = "stage"
    __table_args__ = (
        yes_or_no("lid_off"),
        yes_or_no("final"),
        yes_or_no("lists"),
        yes_or_no("sells"),
        yes_or_no("removed"),
        unique_while_kept("stage"),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    position: int
    name: str = Field(sa_type=Text)
    lid_off: int = 0
    final: int = 0
    removed: int = 0
    lists: int = 0
    sells: int = 0


class StageCount(SQLModel, table=True):
    """How many units stand at a stage: the file keeps it by itself."""

    __tablename__ = "stage_count"
    __table_args__ = (STRICT,)

    stage_id: int = Field(primary_key=True)
    units: int


class WayCount(SQLModel, table=True):
    """How many of the units at a stage are out by one way: the file keeps it by itself."""

    __tablename__ = "way_count"
    __table_args__ = (STRICT,)

    stage_id: int = Field(primary_key=True)
    way: str = Field(primary_key=True, sa_type=Text)
    units: int


class Unit(SQLModel, table=True):
    """One laptop. `owner_id`: whose it is where it was brought in for repair, not bought.

    `lid_count` grows each time its lid goes back on: ticks belong to one opening.

    `opened_us`: when its cover last came off. `back_us`: when it last came back from outside the shop.
    """

    __tablename__ = "unit"
    __table_args__ = (
        yes_or_no("lid_off"),
        yes_or_no("removed"),
        check("lid_count", "lid_count >= 0"),
        check("price", "price_minor IS NULL OR price_minor >= 0"),
        check("screws", "screws_out IS NULL OR screws_out >= 0"),
        check("held", "(held_reason IS NULL) = (held_us IS NULL)"),
        check("cell", "cell_finding IS NULL OR cell_finding IN ('swollen', 'punctured', 'wet')"),
        check("tag", "tag NOT GLOB '*[^0-9]*' AND length(tag) >= 2"),
        Index("ix_unit_stage_id", "stage_id", "removed"),
        Index("ix_unit_model", text("model COLLATE NOCASE")),
        Index("ix_unit_serial", text("lower(replace(serial, ' ', ''))")),
        Index("ix_unit_owner_id", "owner_id", sqlite_where=text("owner_id IS NOT NULL")),
        unique_while_kept("unit", "tag"),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    tag: str = Field(sa_type=Text)
    maker: str = Field(default="", sa_type=Text)
    model: str = Field(sa_type=Text)
    serial: str = Field(default="", sa_type=Text)
    note: str = Field(default="", sa_type=Text)
    route_id: int | None = Field(default=None, foreign_key="route.id")
    stage_id: int = Field(foreign_key="stage.id")
    stage_since_us: int
    added_us: int
    due_on: str | None = Field(default=None, sa_type=Text)
    price_minor: int | None = None
    owner_id: int | None = Field(default=None, foreign_key="party.id")
    held_reason: str | None = Field(default=None, sa_type=Text)
    held_us: int | None = None
    lid_off: int = 0
    lid_count: int = 0
    screws_out: int | None = None
    cell_finding: str | None = Field(default=None, sa_type=Text)
    removed: int = 0
    opened_us: int | None = None
    back_us: int | None = None


class Task(SQLModel, table=True):
    """A piece of work on a unit; it belongs to the stage at which the unit stands while it is done.

    `opens`: it takes the cover off. Where no task of a unit says so, its first cover-off task does.
    `test`: it ends with an outcome, of that kind. `fault_id`: the fault it is done for. `public`: a listing
    may name it.
    """

    __tablename__ = "task"
    __table_args__ = (
        check("estimate", "estimate_minutes > 0"),
        yes_or_no("unattended"),
        yes_or_no("lid_off"),
        yes_or_no("opens"),
        hazard_kind(),
        kind_of_test(),
        yes_or_no("public"),
        yes_or_no("removed"),
        check("state", "state IN ('todo', 'done', 'skipped')"),
        check("ended", "(state = 'todo') = (ended_us IS NULL)"),
        check("skipped", "(state = 'skipped') = (skip_reason IS NOT NULL)"),
        Index("ix_task_unit_id", "unit_id", "state"),
        Index("ix_task_ended_us", "ended_us"),
        Index("ix_task_name", "name", "ended_us"),
        Index("ix_task_fault_id", "fault_id", sqlite_where=text("fault_id IS NOT NULL")),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    unit_id: int = Field(foreign_key="unit.id")
    stage_id: int = Field(foreign_key="stage.id")
    position: int
    name: str = Field(sa_type=Text)
    estimate_minutes: int
    unattended: int = 0
    lid_off: int = 0
    state: str = Field(default="todo", sa_type=Text)
    ended_us: int | None = None
    skip_reason: str | None = Field(default=None, sa_type=Text)
    route_task_id: int | None = Field(default=None, foreign_key="route_task.id")
    removed: int = 0
    opens: int = 0
    hazard: str = Field(default="", sa_type=Text)
    test: str = Field(default="", sa_type=Text)
    fault_id: int | None = Field(default=None, sa_column_args=(ForeignKey("fault.id", use_alter=True),))
    public: int = 0


class TaskUse(SQLModel, table=True):
    """What a task takes of a consumable per job, in thousandths of the base unit."""

    __tablename__ = "task_use"
    __table_args__ = (
        UniqueConstraint("task_id", "consumable_id"),
        Index("ix_task_use_task_id", "task_id", "consumable_id", "quantity"),
        check("quantity", "quantity > 0"),
        NUMBERED_ONCE,
    )

    id: int | None = Field(default=None, primary_key=True)
    task_id: int = Field(foreign_key="task.id")
    consumable_id: int = Field(foreign_key="consumable.id")
    quantity: int


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


class Route(SQLModel, table=True):
    """A kind of job."""

    __tablename__ = "route"
    __table_args__ = (yes_or_no("removed"), unique_while_kept("route"), STRICT)

    id: int | None = Field(default=None, primary_key=True)
    name: str = Field(sa_type=Text)
    removed: int = 0


class RouteTask(SQLModel, table=True):
    """A task that units on this route are given. `opens`: it takes the cover off. `test`: a kind of test.

    `public`: a listing may name it.
    """

    __tablename__ = "route_task"
    __table_args__ = (
        check("estimate", "estimate_minutes > 0"),
        yes_or_no("unattended"),
        yes_or_no("lid_off"),
        yes_or_no("opens"),
        hazard_kind(),
        kind_of_test(),
        yes_or_no("public"),
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
    public: int = 0


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
