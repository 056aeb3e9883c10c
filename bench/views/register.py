"""The register of second-hand goods: each unit in sequence, from whom it came and to whom it went."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from bench.desk import Desk
from bench.domain.amounts import Instant, Minor
from bench.domain.selling import hold_ends
from bench.domain.ways_out import KEPT, PARTS, SCRAPPED, WORDS
from bench.domain.weeks import local_day
from bench.views.binder import ALL, Query, shared
from bench.views.shop import facts
from bench.views.trade import settings

IN_STOCK, SOLD, CAME_BACK = "in stock", "sold", "came back"
DONOR, LEFT, VOID = "kept for parts", "left without a sale", "entry undone"
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

    `number` runs in sequence with no gap; an entry undone, and an owner's machine,
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
    lot_price_minor: Minor | None
    purchase_minor: Minor | None
    free_from: date | None
    sale: int | None = None
    sale_id: int | None = None
    sold_on: date | None = None
    buyer: str = ""
    buyer_address: str = ""
    sale_invoice: str = ""
    channel: str = ""
    price_minor: Minor | None = None
    back_on: date | None = None
    refund_minor: Minor | None = None
    margin_minor: Minor | None = None
    tax_minor: Minor | None = None

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
    read_us: Instant

    @property
    def units(self) -> int:
        """How many units its lines are of."""
        return len({line.number for line in self.lines})

    @property
    def purchases_minor(self) -> Minor:
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
    def sales_minor(self) -> Minor:
        """The prices of all sales."""
        return _sum(line.price_minor for line in self.lines)

    @property
    def refunds_minor(self) -> Minor:
        """What was given back of them."""
        return _sum(line.refund_minor for line in self.lines)

    @property
    def margins_minor(self) -> Minor:
        """The margins of the sales that stand, losses taken off; tax knows no setting off."""
        return _sum(line.margin_minor for line in self.lines)

    @property
    def taxes_minor(self) -> Minor:
        """The margin tax of all sales after refunds."""
        return _sum(line.tax_minor for line in self.lines)


@dataclass(frozen=True, slots=True)
class _Entry:
    """A unit and one of its sales, as the file has them. `newest`: of the unit's sales, this is the last."""

    unit_id: int
    removed: bool
    tag: str
    what: str
    serial: str
    purchase_minor: Minor | None
    added_us: Instant
    owner_id: int | None
    way: str | None
    final: bool
    donor: bool
    bought_on: date | None
    seller: str
    seller_address: str
    identity_seen: str
    purchase_invoice: str
    lot: str
    lot_price_minor: Minor | None
    sale: int | None
    newest: bool | None
    sale_id: int | None
    sold_on: date | None
    buyer: str
    buyer_address: str
    sale_invoice: str
    channel: str
    price_minor: Minor | None
    tax_minor: Minor | None
    back_us: Instant | None
    refund_minor: Minor | None
    undone: bool | None

    @property
    def stands(self) -> bool:
        """Whether this is the unit's newest sale, and no return undid it."""
        return bool(self.newest) and not self.undone

    @property
    def state(self) -> str:
        """What became of the unit, as the line says it."""
        if self.sale_id is not None and (self.stands or not self.newest):
            return SOLD if self.stands else CAME_BACK
        if self.way in UNSOLD:
            return UNSOLD[self.way]
        if self.sale_id is not None:
            return CAME_BACK
        if self.donor:
            return DONOR
        return LEFT if self.final else IN_STOCK


