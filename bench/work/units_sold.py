"""The units sold within some days, each with its margin: what the sums of a week and of a month rest on."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from datetime import date

from bench.domain.earned import SoldUnit
from bench.domain.margin_tax import tax_after_refund_minor
from bench.views import units_sold as reads

PRICE_PAID, SHIPPING, POSTAGE = "price paid", "shipping", "return postage"

Rows = list[sqlite3.Row]


def read_sold_rows(connection: sqlite3.Connection, first: date, last: date) -> tuple[Rows, Rows]:
    """The units sold from one day to another that are still sold, and every sale of theirs."""
    days = (first.isoformat(), last.isoformat())
    return reads.sold(connection, *days), reads.sales(connection, *days)


def units_sold(rows: Rows, sales: Rows) -> list[SoldUnit]:
    """Each unit with its margin: prices less refunds, fees, shipping and tax, less what it has cost."""
    brought: defaultdict[int, int] = defaultdict(int)
    missing: defaultdict[int, list[str]] = defaultdict(list)
    bought = {row["unit_id"]: row["purchase_minor"] for row in rows}
    for sale in sales:
        missing[sale["unit_id"]] += missing_of(sale)
        brought[sale["unit_id"]] += net_minor(sale, bought[sale["unit_id"]])
    return [
        SoldUnit(
            unit_id=row["unit_id"],
            tag=row["tag"],
            model=row["model"],
            sold_on=date.fromisoformat(row["sold_on"]),
            margin_minor=brought[row["unit_id"]]
            - (row["purchase_minor"] + row["freight_minor"] + row["parts_minor"] + row["materials_minor"]),
            attended_us=row["attended_us"],
            missing=tuple(([] if row["price_known"] else [PRICE_PAID]) + missing[row["unit_id"]]),
        )
        for row in rows
    ]


def missing_of(sale: sqlite3.Row) -> list[str]:
    """What of a sale's costs was not typed."""
    absent = [] if sale["shipping_known"] else [SHIPPING]
    return absent + ([POSTAGE] if sale["postage_unknown"] else [])


def net_minor(sale: sqlite3.Row, purchase_minor: int) -> int:
    """What a sale leaves after fees, sending there and back, refunds and tax, in minor units."""
    fees = sale["fee_minor"] - sale["fee_back_minor"]
    costs = fees + sale["shipping_minor"] + sale["postage_minor"] + sale["refund_minor"]
    return int(sale["price_minor"] - costs - tax_left_minor(sale, purchase_minor))


def tax_left_minor(sale: sqlite3.Row, purchase_minor: int) -> int:
    """The margin tax of a sale after what was refunded of it."""
    return tax_after_refund_minor(
        sale["tax_minor"], purchase_minor, sale["price_minor"], sale["refund_minor"]
    )
