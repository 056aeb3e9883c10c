"""Read a unit's money: what it cost, what it brought, labour apart, and the rows behind every figure."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.margin_tax import tax_after_refund_minor
from bench.domain.unit_money import (
    MATERIALS,
    PARTS_BOUGHT,
    PARTS_IN,
    PARTS_OUT,
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
from bench.domain.ways_out import HANDED_BACK, SCRAPPED
from bench.errors import NotFound
from bench.views import leaving as leaving_reads
from bench.views import money as reads
from bench.views import parts as part_reads
from bench.views import trade as trade_reads
from bench.views.parts import PartLine
from bench.views.trade import ChannelLine

NEVER_US = 2**62


@dataclass(frozen=True)
class MoneyGround:
    """All rows that a unit's money is made of, read in one snapshot."""

    unit: sqlite3.Row
    parts: tuple[PartLine, ...]
    materials: list[sqlite3.Row]
    sales: list[sqlite3.Row]
    returns: list[sqlite3.Row]
    ways: list[sqlite3.Row]

    @property
    def unit_id(self) -> int:
        """The unit's number."""
        return int(self.unit["unit_id"])

    def bought(self) -> tuple[PartLine, ...]:
        """Parts bought for the unit."""
        return tuple(part for part in self.parts if part.from_unit_id is None)

    def came_in(self) -> tuple[PartLine, ...]:
        """Parts that came out of other units."""
        return tuple(
            part for part in self.parts if part.from_unit_id is not None and part.to_unit_id == self.unit_id
        )

    def went_out(self) -> tuple[PartLine, ...]:
        """Parts that went to other units or the shelf."""
        return tuple(part for part in self.parts if part.from_unit_id == self.unit_id)

    def tax_left_minor(self, sale: sqlite3.Row) -> int:
        """The margin tax of a sale that is left after what was refunded of it."""
        return tax_after_refund_minor(
            sale["tax_minor"], self.unit["price_minor"] or 0, sale["price_minor"], sale["refund_minor"]
        )


def read_unit_money(desk: Desk, unit_id: int, *, channel_id: int | None = None) -> UnitMoney:
    """Landed cost, labour apart, break-even and margin of one unit. NotFound when there is no such unit.

    Break-even counts the fees of `channel_id`; without one those of the channel it was last sold through,
    or was meant for when it was looked at, or else of the shop's first.
    """
    with desk.store.read() as connection:
        ground = money_ground(connection, unit_id)
        channel = _channel(connection, ground, channel_id)
        tax = trade_reads.settings(connection).tax_per_10000
        since_us = ground.returns[0]["at_us"] if ground.returns else NEVER_US
        attended_us, after_us, _ = reads.attended(connection, unit_id, since_us)
    unit, sold, landed = ground.unit, _is_sold(ground), _landed(ground)
    # A sale that stands is what has to break even; what earlier ones left over counts towards it.
    over = _brought(ground, ground.sales[:-1] if sold else ground.sales)
    return UnitMoney(
        unit_id=unit_id,
        tag=unit["tag"],
        model=unit["model"],
        currency=unit["currency"],
        zone=unit["zone"],
        landed=landed,
        brought=(*_brought(ground, ground.sales), *_by_other_ways(ground)),
        attended_us=attended_us,
        after_return_us=after_us,
        rate_minor_per_hour=unit["rate_minor_per_hour"],
        sold=sold,
        way=_way(ground),
        owner=unit["owner"],
        expected_minor=unit["expected_minor"],
        channel=channel.name,
        break_even_minor=break_even_minor(
            total(landed) - total(over),
            unit["price_minor"] or 0,
            channel.fee_per_10000,
            channel.fee_fixed_minor,
            tax,
        ),
    )


def money_ground(connection: sqlite3.Connection, unit_id: int) -> MoneyGround:
    """The rows of a unit's money. NotFound when there is no such unit."""
    unit = reads.unit(connection, unit_id)
    if unit is None:
        raise NotFound(f"There is no unit with number {unit_id}.", "It may have been taken back.")
    return MoneyGround(
        unit=unit,
        parts=part_reads.of_unit(connection, unit_id),
        materials=reads.materials(connection, unit_id),
        sales=reads.sales(connection, unit_id),
        returns=reads.returns(connection, unit_id),
        ways=leaving_reads.of_unit(connection, unit_id),
    )


def _channel(connection: sqlite3.Connection, ground: MoneyGround, channel_id: int | None) -> ChannelLine:
    if channel_id is not None:
        asked = trade_reads.channel(connection, channel_id)
        if asked is None:
            raise NotFound(f"There is no channel with number {channel_id}.", "Choose one that is there.")
        return asked
    sold_through = [sale["channel_id"] for sale in ground.sales if sale["channel_id"] is not None]
    meant = sold_through[-1] if sold_through else reads.offered_through(connection, ground.unit_id)
    return usual_channel(connection, meant)


