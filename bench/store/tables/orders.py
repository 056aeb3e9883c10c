"""Parts with a life: which part it is, what was ordered, and the tasks that wait for it."""

from __future__ import annotations

from sqlalchemy import Index, Text, text
from sqlmodel import Field, SQLModel

from bench.store.tables.base import STRICT, check, yes_or_no

# Orders of which something is still to come or to be done; the texts that read them say it in these words.
UNDER_WAY = "state IN ('wanted', 'ordered', 'wrong', 'broken', 'sent back')"


class Component(SQLModel, table=True):
    """One physical part. Where it is, its last move (`part`) says; `gone`: it left the shop from the shelf.

    `place`: where on the shelf. `price_minor`: what it was sold for. `bears_unit_id`: the unit that bears its
    cost once it is gone, NULL for the shop itself.
    """

    __tablename__ = "component"
    __table_args__ = (
        check("gone", "gone IN ('', 'sold', 'scrapped', 'sent back')"),
        check("gone_us", "(gone = '') = (gone_us IS NULL)"),
        check("price", "price_minor >= 0 AND (price_minor = 0 OR gone = 'sold')"),
        check("bears", "bears_unit_id IS NULL OR gone IN ('scrapped', 'sent back')"),
        yes_or_no("removed"),
        Index("ix_component_bears_unit_id", "bears_unit_id"),
        Index("ix_component_gone_us", "gone_us", sqlite_where=text("gone_us IS NOT NULL")),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    name: str = Field(sa_type=Text)
    maker_number: str = Field(default="", sa_type=Text)
    serial: str = Field(default="", sa_type=Text)
    place: str = Field(default="", sa_type=Text)
    gone: str = Field(default="", sa_type=Text)
    gone_us: int | None = None
    note: str = Field(default="", sa_type=Text)
    price_minor: int = 0
    bears_unit_id: int | None = Field(default=None, foreign_key="unit.id")
    removed: int = 0


class PartsOrder(SQLModel, table=True):
    """Something wanted or ordered: a part, for a unit or for the shelf, or a consumable and how much of it.

    `price_minor` NULL: not known yet. `owed_minor`: what the supplier is to give back. `refund_unit_id`: the
    unit to which what came back is credited, NULL for the shop. `instead_of_id`: the order it replaces.
    `fault_id`: the fault of its unit that it is for.
    """

    __tablename__ = "parts_order"
    __table_args__ = (
        check(
            "state",
            "state IN ('wanted', 'ordered', 'arrived', 'wrong', 'broken', 'sent back', 'refunded',"
            " 'cancelled')",
        ),
        check("price", "price_minor IS NULL OR price_minor >= 0"),
        check("freight", "freight_minor >= 0"),
        check("owed", "owed_minor >= 0 AND refund_minor >= 0"),
        check("quantity", "(consumable_id IS NULL) = (quantity IS NULL) AND COALESCE(quantity, 1) > 0"),
        check("for_fault", "fault_id IS NULL OR unit_id IS NOT NULL"),
        check("either", "consumable_id IS NULL OR (unit_id IS NULL AND component_id IS NULL)"),
        check("refunded", "(state = 'refunded') = (refunded_us IS NOT NULL)"),
        yes_or_no("removed"),
        Index("ix_parts_order_unit_id", "unit_id"),
        Index("ix_parts_order_consumable_id", "consumable_id"),
        Index("ix_parts_order_component_id", "component_id"),
        Index("ix_parts_order_refund_unit_id", "refund_unit_id"),
        Index("ix_parts_order_fault_id", "fault_id", sqlite_where=text("fault_id IS NOT NULL")),
        Index("ix_parts_order_instead_of_id", "instead_of_id"),
        Index("ix_parts_order_under_way", "due_on", sqlite_where=text(UNDER_WAY)),
        Index("ix_parts_order_refunded_us", "refunded_us", sqlite_where=text("refunded_us IS NOT NULL")),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    what: str = Field(sa_type=Text)
    maker_number: str = Field(default="", sa_type=Text)
    unit_id: int | None = Field(default=None, foreign_key="unit.id")
    consumable_id: int | None = Field(default=None, foreign_key="consumable.id")
    quantity: int | None = None
    supplier: str = Field(default="", sa_type=Text)
    price_minor: int | None = None
    freight_minor: int = 0
    state: str = Field(default="wanted", sa_type=Text)
    wanted_us: int
    ordered_on: str | None = Field(default=None, sa_type=Text)
    due_on: str | None = Field(default=None, sa_type=Text)
    arrived_on: str | None = Field(default=None, sa_type=Text)
    faulty_on: str | None = Field(default=None, sa_type=Text)
    found: str = Field(default="", sa_type=Text)
    sent_back_on: str | None = Field(default=None, sa_type=Text)
    refunded_us: int | None = None
    owed_minor: int = 0
    refund_minor: int = 0
    refund_unit_id: int | None = Field(default=None, foreign_key="unit.id")
    component_id: int | None = Field(default=None, foreign_key="component.id")
    instead_of_id: int | None = Field(default=None, foreign_key="parts_order.id")
    fault_id: int | None = Field(default=None, foreign_key="fault.id")
    note: str = Field(default="", sa_type=Text)
    removed: int = 0


class TaskWait(SQLModel, table=True):
    """A task that needs what an order brings. `waived`: why it went on without."""

    __tablename__ = "task_wait"
    __table_args__ = (
        yes_or_no("removed"),
        Index("ix_task_wait_task_id", "task_id"),
        Index("ix_task_wait_order_id", "order_id"),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    task_id: int = Field(foreign_key="task.id")
    order_id: int = Field(foreign_key="parts_order.id")
    waived: str = Field(default="", sa_type=Text)
    removed: int = 0
