"""Units sold within some days, each with its margin; and what became of those that were not sold.

A unit counts as sold while its newest sale stands: no return undid it, wherever the unit is now. Margins,
losses and what repairs took are all sums of the ledger.
"""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from bench.domain.amounts import Length, Minor
from bench.domain.unit_money import WAY_OUT, MoneyLine, SoldUnit
from bench.domain.ways_out import KEPT, PARTS, SCRAPPED, Repairs
from bench.views import ledger
from bench.views.binder import Query
from bench.views.ledger import LedgerTotal
from bench.views.standing import IN_QUEUE

NOT_TYPED = {ledger.PRICE: "price paid", ledger.SHIPPING: "shipping", ledger.POSTAGE: "return postage"}
REPAIRS, REPAIRS_COST = "repairs of owners' machines", "parts, consumables of repairs"
SCRAP, PROCEEDS, BROKEN = "scrapped, cost lost", "proceeds of scrap", "broken for parts, cost left over"
KEPT_WORDS = "kept for the shop, no loss"

HANDS_ON = """
COALESCE((SELECT SUM(entry.stopped_us - entry.started_us)
          FROM task JOIN time_entry AS entry ON entry.task_id = task.id
          WHERE task.unit_id = unit.id AND entry.attended = 1 AND entry.stopped_us IS NOT NULL), 0)
"""


@dataclass(frozen=True, slots=True)
class _Sold:
    """A unit whose newest sale stands."""

    unit_id: int
    tag: str
    model: str
    sold_on: date
    hands_on_us: Length


@dataclass(frozen=True, slots=True)
class _Gone:
    """A unit that was kept, scrapped or broken for parts, and still is."""

    unit_id: int
    tag: str
    way: str


@dataclass(frozen=True, slots=True)
class _Repaired:
    """An owner's machine handed back: what the owner pays but tax, and what its repair took since then."""

    tag: str
    price_minor: Minor | None
    cost_minor: Minor


@dataclass(frozen=True, slots=True)
class _UnderWay:
    """What repairs of owners' machines in the queue have taken so far."""

    cost_minor: Minor


_SOLD = Query(
    _Sold,
    """
SELECT unit.id AS unit_id, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS model, sale.sold_on,
       {attended} AS hands_on_us
{sold} ORDER BY unit.id
""".replace("{attended}", HANDS_ON).replace("{sold}", ledger.STANDING_SALES),
)
_GONE = Query(
    _Gone,
    """
SELECT way_out.unit_id, unit.tag, way_out.way
FROM way_out JOIN unit ON unit.id = way_out.unit_id AND unit.removed = 0
WHERE way_out.removed = 0 AND way_out.ended_us IS NULL AND way_out.at_us >= :lo AND way_out.at_us < :hi
AND way_out.way IN ('kept', 'scrapped', 'parts') ORDER BY way_out.at_us, way_out.id
""",
)
# What a repair took: parts and consumables since the machine last came in, until it came in again.
_SPENT = """
COALESCE((SELECT -SUM(amount_minor) FROM ledger WHERE ledger.unit_id = visit.unit_id AND ledger.side = 'cost'
          AND ledger.at_us > visit.since_us AND ledger.at_us <= visit.until_us), 0)
"""
_HANDED_BACK = """
SELECT DISTINCT unit_id FROM way_out
WHERE removed = 0 AND way = 'handed back' AND at_us >= :lo AND at_us < :hi
"""
_REPAIRED = Query(
    _Repaired,
    ledger.over(
        _HANDED_BACK,
        """,
visit AS (
    SELECT way_out.*, COALESCE(way_out.ended_us, 9223372036854775807) AS until_us,
           COALESCE(LAG(way_out.ended_us) OVER (
               PARTITION BY way_out.unit_id ORDER BY way_out.at_us, way_out.id), -1) AS since_us
    FROM wanted CROSS JOIN way_out ON way_out.unit_id = wanted.unit_id
    WHERE way_out.removed = 0 AND way_out.way = 'handed back'
)
SELECT unit.tag, visit.price_minor - visit.tax_minor AS price_minor, {spent} AS cost_minor
FROM visit JOIN unit ON unit.id = visit.unit_id AND unit.removed = 0 AND unit.owner_id IS NOT NULL
WHERE visit.at_us >= :lo AND visit.at_us < :hi ORDER BY visit.at_us, visit.id
""".replace("{spent}", _SPENT),
    ),
)
_OWNERS_HERE = "SELECT unit.id FROM {in_queue} WHERE unit.owner_id IS NOT NULL".replace(
    "{in_queue}", IN_QUEUE
)
_UNDER_WAY = Query(
    _UnderWay,
    ledger.over(
        _OWNERS_HERE,
        """,
visit AS (
    SELECT wanted.unit_id, 9223372036854775807 AS until_us,
           COALESCE((SELECT MAX(way_out.ended_us) FROM way_out WHERE way_out.unit_id = wanted.unit_id
                     AND way_out.removed = 0), -1) AS since_us
    FROM wanted
)
SELECT COALESCE(SUM({spent}), 0) AS cost_minor FROM visit
""".replace("{spent}", _SPENT),
    ),
)


