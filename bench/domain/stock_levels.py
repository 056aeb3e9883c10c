"""How one consumable's level is judged: when it is low, how long it lasts, what to order, what expired."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from bench.domain.amounts import Instant, Minor, Thousandths
from bench.domain.layers import Layer, expired
from bench.domain.quantities import THOUSANDTHS
from bench.domain.reorder import days_of_cover, reorder_from_use, suggest_packs

LOOK_BACK_DAYS = 56  # eight weeks, as the week sheet compares


@dataclass(frozen=True, slots=True)
class Level:
    """What the file says of one consumable. Quantities are thousandths of `base_unit`.

    `after_incoming`: the level just after stock last came in. `first_us`: its first movement that stands,
    None for a consumable that the shop never had.
    """

    consumable_id: int
    name: str
    base_unit: str
    pack: Thousandths
    lead_days: int
    shelf_life_days: int | None
    reorder_quantity: int | None
    hazard: str
    code: str
    on_hand: Thousandths
    value_minor: Minor
    after_incoming: int
    first_us: Instant | None


@dataclass(frozen=True, slots=True)
class StockLine:
    """One consumable's level. Quantities are thousandths of `base_unit`.

    `full`: what a full bar means, the largest of the level, the level after stock last came in, twice the
    reorder point, and one pack. `days_of_cover` is None while nothing was used; `cover_with_order`: with what
    is on order. `low`: on hand and on order together are not above the reorder point. `suggest_packs`: when
    low, else 0.
    """

    consumable_id: int
    name: str
    base_unit: str
    on_hand: Thousandths
    full: Thousandths
    pack: Thousandths
    reorder_at: Thousandths
    days_of_cover: float | None
    expired: Thousandths
    next_expiry: date | None
    low: bool
    suggest_packs: int
    lead_days: int
    shelf_life_days: int | None
    reorder_fixed: bool
    hazard: str
    value_minor: Minor
    code: str = ""
    on_order: Thousandths = 0
    order_due: date | None = None
    cover_with_order: float | None = None

    @property
    def cover(self) -> float | None:
        """Over how many days it lasts, with what is on order; None while nothing was used."""
        return self.cover_with_order if self.on_order else self.days_of_cover

    def low_with(self, on_hand: int) -> bool:
        """Whether it would be low with this much on hand, in thousandths."""
        return on_hand + self.on_order <= self.reorder_at


@dataclass(frozen=True, slots=True)
class LastReceipt:
    """What came in last of a consumable, in thousandths of its base unit, what it cost, and from whom."""

    quantity: Thousandths
    cost_minor: Minor
    supplier: str

    def cost_of(self, quantity: int) -> int:
        """What this much costs at the price paid then, half a minor unit upwards."""
        return (2 * self.cost_minor * quantity + self.quantity) // (2 * self.quantity)


@dataclass(frozen=True, slots=True)
class Issued:
    """What a task took of one consumable, and what is left of it, in thousandths of its base unit."""

    consumable_id: int
    name: str
    base_unit: str
    quantity: Thousandths
    left: Thousandths
    low: bool


@dataclass(frozen=True, slots=True)
class Restocked:
    """What came in, what it cost in minor units, and the level now, in thousandths of the base unit."""

    consumable_id: int
    name: str
    base_unit: str
    quantity: Thousandths
    left: Thousandths
    cost_minor: Minor
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
    counted: Thousandths
    difference: Thousandths
    low: bool


@dataclass(frozen=True, slots=True)
class StockTaken:
    """How many consumables were counted, and the names of those of which the book said something else."""

    count: int
    differing: tuple[str, ...]


def stock_line(
    level: Level,
    daily_use: Sequence[int],
    layers: Sequence[Layer],
    today: date,
    *,
    on_order: int = 0,
    order_due: date | None = None,
) -> StockLine:
    """The level as it is shown. `daily_use`: thousandths used each day looked back on, idle days too.

    `on_order`: thousandths that are ordered and have not arrived. Whether to order again is judged by what is
    on hand and on order together, the inventory position (Silver, Pyke and Thomas, Inventory and Production
    Management in Supply Chains, ch. 6; from memory).
    """
    used, over_days = sum(daily_use), max(1, len(daily_use))
    reorder_at = level.reorder_quantity
    if reorder_at is None:
        reorder_at = _in_whole_pieces(reorder_from_use(daily_use, level.lead_days), level.base_unit)
    kept = level.first_us is not None or level.reorder_quantity is not None
    position = level.on_hand + on_order
    low = kept and position <= reorder_at
    packs = suggest_packs(position, reorder_at, level.pack, used, over_days, level.lead_days)
    gone = expired(layers, today)
    dates = [layer.expires_on for layer in layers if layer.expires_on and layer.expires_on >= today]
    return StockLine(
        consumable_id=level.consumable_id,
        name=level.name,
        base_unit=level.base_unit,
        on_hand=level.on_hand,
        full=max(level.on_hand, level.after_incoming, 2 * reorder_at, level.pack),
        pack=level.pack,
        reorder_at=reorder_at,
        days_of_cover=days_of_cover(level.on_hand, used, over_days),
        expired=sum(layer.quantity for layer in gone),
        next_expiry=min(dates, default=None),
        low=low,
        suggest_packs=packs if low else 0,
        lead_days=level.lead_days,
        shelf_life_days=level.shelf_life_days,
        reorder_fixed=level.reorder_quantity is not None,
        hazard=level.hazard,
        value_minor=level.value_minor,
        code=level.code,
        on_order=on_order,
        order_due=order_due,
        cover_with_order=days_of_cover(position, used, over_days),
    )


def _in_whole_pieces(quantity: int, base_unit: str) -> int:
    """Pieces are kept whole: a part of one counts as one more."""
    return -(-quantity // THOUSANDTHS) * THOUSANDTHS if base_unit == "piece" else quantity
