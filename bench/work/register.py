"""Read the register of second-hand goods."""

from __future__ import annotations

import sqlite3
from datetime import date
from typing import Any

from bench.desk import Desk
from bench.domain.hold_period import hold_ends
from bench.domain.margin_tax import tax_after_refund_minor
from bench.domain.register import (
    CAME_BACK,
    DONOR,
    IN_STOCK,
    LEFT,
    OWNERS,
    SOLD,
    UNSOLD,
    VOID,
    Register,
    RegisterLine,
)
from bench.domain.weeks import local_day
from bench.views import register as reads
from bench.views import trade as trade_reads
from bench.views.shop import facts


def read_register(desk: Desk, span: tuple[date, date] | None = None) -> Register:
    """Every unit by number, or those of which something happened from one day to another, in one snapshot."""
    with desk.store.read() as connection:
        shop = facts(connection)
        trade = trade_reads.settings(connection)
        lines = [_line(row, shop.zone, trade.hold_days) for row in reads.lines(connection)]
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


def _line(row: sqlite3.Row, zone: str, hold_days: int) -> RegisterLine:
    came_on = local_day(row["added_us"], zone)
    if row["removed"] or row["owner_id"] is not None:
        return _not_bought(row["unit_id"], VOID if row["removed"] else OWNERS, came_on)
    bought_on = _day(row["bought_on"])
    return RegisterLine(
        number=row["unit_id"],
        state=_state(row),
        unit_id=row["unit_id"],
        tag=row["tag"],
        what=row["what"],
        serial=row["serial"],
        bought_on=bought_on,
        came_on=came_on,
        seller=row["seller"],
        seller_address=row["seller_address"],
        identity_seen=row["identity_seen"],
        purchase_invoice=row["purchase_invoice"],
        lot=row["lot"],
        lot_price_minor=row["lot_price_minor"],
        purchase_minor=row["purchase_minor"],
        free_from=hold_ends(bought_on, hold_days),
        **_sale(row, zone),
    )


def _not_bought(number: int, why: str, came_on: date) -> RegisterLine:
    """A number that was given and stands for no goods bought: it stays, so that the sequence has no gap."""
    return RegisterLine(number, why, number, "", "", "", None, came_on, "", "", "", "", "", None, None, None)


def _sale(row: sqlite3.Row, zone: str) -> dict[str, Any]:
    if row["sale_id"] is None:
        return {}
    refund = row["refund_minor"] or 0
    known = row["purchase_minor"] is not None
    bought = row["purchase_minor"] or 0
    return {
        "sale": row["sale"],
        "sale_id": row["sale_id"],
        "sold_on": _day(row["sold_on"]),
        "buyer": row["buyer"],
        "buyer_address": row["buyer_address"],
        "sale_invoice": row["sale_invoice"],
        "channel": row["channel"],
        "price_minor": row["price_minor"],
        "back_on": None if row["back_us"] is None else local_day(row["back_us"], zone),
        "refund_minor": row["refund_minor"],
        "margin_minor": row["price_minor"] - refund - bought if _stands(row) and known else None,
        "tax_minor": tax_after_refund_minor(row["tax_minor"], bought, row["price_minor"], refund),
    }


def _stands(row: sqlite3.Row) -> bool:
    """The unit's newest sale, while no return undid it."""
    return bool(row["newest"]) and not row["undone"]


def _state(row: sqlite3.Row) -> str:
    if row["sale_id"] is not None and (_stands(row) or not row["newest"]):
        return SOLD if _stands(row) else CAME_BACK
    if row["way"] in UNSOLD:
        return UNSOLD[row["way"]]
    if row["sale_id"] is not None:
        return CAME_BACK
    if row["donor"]:
        return DONOR
    return LEFT if row["final"] else IN_STOCK


def _day(text: str | None) -> date | None:
    return date.fromisoformat(text) if text else None