def units_sold(
    connection: sqlite3.Connection, first: date, last: date
) -> tuple[tuple[SoldUnit, ...], tuple[LedgerTotal, ...]]:
    """The units sold from one day to another, by number, each with its margin; and the sums these add up."""
    sums = ledger.totals_of_sold(connection, first, last)
    by_unit = _by_unit(sums)
    sold = _SOLD.each(connection, first=first.isoformat(), last=last.isoformat())
    return tuple(_sold_unit(one, by_unit[one.unit_id]) for one in sold), sums


def unsold_lines(
    connection: sqlite3.Connection, span: tuple[int, int], repairs: Repairs
) -> tuple[tuple[MoneyLine, ...], tuple[MoneyLine, ...], tuple[str, ...]]:
    """The lines beside the margins of sales, that earn or lose; apart what left stock without a loss.

    Last, of which units a cost was not typed, so that more is lost. `span`: bounds in UTC microseconds;
    `repairs`: those of owners' machines within it.
    """
    gone = _GONE.all(connection, lo=span[0], hi=span[1])
    by_unit = _by_unit(ledger.totals_of(connection, {one.unit_id for one in gone}))
    cost: defaultdict[str, int] = defaultdict(int)
    units: defaultdict[str, int] = defaultdict(int)
    proceeds = []
    for one in gone:
        brought = ledger.total(by_unit[one.unit_id], ledger.SCRAP)
        cost[one.way] += brought - ledger.total(by_unit[one.unit_id])
        units[one.way] += 1
        proceeds += [brought] if brought else []
    lines = (
        MoneyLine(REPAIRS, repairs.income_minor, WAY_OUT, repairs.units),
        MoneyLine(REPAIRS_COST, -repairs.cost_minor, WAY_OUT, repairs.units),
        MoneyLine(SCRAP, -cost[SCRAPPED], WAY_OUT, units[SCRAPPED]),
        MoneyLine(PROCEEDS, sum(proceeds), WAY_OUT, len(proceeds)),
        MoneyLine(BROKEN, -cost[PARTS], WAY_OUT, units[PARTS]),
    )
    absent = tuple(
        f"{one.tag} {NOT_TYPED[ledger.PRICE]}"
        for one in gone
        if any(told.absent and told.kind == ledger.PRICE for told in by_unit[one.unit_id])
    )
    kept = MoneyLine(KEPT_WORDS, cost[KEPT], WAY_OUT, units[KEPT])
    return tuple(line for line in lines if line.rows), (kept,) if kept.rows else (), absent


def read_repairs(connection: sqlite3.Connection, span: tuple[int, int]) -> Repairs:
    """Owners' machines handed back within a span: what their repairs brought and took."""
    repaired = _REPAIRED.all(connection, lo=span[0], hi=span[1])
    return Repairs(
        units=len(repaired),
        income_minor=sum(one.price_minor or 0 for one in repaired),
        cost_minor=sum(one.cost_minor for one in repaired),
        unpriced=tuple(one.tag for one in repaired if one.price_minor is None),
    )


def under_way_minor(connection: sqlite3.Connection) -> int:
    """What the repairs of owners' machines in the queue have taken so far."""
    return _UNDER_WAY.the(connection).cost_minor


def _sold_unit(one: _Sold, sums: Iterable[LedgerTotal]) -> SoldUnit:
    told = list(sums)
    absent = {each.kind: each.absent for each in told}
    missing = tuple(words for kind, words in NOT_TYPED.items() for _ in range(absent.get(kind, 0)))
    margin = ledger.total(told)
    return SoldUnit(one.unit_id, one.tag, one.model, one.sold_on, margin, one.hands_on_us, missing)


def _by_unit(sums: Iterable[LedgerTotal]) -> defaultdict[int, list[LedgerTotal]]:
    by_unit: defaultdict[int, list[LedgerTotal]] = defaultdict(list)
    for one in sums:
        by_unit[one.unit_id].append(one)
    return by_unit