def usual_channel(connection: sqlite3.Connection, meant: int | None) -> ChannelLine:
    """The channel meant for a unit, else the shop's first one."""
    known = trade_reads.channel(connection, meant) if meant is not None else None
    return known or next(iter(trade_reads.channels(connection)), ChannelLine(0, "", 0, 0))


def _landed(ground: MoneyGround) -> tuple[MoneyLine, ...]:
    lines = list(_bought(ground.unit))
    for words, parts, opens, sign in (
        ("parts bought", ground.bought(), PARTS_BOUGHT, 1),
        ("parts out of other units", ground.came_in(), PARTS_IN, 1),
        ("parts given away", ground.went_out(), PARTS_OUT, -1),
    ):
        if parts:
            cost = sign * sum(part.cost_minor for part in parts)
            lines.append(MoneyLine(words, cost, opens, len(parts)))
    for row in ground.materials:
        if row["quantity"] or row["cost_minor"]:
            note = "" if row["cost_minor"] else "received without a price"
            opens = opens_number(MATERIALS, row["consumable_id"])
            lines.append(MoneyLine(row["name"], -row["cost_minor"], opens, row["rows"], note))
    return tuple(lines)


def _bought(unit: sqlite3.Row) -> Iterator[MoneyLine]:
    """The price or share of a lot, the buyer's premium in it, and the freight on top."""
    if unit["owner_id"] is not None:
        yield MoneyLine("its owner's, not bought", 0, PURCHASE)
        return
    parts = bought_parts(unit)
    for words, amount in parts:
        yield MoneyLine(words, amount, PURCHASE, len(parts))


def bought_parts(unit: sqlite3.Row) -> list[tuple[str, int | None]]:
    """What was paid to have the unit here, in words and minor units; None where no price was typed."""
    words = f"share of the lot {unit['lot']}" if unit["lot"] else "price paid"
    price, premium, freight = unit["price_minor"], unit["premium_minor"], unit["freight_minor"]
    parts: list[tuple[str, int | None]] = [(words, None if price is None else price - premium)]
    parts += [("buyer's premium", premium)] if premium else []
    return parts + ([("inward freight", freight)] if freight else [])


def _is_sold(ground: MoneyGround) -> bool:
    """Whether the last sale stands: no return undid it, wherever the unit is."""
    return bool(ground.sales) and not ground.sales[-1]["undone"]


def _brought(ground: MoneyGround, sales: list[sqlite3.Row]) -> tuple[MoneyLine, ...]:
    """Price, fee, shipping, tax of each sale, and what was refunded of it."""
    lines: list[MoneyLine] = []
    for sale in sales:
        opens = opens_number(SALE, sale["sale_id"])
        lines.append(MoneyLine(f"sold {sale['sold_on']}", sale["price_minor"], opens, 1, sale["channel"]))
        for words, cost in (
            ("fees of the channel", sale["fee_minor"]),
            ("shipping", sale["shipping_minor"] if sale["shipping_known"] else None),
            ("tax on the margin (not advice)", ground.tax_left_minor(sale)),
        ):
            if cost is None or cost:
                lines.append(MoneyLine(words, None if cost is None else -cost, opens, 1))
        for back in ground.returns:
            if back["sale_id"] == sale["sale_id"]:
                opens_back = opens_number(RETURN, back["comeback_id"])
                lines += _given_back(back, opens_back)
    return tuple(lines)


def _by_other_ways(ground: MoneyGround) -> Iterator[MoneyLine]:
    """What repairs of an owner's machine, and scrap, have brought."""
    for row in ground.ways:
        opens = opens_number(WAY_OUT, row["way_out_id"])
        if row["way"] == HANDED_BACK and ground.unit["owner_id"] is not None:
            yield MoneyLine("price of the repair", row["price_minor"], opens, 1)
        if row["way"] == SCRAPPED and row["proceeds_minor"] and row["ended_us"] is None:
            yield MoneyLine("proceeds of scrap", row["proceeds_minor"], opens, 1)


def _way(ground: MoneyGround) -> str:
    """How it left, while it has not come in again; nothing for a unit in the queue."""
    out = [row["way"] for row in ground.ways if row["ended_us"] is None]
    return str(out[-1]) if out else ""


def _given_back(back: sqlite3.Row, opens: str) -> list[MoneyLine]:
    """What a return changed: what was refunded, what the channel gave back, what the way back cost."""
    words = "sale undone, refunded" if back["undoes"] else "came back, refunded"
    lines = [MoneyLine(words, -back["refund_minor"], opens, 1)]
    if back["fee_back_minor"]:
        lines.append(MoneyLine("fees given back", back["fee_back_minor"], opens, 1))
    postage = back["postage_minor"]
    if postage is None or postage:
        lines.append(MoneyLine("return postage", None if postage is None else -postage, opens, 1))
    return lines
