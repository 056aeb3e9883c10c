"""The register of second-hand goods: each unit in sequence, from whom it came and to whom it went."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from bench.domain.ways_out import KEPT, PARTS, SCRAPPED, WORDS

IN_STOCK, SOLD, CAME_BACK = "in stock", "sold", "came back"
DONOR, LEFT, VOID = "kept for parts", "left without a sale", "entry taken back"
OWNERS = "an owner's machine, not bought"
UNSOLD = {way: WORDS[way] for way in (KEPT, SCRAPPED, PARTS)}
NOT_GOODS = (VOID, OWNERS)

NOT_ADVICE = (
    "Not advice: what a register must hold, and for how long, is for local law and a tax adviser to say."
)
TAX_RULE = (
    "Margin: sale less refunds less purchase, no other costs. Tax is what the margin contains; a loss gives "
    "none and is not set off. Source: EU Directive 2006/112/EC Art. 314 and 315; UK HMRC VAT Notice 718."
)


@dataclass(frozen=True, slots=True)
class RegisterLine:
    """One line: a unit and, where it was sold, one of its sales. Money in minor units.

    `number` runs in sequence with no gap; an entry taken back, and an owner's machine,
    keeps its number and says so. A unit sold again after a return has a further line, `sale` 2.
    `purchase_minor`: the price paid, or the share of the lot.
    `free_from`: the first day on which it may be altered or sold. `margin_minor`: only of a sale that stands.
    """

    number: int
    state: str
    unit_id: int
    tag: str
    what: str
    serial: str
    bought_on: date | None
    came_on: date
    seller: str
    seller_address: str
    identity_seen: str
    purchase_invoice: str
    lot: str
    lot_price_minor: int | None
    purchase_minor: int | None
    free_from: date | None
    sale: int | None = None
    sale_id: int | None = None
    sold_on: date | None = None
    buyer: str = ""
    buyer_address: str = ""
    sale_invoice: str = ""
    channel: str = ""
    price_minor: int | None = None
    back_on: date | None = None
    refund_minor: int | None = None
    margin_minor: int | None = None
    tax_minor: int | None = None

    def touches(self, first: date, last: date) -> bool:
        """Whether something on the line happened in that span of days."""
        days = (self.bought_on or self.came_on, self.sold_on, self.back_on)
        return any(day is not None and first <= day <= last for day in days)


@dataclass(frozen=True, slots=True)
class Register:
    """The lines by number, and the shop's settings they are to be read with."""

    shop: str
    lines: tuple[RegisterLine, ...]
    margin_scheme: bool
    margin_tax_per_10000: int
    hold_days: int
    currency: str
    zone: str
    read_us: int

    @property
    def purchases_minor(self) -> int:
        """What was paid for the units, each counted once."""
        return _sum({line.number: line.purchase_minor for line in self.lines}.values())

    @property
    def unpriced(self) -> tuple[str, ...]:
        """Tags of goods whose price was not typed: with any, purchases are at least as much as their sum."""
        goods = {
            line.tag for line in self.lines if line.state not in NOT_GOODS and line.purchase_minor is None
        }
        return tuple(sorted(goods))

    @property
    def sales_minor(self) -> int:
        """The prices of all sales."""
        return _sum(line.price_minor for line in self.lines)

    @property
    def refunds_minor(self) -> int:
        """What was given back of them."""
        return _sum(line.refund_minor for line in self.lines)

    @property
    def margins_minor(self) -> int:
        """The margins of the sales that stand, losses taken off; tax knows no setting off."""
        return _sum(line.margin_minor for line in self.lines)

    @property
    def taxes_minor(self) -> int:
        """The margin tax of all sales after refunds."""
        return _sum(line.tax_minor for line in self.lines)


def _sum(amounts: Iterable[int | None]) -> int:
    return sum(amount for amount in amounts if amount is not None)
