"""One unit's money: what it cost and what it brought, line by line of the ledger, and whether it pays."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from bench.desk import Desk
from bench.domain.amounts import Instant, Length, Minor
from bench.domain.unit_money import (
    CONSUMABLES_USED,
    PARTS_BOUGHT,
    PARTS_IN,
    PARTS_LOST,
    PARTS_OUT,
    PARTS_REFUND,
    PURCHASE,
    RETURN,
    SALE,
    WAY_OUT,
    MoneyLine,
    UnitMoney,
    break_even_minor,
    opens_number,
    total,
)
from bench.errors import NotFound
from bench.store.standing import UNDONE
from bench.views import ledger
from bench.views import trade as trade_reads
from bench.views.binder import Query, value
from bench.views.ledger import LedgerLine
from bench.views.particulars import no_such_unit
from bench.views.trade import ChannelLine
from bench.views.unit import UnitIssue, unit_issues

NEVER_US = 1 << 62  # where nothing came back, no time comes after a return
PART_LINES = (
    ("parts bought", ledger.PART_BOUGHT, PARTS_BOUGHT),
    ("parts out of other units", ledger.PART_IN, PARTS_IN),
    ("parts given away", ledger.PART_OUT, PARTS_OUT),
    ("parts paid for and gone", ledger.PART_LOST, PARTS_LOST),
    ("refunds of parts", ledger.PART_REFUND, PARTS_REFUND),
)
OF_A_SALE = (ledger.SALE, ledger.FEE, ledger.SHIPPING, ledger.TAX)
OF_A_WAY_OUT = (ledger.REPAIR, ledger.REPAIR_TAX, ledger.SCRAP)
OF_A_RETURN = (ledger.REFUND, ledger.FEE_BACK, ledger.POSTAGE)
WORDS = {
    ledger.PREMIUM: "buyer's premium",
    ledger.FREIGHT: "inward freight",
    ledger.FEE: "channel fees",
    ledger.SHIPPING: "shipping",
    ledger.TAX: "tax on the margin (not advice)",
    ledger.FEE_BACK: "fees given back",
    ledger.POSTAGE: "return postage",
    ledger.REPAIR: "price of the repair",
    ledger.REPAIR_TAX: "tax passed on",
    ledger.SCRAP: "proceeds of scrap",
}


@dataclass(frozen=True, slots=True)
class UnitBought:
    """The unit and how it came here."""

    unit_id: int
    tag: str
    model: str
    added_us: Instant
    price_minor: Minor | None
    expected_minor: Minor | None
    owner_id: int | None
    owner: str
    lot: str
    seller: str
    invoice: str
    currency: str
    zone: str
    rate_minor_per_hour: int


@dataclass(frozen=True, slots=True)
class UnitSale:
    """A sale of the unit; `tax_minor` as calculated when it was sold."""

    sale_id: int
    sold_on: date
    channel_id: int | None
    channel: str
    tax_minor: Minor
    invoice: str
    person: str
    undone: bool


@dataclass(frozen=True, slots=True)
class UnitReturn:
    """A return of the unit."""

    comeback_id: int
    sale_id: int
    at_us: Instant
    reason: str
    undoes: bool
    person: str


@dataclass(frozen=True, slots=True)
class UnitLeft:
    """A leaving of the unit. `ended`: it came in again."""

    way_out_id: int
    way: str
    note: str
    person: str
    ended: bool


@dataclass(frozen=True, slots=True)
class HandsOn:
    """Hands-on time of closed entries, and the part of it since an instant."""

    hands_on_us: Length
    after_return_us: Length


_UNIT = Query(
    UnitBought,
    """
SELECT unit.id AS unit_id, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS model, unit.added_us,
       unit.price_minor, purchase.expected_minor, unit.owner_id, COALESCE(owner.name, '') AS owner,
       COALESCE(lot.name, '') AS lot, COALESCE(party.name, '') AS seller,
       COALESCE(purchase.invoice, '') AS invoice, shop.currency, shop.zone, shop.rate_minor_per_hour
FROM unit CROSS JOIN shop
LEFT JOIN purchase ON purchase.unit_id = unit.id LEFT JOIN lot ON lot.id = purchase.lot_id
LEFT JOIN party ON party.id = purchase.party_id LEFT JOIN party AS owner ON owner.id = unit.owner_id
WHERE unit.id = :id AND unit.removed = 0
""",
)
_SALES = Query(
    UnitSale,
    """
SELECT sale.id AS sale_id, sale.sold_on, sale.channel_id, COALESCE(channel.name, '') AS channel,
       sale.tax_minor, sale.invoice, person.name AS person, {undone} AS undone
FROM sale JOIN person ON person.id = sale.person_id LEFT JOIN channel ON channel.id = sale.channel_id
WHERE sale.unit_id = :id AND sale.removed = 0 ORDER BY sale.sold_us, sale.id
""".replace("{undone}", UNDONE),
)
_RETURNS = Query(
    UnitReturn,
    """
