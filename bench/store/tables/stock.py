"""Consumables and the movements of stock. Quantities are thousandths of the base unit."""

from __future__ import annotations

from sqlalchemy import Index, Text, text
from sqlmodel import Field, SQLModel

from bench.store.tables.base import STRICT, check, unique_while_kept, yes_or_no


class Consumable(SQLModel, table=True):
    """Something that jobs use up. `reorder_quantity` NULL: calculated from use and lead time.

    `code`: what a scanner reads off its pack, empty for none.
    """

    __tablename__ = "consumable"
    __table_args__ = (
        check("base_unit", "base_unit IN ('ml', 'g', 'm', 'piece')"),
        check("pack", "pack_quantity > 0"),
        check("lead", "lead_days >= 0"),
        check("shelf", "shelf_life_days IS NULL OR shelf_life_days > 0"),
        check("reorder", "reorder_quantity IS NULL OR reorder_quantity >= 0"),
        yes_or_no("removed"),
        unique_while_kept("consumable"),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    name: str = Field(sa_type=Text)
    base_unit: str = Field(sa_type=Text)
    pack_quantity: int
    lead_days: int = 7
    shelf_life_days: int | None = None
    reorder_quantity: int | None = None
    hazard: str = Field(default="", sa_type=Text)
    code: str = Field(default="", sa_type=Text)
    removed: int = 0


class Movement(SQLModel, table=True):
    """One movement of stock, never changed or deleted: a mistake is corrected by another movement.

    A row of its own layer (`layer_id` NULL) brings stock in; any other row takes from, or gives back to,
    the layer it names. `cost_minor` has the sign of `quantity`.
    """

    __tablename__ = "movement"
    __table_args__ = (
        check("kind", "kind IN ('receipt', 'issue', 'count', 'reversal')"),
        check("quantity", "quantity <> 0"),
        check("sign", "cost_minor = 0 OR (cost_minor > 0) = (quantity > 0)"),
        check("receipt", "kind <> 'receipt' OR (quantity > 0 AND layer_id IS NULL)"),
        check("issue", "kind <> 'issue' OR (quantity < 0 AND layer_id IS NOT NULL AND task_id IS NOT NULL)"),
        check("count", "kind <> 'count' OR (quantity > 0) = (layer_id IS NULL)"),
        check("reversal", "(kind = 'reversal') = (reverses_id IS NOT NULL)"),
        Index("ix_movement_consumable_id", "consumable_id", "at_us", "kind", "quantity"),
        Index("ix_movement_booked", "consumable_id"),
        Index("ix_movement_count", "consumable_id", sqlite_where=text("kind = 'count'")),
        Index("ix_movement_layer_id", "layer_id"),
        Index("ix_movement_task_id", "task_id"),
        Index("uq_movement_reverses_id", "reverses_id", unique=True),
        STRICT,
    )

    id: int | None = Field(default=None, primary_key=True)
    consumable_id: int = Field(foreign_key="consumable.id")
    kind: str = Field(sa_type=Text)
    quantity: int
    cost_minor: int = 0
    at_us: int
    person_id: int = Field(foreign_key="person.id")
    layer_id: int | None = Field(default=None, foreign_key="movement.id")
    task_id: int | None = Field(default=None, foreign_key="task.id")
    reverses_id: int | None = Field(default=None, foreign_key="movement.id")
    supplier: str = Field(default="", sa_type=Text)
    expires_on: str | None = Field(default=None, sa_type=Text)
    reason: str = Field(default="", sa_type=Text)


class LayerBalance(SQLModel, table=True):
    """What is left of a movement that brought stock in, while something is: the file keeps it by itself."""

    __tablename__ = "layer_balance"
    __table_args__ = (Index("ix_layer_balance_consumable_id", "consumable_id", "quantity"), STRICT)

    layer_id: int = Field(primary_key=True)
    consumable_id: int
    quantity: int
    cost_minor: int