_ENTRIES = Query(
    _Entry,
    """
WITH wanted AS MATERIALIZED (SELECT id FROM unit ORDER BY id LIMIT :most),
sold AS MATERIALIZED (
    SELECT sale.*, ROW_NUMBER() OVER (PARTITION BY unit_id ORDER BY sold_us, sale.id) AS number,
           ROW_NUMBER() OVER (PARTITION BY unit_id ORDER BY sold_us DESC, sale.id DESC) = 1 AS newest
    FROM wanted CROSS JOIN sale ON sale.unit_id = wanted.id AND sale.removed = 0
),
back AS MATERIALIZED (
    SELECT sale_id, SUM(comeback.refund_minor) AS refund_minor, MAX(comeback.at_us) AS at_us,
           MAX(comeback.undoes) AS undone
    FROM sold CROSS JOIN comeback ON comeback.sale_id = sold.id AND comeback.removed = 0 GROUP BY sale_id
)
SELECT unit.id AS unit_id, unit.removed, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS what, unit.serial,
       unit.price_minor AS purchase_minor, unit.added_us, unit.owner_id, way_out.way,
       stage.final, COALESCE(purchase.donor, 0) AS donor,
       COALESCE(purchase.bought_on, lot.bought_on) AS bought_on,
       COALESCE(seller.name, '') AS seller, COALESCE(seller.address, '') AS seller_address,
       COALESCE(seller.identity_seen, '') AS identity_seen,
       COALESCE(purchase.invoice, '') AS purchase_invoice,
       COALESCE(lot.name, '') AS lot, lot.price_minor AS lot_price_minor,
       sold.number AS sale, sold.newest, sold.id AS sale_id, sold.sold_on,
       COALESCE(buyer.name, '') AS buyer, COALESCE(buyer.address, '') AS buyer_address,
       COALESCE(sold.invoice, '') AS sale_invoice, COALESCE(channel.name, '') AS channel,
       sold.price_minor,
       CASE WHEN sold.id IS NOT NULL THEN
           tax_after_refund(sold.tax_minor, COALESCE(unit.price_minor, 0), sold.price_minor,
                            COALESCE(back.refund_minor, 0)) END AS tax_minor,
       back.at_us AS back_us, back.refund_minor, back.undone
FROM wanted CROSS JOIN unit ON unit.id = wanted.id JOIN stage ON stage.id = unit.stage_id
LEFT JOIN purchase ON purchase.unit_id = unit.id
LEFT JOIN lot ON lot.id = purchase.lot_id AND lot.removed = 0
LEFT JOIN party AS seller ON seller.id = COALESCE(purchase.party_id, lot.party_id)
LEFT JOIN sold ON sold.unit_id = unit.id
LEFT JOIN way_out ON way_out.unit_id = unit.id AND way_out.removed = 0 AND way_out.ended_us IS NULL
LEFT JOIN party AS buyer ON buyer.id = sold.party_id
LEFT JOIN channel ON channel.id = sold.channel_id
LEFT JOIN back ON back.sale_id = sold.id
ORDER BY unit.id, sold.number
""",
)


def read_register(desk: Desk, span: tuple[date, date] | None = None, *, most: int | None = None) -> Register:
    """Every unit by number, or those of which something happened from one day to another, in one snapshot.

    `most`: the first so many units and no more; what its sums then come to is of these alone.
    """
    with desk.store.read() as connection:
        shop, trade = facts(connection), settings(connection)
        entries = _ENTRIES.each(connection, most=ALL if most is None else most)
        lines = tuple(_line(one, shop.zone, trade.hold_days) for one in entries)
    return Register(
        shop=shop.name,
        lines=tuple(line for line in lines if span is None or line.touches(*span)),
        margin_scheme=trade.margin_scheme,
        margin_tax_per_10000=trade.margin_tax_per_10000,
        hold_days=trade.hold_days,
        currency=shop.currency,
        zone=shop.zone,
        read_us=desk.clock.now_us(),
    )


def _line(entry: _Entry, zone: str, hold_days: int) -> RegisterLine:
    came_on = local_day(entry.added_us, zone)
    if entry.removed or entry.owner_id is not None:
        return _not_bought(entry.unit_id, VOID if entry.removed else OWNERS, came_on)
    known = entry.purchase_minor is not None and entry.stands
    return RegisterLine(
        **shared(RegisterLine, entry),
        number=entry.unit_id,
        came_on=came_on,
        free_from=hold_ends(entry.bought_on, hold_days),
        back_on=None if entry.back_us is None else local_day(entry.back_us, zone),
        margin_minor=_margin_minor(entry) if known else None,
    )


def _not_bought(number: int, why: str, came_on: date) -> RegisterLine:
    """A number that was given and stands for no goods bought: it stays, so that the sequence has no gap."""
    return RegisterLine(number, why, number, "", "", "", None, came_on, "", "", "", "", "", None, None, None)


def _margin_minor(entry: _Entry) -> int:
    return (entry.price_minor or 0) - (entry.refund_minor or 0) - (entry.purchase_minor or 0)


def _sum(amounts: Iterable[int | None]) -> int:
    return sum(amount for amount in amounts if amount is not None)