SELECT comeback.id AS comeback_id, comeback.sale_id, comeback.at_us, comeback.reason, comeback.undoes,
       person.name AS person
FROM sale JOIN comeback ON comeback.sale_id = sale.id JOIN person ON person.id = comeback.person_id
WHERE sale.unit_id = :id AND sale.removed = 0 AND comeback.removed = 0 ORDER BY comeback.at_us, comeback.id
""",
)
_LEFT = Query(
    UnitLeft,
    """
SELECT way_out.id AS way_out_id, way_out.way, way_out.note, COALESCE(person.name, '') AS person,
       way_out.ended_us IS NOT NULL AS ended
FROM way_out LEFT JOIN person ON person.id = way_out.person_id
WHERE way_out.unit_id = :id AND way_out.removed = 0 ORDER BY way_out.at_us, way_out.id
""",
)
# What reaches over the return counts from the return on.
_HANDS_ON = Query(
    HandsOn,
    """
SELECT COALESCE(SUM(entry.stopped_us - entry.started_us), 0) AS hands_on_us,
       COALESCE(SUM(MAX(0, entry.stopped_us - MAX(entry.started_us, :since))), 0) AS after_return_us
FROM task JOIN time_entry AS entry ON entry.task_id = task.id
WHERE task.unit_id = :id AND entry.attended = 1 AND entry.stopped_us IS NOT NULL
""",
)
_OFFERED_THROUGH = """
SELECT channel_id FROM offer WHERE unit_id = :id AND removed = 0 AND channel_id IS NOT NULL ORDER BY id DESC
"""


@dataclass(frozen=True)
class MoneyGround:
    """All that a unit's money is made of, read in one snapshot."""

    unit: UnitBought
    lines: tuple[LedgerLine, ...]
    materials: tuple[UnitIssue, ...]
    sales: tuple[UnitSale, ...]
    returns: tuple[UnitReturn, ...]
    ways: tuple[UnitLeft, ...]

    def of(self, *kinds: str, of_id: int | None = None, row_id: int | None = None) -> tuple[LedgerLine, ...]:
        """The lines of some kinds; of one sale or consumable, or with one row behind them."""
        return tuple(
            line
            for kind in kinds
            for line in self.lines
            if line.kind == kind
            and (of_id is None or line.of_id == of_id)
            and (row_id is None or line.row_id == row_id)
        )

    @property
    def sold(self) -> bool:
        """Whether the last sale stands: no return undid it, wherever the unit is."""
        return bool(self.sales) and not self.sales[-1].undone

    @property
    def way(self) -> str:
        """How it left, while it has not come in again; nothing for a unit in the queue."""
        out = [left.way for left in self.ways if not left.ended]
        return out[-1] if out else ""


def read_unit_money(desk: Desk, unit_id: int, *, channel_id: int | None = None) -> UnitMoney:
    """Cost so far, labour apart, break-even and margin of one unit. NotFound when there is no such unit.

    Break-even counts the fees of `channel_id`; without one those of the channel it was last sold through,
    or was meant for when it was looked at, or else of the shop's first.
    """
    with desk.store.read() as connection:
        ground = money_ground(connection, unit_id)
        channel = _channel(connection, ground, channel_id)
        tax = trade_reads.settings(connection).tax_per_10000
        since_us = ground.returns[0].at_us if ground.returns else NEVER_US
        attended = _HANDS_ON.the(connection, id=unit_id, since=since_us)
    unit, cost_so_far = ground.unit, tuple(_cost_so_far(ground))
    # A sale that stands is what has to break even; what earlier ones left over counts towards it.
    over = _proceeds(ground, ground.sales[:-1] if ground.sold else ground.sales)
    return UnitMoney(
        unit_id=unit_id,
        tag=unit.tag,
        model=unit.model,
        currency=unit.currency,
        zone=unit.zone,
        cost_so_far=cost_so_far,
        proceeds=(*_proceeds(ground, ground.sales), *_by_other_ways(ground)),
        hands_on_us=attended.hands_on_us,
        after_return_us=attended.after_return_us,
        rate_minor_per_hour=unit.rate_minor_per_hour,
        sold=ground.sold,
        way=ground.way,
        owner=unit.owner,
        expected_minor=unit.expected_minor,
        channel=channel.name,
        break_even_minor=break_even_minor(
            total(cost_so_far) - total(over),
            unit.price_minor or 0,
            channel.fee_per_10000,
            channel.fee_fixed_minor,
            tax,
        ),
    )


