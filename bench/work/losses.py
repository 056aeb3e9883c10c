"""What became of units that were not sold within some time: losses, what was kept, repairs for owners."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Iterable

from bench.domain.unit_money import WAY_OUT, MoneyLine
from bench.domain.ways_out import KEPT, PARTS, SCRAPPED, Repairs
from bench.views import leaving as reads
from bench.work.units_sold import PRICE_PAID, net_minor

REPAIRS, REPAIRS_COST = "repairs of owners' machines", "parts, consumables of repairs"
SCRAP, PROCEEDS, BROKEN = "scrapped, cost lost", "proceeds of scrap", "broken for parts, cost left over"
KEPT_WORDS = "kept for the shop, no loss"


def lost_minor(connection: sqlite3.Connection, unit_id: int) -> int:
    """What is lost with a unit: its cost, less what sales that were undone left of it or took."""
    cost, purchase = reads.cost_of(connection, unit_id)
    return cost - sum(net_minor(sale, purchase) for sale in reads.sales_of(connection, [unit_id]))


def unsold_lines(
    connection: sqlite3.Connection, span: tuple[int, int]
) -> tuple[tuple[MoneyLine, ...], tuple[MoneyLine, ...], tuple[str, ...]]:
    """The lines beside the margins of sales, that earn or lose; apart what left stock without a loss.

    Last, of which units a cost was not typed, so that more is lost.
    """
    rows = reads.unsold(connection, span)
    net = _net_by_unit(connection, rows)
    cost: defaultdict[str, int] = defaultdict(int)
    units: defaultdict[str, int] = defaultdict(int)
    for row in rows:
        cost[row["way"]] += row["cost_minor"] - net[row["unit_id"]]
        units[row["way"]] += 1
    proceeds = [row["proceeds_minor"] for row in rows if row["proceeds_minor"]]
    repairs = read_repairs(connection, span)
    lines = (
        MoneyLine(REPAIRS, repairs.income_minor, WAY_OUT, repairs.units),
        MoneyLine(REPAIRS_COST, -repairs.cost_minor, WAY_OUT, repairs.units),
        MoneyLine(SCRAP, -cost[SCRAPPED], WAY_OUT, units[SCRAPPED]),
        MoneyLine(PROCEEDS, sum(proceeds), WAY_OUT, len(proceeds)),
        MoneyLine(BROKEN, -cost[PARTS], WAY_OUT, units[PARTS]),
    )
    absent = tuple(f"{row['tag']} {PRICE_PAID}" for row in rows if not row["price_known"])
    kept = MoneyLine(KEPT_WORDS, cost[KEPT], WAY_OUT, units[KEPT])
    return tuple(line for line in lines if line.rows), (kept,) if kept.rows else (), absent


def read_repairs(connection: sqlite3.Connection, span: tuple[int, int]) -> Repairs:
    """Owners' machines handed back within a span: what their repairs brought and took."""
    rows = reads.repairs(connection, span)
    return Repairs(
        units=len(rows),
        income_minor=sum(row["price_minor"] or 0 for row in rows),
        cost_minor=sum(row["cost_minor"] for row in rows),
        unpriced=tuple(row["tag"] for row in rows if row["price_minor"] is None),
    )


def _net_by_unit(connection: sqlite3.Connection, rows: Iterable[sqlite3.Row]) -> defaultdict[int, int]:
    bought = {row["unit_id"]: row["purchase_minor"] for row in rows}
    net: defaultdict[int, int] = defaultdict(int)
    for sale in reads.sales_of(connection, bought):
        net[sale["unit_id"]] += net_minor(sale, bought[sale["unit_id"]])
    return net
