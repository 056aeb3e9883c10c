"""Sales and returns as they are shown, and the sums and days a sale is made of."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta


@dataclass(frozen=True, slots=True)
class Sold:
    """A unit sold. Money in minor units of `currency`. `shipping_minor`: None where it was not typed.

    `finished`, `skipped`: tasks that were still open; `low`: consumables that ran low with them.
    """

    sale_id: int
    unit_id: int
    tag: str
    sold_on: date
    price_minor: int
    fee_minor: int
    shipping_minor: int | None
    tax_minor: int
    warranty_until: date | None
    currency: str
    finished: int = 0
    skipped: int = 0
    low: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Returned:
    """A unit back in the queue, linked to its sale. `undoes`: the sale is undone and the unit is the shop's.

    `postage_minor`: what the way back cost; None: not known.
    """

    comeback_id: int
    sale_id: int
    unit_id: int
    tag: str
    stage: str
    refund_minor: int
    currency: str
    fee_back_minor: int = 0
    postage_minor: int | None = None
    undoes: bool = False


@dataclass(frozen=True, slots=True)
class ComebackLine:
    """A return. `attended_us`: time at the bench since, up to the next return; it counts against the sale.

    `undoes`: the sale is undone; otherwise it stands and the unit is the buyer's.
    """

    comeback_id: int
    at_us: int
    person: str
    reason: str
    refund_minor: int
    fee_back_minor: int
    postage_minor: int | None
    undoes: bool
    attended_us: int


@dataclass(frozen=True, slots=True)
class SaleLine:
    """One sale of a unit and the returns from it. `tax_minor` is as reckoned at the sale.

    `shipping_minor`: None where it was not typed.
    """

    sale_id: int
    sold_on: date
    sold_us: int
    person: str
    channel: str
    party_id: int | None
    buyer: str
    price_minor: int
    fee_minor: int
    shipping_minor: int | None
    tax_minor: int
    invoice: str
    warranty_until: date | None
    note: str
    comebacks: tuple[ComebackLine, ...]

    @property
    def refund_minor(self) -> int:
        """All that was given back of the price."""
        return sum(one.refund_minor for one in self.comebacks)

    @property
    def undone(self) -> bool:
        """Whether a return undid it."""
        return any(one.undoes for one in self.comebacks)


@dataclass(frozen=True, slots=True)
class UnitSales:
    """Every sale of a unit, the earliest first. `out`: it has left the queue."""

    unit_id: int
    tag: str
    model: str
    stage: str
    out: bool
    sales: tuple[SaleLine, ...]
    currency: str
    zone: str

    @property
    def standing(self) -> SaleLine | None:
        """The last sale while no return undid it, wherever the unit is."""
        last = self.sales[-1] if self.sales else None
        return None if last is None or last.undone else last

    @property
    def back(self) -> ComebackLine | None:
        """The last return from the last sale; None where there is none."""
        return self.sales[-1].comebacks[-1] if self.sales and self.sales[-1].comebacks else None


def warranty_until(sold_on: date, days: int) -> date | None:
    """The last day of a warranty of so many days; None for no warranty."""
    return sold_on + timedelta(days=days) if days else None