def money_ground(connection: sqlite3.Connection, unit_id: int) -> MoneyGround:
    """What a unit's money is made of. NotFound when there is no such unit."""
    unit = _UNIT.first(connection, id=unit_id)
    if unit is None:
        raise no_such_unit(unit_id)
    return MoneyGround(
        unit=unit,
        lines=ledger.lines_of(connection, unit_id),
        materials=unit_issues(connection, unit_id),
        sales=_SALES.all(connection, id=unit_id),
        returns=_RETURNS.all(connection, id=unit_id),
        ways=_LEFT.all(connection, id=unit_id),
    )


def price_words(unit: UnitBought) -> str:
    """What the price of a unit is: paid for it alone, or its share of a lot."""
    return f"share of the lot {unit.lot}" if unit.lot else "price paid"


def usual_channel(connection: sqlite3.Connection, meant: int | None) -> ChannelLine:
    """The channel meant for a unit, else the shop's first one."""
    known = trade_reads.channel(connection, meant) if meant is not None else None
    return known or next(iter(trade_reads.channels(connection)), ChannelLine(0, "", 0, 0))


def _channel(connection: sqlite3.Connection, ground: MoneyGround, channel_id: int | None) -> ChannelLine:
    if channel_id is not None:
        asked = trade_reads.channel(connection, channel_id)
        if asked is None:
            raise NotFound(f"There is no channel with number {channel_id}.", "Choose one that is there.")
        return asked
    through = [sale.channel_id for sale in ground.sales if sale.channel_id is not None]
    meant = through[-1] if through else value(connection, _OFFERED_THROUGH, id=ground.unit.unit_id)
    return usual_channel(connection, meant)


def _cost_so_far(ground: MoneyGround) -> Iterator[MoneyLine]:
    """The price or share of a lot, the buyer's premium in it, freight, parts and consumables."""
    if ground.unit.owner_id is not None:
        yield MoneyLine("its owner's, not bought", 0, PURCHASE)
    bought = ground.of(*ledger.BUYING)
    for line in bought:
        words = price_words(ground.unit) if line.kind == ledger.PRICE else WORDS[line.kind]
        yield MoneyLine(words, _cost(line.amount_minor), PURCHASE, len(bought))
    for words, kind, opens in PART_LINES:
        parts = ground.of(kind)
        if parts:
            yield MoneyLine(words, -_sum(parts), opens, len(parts))
    by_consumable: defaultdict[int, list[UnitIssue]] = defaultdict(list)
    for one in ground.materials:
        by_consumable[one.consumable_id].append(one)
    for number, taken in by_consumable.items():
        moved = ground.of(ledger.CONSUMABLE, of_id=number)
        cost = -_sum(moved)
        if cost or sum(one.quantity for one in taken):
            note = "" if cost else "received without a price"
            yield MoneyLine(taken[0].name, cost, opens_number(CONSUMABLES_USED, number), len(moved), note)


def _proceeds(ground: MoneyGround, sales: Iterable[UnitSale]) -> tuple[MoneyLine, ...]:
    """Price, fee, shipping and tax of each sale, and what was given back of it."""
    lines: list[MoneyLine] = []
    for sale in sales:
        opens = opens_number(SALE, sale.sale_id)
        for line in ground.of(*OF_A_SALE, of_id=sale.sale_id):
            if line.amount_minor == 0 and line.kind == ledger.TAX:  # none is due any more after a refund
                continue
            first = line.kind == ledger.SALE
            words = f"sold {sale.sold_on}" if first else WORDS[line.kind]
            note, on = (sale.channel, sale.sold_on) if first else ("", None)
            lines.append(MoneyLine(words, line.amount_minor, opens, 1, note, on))
        for back in ground.returns:
            if back.sale_id == sale.sale_id:
                lines += _given_back(ground, back)
    return tuple(lines)


def _given_back(ground: MoneyGround, back: UnitReturn) -> Iterator[MoneyLine]:
    """What a return changed: what was refunded, what the channel gave back, what the way back cost."""
    refunded = "sale undone, refunded" if back.undoes else "came back, refunded"
    for line in ground.of(*OF_A_RETURN, row_id=back.comeback_id):
        words = refunded if line.kind == ledger.REFUND else WORDS[line.kind]
        yield MoneyLine(words, line.amount_minor, opens_number(RETURN, back.comeback_id), 1)


def _by_other_ways(ground: MoneyGround) -> Iterator[MoneyLine]:
    """What repairs of an owner's machine, and scrap, have brought."""
    for left in ground.ways:
        for line in ground.of(*OF_A_WAY_OUT, row_id=left.way_out_id):
            opens = opens_number(WAY_OUT, left.way_out_id)
            yield MoneyLine(WORDS[line.kind], line.amount_minor, opens, 1)


def _cost(amount_minor: int | None) -> int | None:
    return None if amount_minor is None else -amount_minor


def _sum(lines: Iterable[LedgerLine]) -> int:
    return sum(line.amount_minor or 0 for line in lines)
