"""The stock as it is shown: levels, cover, and the movements behind one consumable."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class StockLine:
    """One consumable's level. Quantities are thousandths of `base_unit`.

    `full`: what a full bar means, the largest of the level, the level after stock last came in, twice the
    reorder point, and one pack. `days_of_cover` is None while nothing was used. `suggest_packs`: when low,
    else 0.
    """

    consumable_id: int
    name: str
    base_unit: str
    on_hand: int
    full: int
    pack: int
    reorder_at: int
    days_of_cover: float | None
    expired: int
    next_expiry: date | None
    low: bool
    suggest_packs: int
    lead_days: int
    shelf_life_days: int | None
    reorder_fixed: bool
    hazard: str
    value_minor: int
    code: str = ""

    def low_with(self, on_hand: int) -> bool:
        """Whether it would be low with this much on hand, in thousandths."""
        return on_hand <= self.reorder_at


@dataclass(frozen=True, slots=True)
class MovementLine:
    """One movement, newest first on screen. `kind`: receipt, issue, count or reversal."""

    movement_id: int
    at_us: int
    kind: str
    quantity: int
    balance: int
    cost_minor: int
    person: str
    unit_id: int | None
    tag: str
    task: str
    supplier: str
    expires_on: date | None
    reason: str


@dataclass(frozen=True, slots=True)
class ConsumableHistory:
    """One consumable opened: its level and the movements that make it up."""

    line: StockLine
    currency: str
    zone: str
    movements: tuple[MovementLine, ...]


@dataclass(frozen=True, slots=True)
class StockBook:
    """Every consumable, low ones first, then by name."""

    lines: tuple[StockLine, ...]
    currency: str


@dataclass(frozen=True, slots=True)
class Issued:
    """What a task took of one consumable, and what is left of it, in thousandths of its base unit."""

    consumable_id: int
    name: str
    base_unit: str
    quantity: int
    left: int
    low: bool


@dataclass(frozen=True, slots=True)
class Restocked:
    """What came in, what it cost in minor units, and the level now, in thousandths of the base unit."""

    consumable_id: int
    name: str
    base_unit: str
    quantity: int
    left: int
    cost_minor: int
    currency: str
    received_on: date
    expires_on: date | None
    low: bool


@dataclass(frozen=True, slots=True)
class Counted:
    """The level that was counted, and by how much it differed from the book, in thousandths."""

    consumable_id: int
    name: str
    base_unit: str
    counted: int
    difference: int
    low: bool
