"""The money ledger: one text of signed lines for all that units cost and brought. Sums of money add these.

What a unit cost stands on the cost side, below 0; what it brought on the other. A line names the row behind
it, so that what was summed can be opened. NULL: not typed, and left out of the sum. Expenses and income
that belong to no unit are lines of the same shape, of the kind general, without a unit.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from bench.domain.amounts import Instant, Minor
from bench.store.standing import NEWEST, UNDONE
from bench.views.binder import Query, value
from bench.views.standing import IN_QUEUE

COST, PROCEEDS_SIDE = "cost", "brought"
PRICE, PREMIUM, FREIGHT = "price", "premium", "freight"
PART_BOUGHT, PART_IN, PART_OUT = "part bought", "part in", "part out"
PART_LOST, PART_REFUND = "part lost", "part refund"
CONSUMABLE = "consumable"
SALE, FEE, SHIPPING, TAX = "sale", "fee", "shipping", "tax"
REFUND, FEE_BACK, POSTAGE = "refund", "fee back", "postage"
REPAIR, REPAIR_TAX, SCRAP = "repair", "repair tax", "scrap"
GENERAL = "general"

BUYING = (PRICE, PREMIUM, FREIGHT)
PARTS = (PART_BOUGHT, PART_IN, PART_OUT)
PARTS_GONE = (PART_LOST, PART_REFUND)

# Whose lines: each answers `unit_id`.
ONE = "SELECT :id"
THESE = "SELECT value FROM json_each(:ids)"
QUEUE = "SELECT unit.id FROM {in_queue} WHERE unit.owner_id IS NULL".replace("{in_queue}", IN_QUEUE)
STANDING_SALES = """
FROM sale JOIN unit ON unit.id = sale.unit_id AND unit.removed = 0
WHERE sale.removed = 0 AND sale.sold_on BETWEEN :first AND :last AND {newest} AND NOT {undone}
""".replace("{newest}", NEWEST).replace("{undone}", UNDONE)
SOLD = f"SELECT sale.unit_id {STANDING_SALES}"

_LEDGER = """
WITH wanted(unit_id) AS MATERIALIZED ({whose}),
bought AS MATERIALIZED (
    SELECT unit.id AS unit_id, unit.added_us, unit.price_minor, purchase.bought_on,
           CASE WHEN unit.price_minor IS NULL THEN 0 ELSE COALESCE(purchase.premium_minor, 0) END AS premium,
           COALESCE(purchase.freight_minor, 0) AS freight
    FROM wanted CROSS JOIN unit ON unit.id = wanted.unit_id
    LEFT JOIN purchase ON purchase.unit_id = unit.id WHERE unit.owner_id IS NULL
),
sold AS MATERIALIZED (
    SELECT sale.*, unit.price_minor AS purchase_minor,
           COALESCE((SELECT SUM(refund_minor) FROM comeback WHERE comeback.sale_id = sale.id
                     AND comeback.removed = 0), 0) AS refund_minor
    FROM wanted CROSS JOIN sale ON sale.unit_id = wanted.unit_id AND sale.removed = 0
    JOIN unit ON unit.id = sale.unit_id
),
back AS MATERIALIZED (
    SELECT comeback.*, sold.unit_id FROM sold CROSS JOIN comeback
    ON comeback.sale_id = sold.id AND comeback.removed = 0
),
ledger(unit_id, side, kind, row_id, of_id, at_us, day, amount_minor) AS (
    SELECT unit_id, 'cost', 'price', unit_id, unit_id, added_us, bought_on, premium - price_minor FROM bought
    UNION ALL
    SELECT unit_id, 'cost', 'premium', unit_id, unit_id, added_us, bought_on, -premium
    FROM bought WHERE premium <> 0
    UNION ALL
    SELECT unit_id, 'cost', 'freight', unit_id, unit_id, added_us, bought_on, -freight
    FROM bought WHERE freight <> 0
    UNION ALL
    SELECT wanted.unit_id, 'cost', CASE WHEN part.from_unit_id IS NULL THEN 'part bought' ELSE 'part in' END,
           part.id, part.id, part.at_us, NULL, -part.cost_minor
    FROM wanted CROSS JOIN part ON part.to_unit_id = wanted.unit_id AND part.removed = 0
    UNION ALL
    SELECT wanted.unit_id, 'cost', 'part out', part.id, part.id, part.at_us, NULL, part.cost_minor
    FROM wanted CROSS JOIN part ON part.from_unit_id = wanted.unit_id AND part.removed = 0
    UNION ALL
    SELECT wanted.unit_id, 'cost', 'part lost', component.id, component.id, component.gone_us, NULL,
           -part.cost_minor
    FROM wanted CROSS JOIN component ON component.bears_unit_id = wanted.unit_id AND component.gone <> ''
    CROSS JOIN part ON part.component_id = component.id AND part.removed = 0 AND part.to_unit_id IS NULL
    UNION ALL
    SELECT wanted.unit_id, 'cost', 'part refund', parts_order.id, parts_order.id, parts_order.refunded_us,
           NULL, parts_order.refund_minor
    FROM wanted CROSS JOIN parts_order ON parts_order.refund_unit_id = wanted.unit_id
    AND parts_order.removed = 0 AND parts_order.refund_minor <> 0
    UNION ALL
    SELECT wanted.unit_id, 'cost', 'consumable', movement.id, movement.consumable_id, movement.at_us, NULL,
           movement.cost_minor
    FROM wanted CROSS JOIN task ON task.unit_id = wanted.unit_id
    CROSS JOIN movement ON movement.task_id = task.id
    UNION ALL
    SELECT unit_id, 'brought', 'sale', id, id, sold_us, sold_on, price_minor FROM sold
    UNION ALL
    SELECT unit_id, 'brought', 'fee', id, id, sold_us, sold_on, -fee_minor FROM sold WHERE fee_minor <> 0
    UNION ALL
    SELECT unit_id, 'brought', 'shipping', id, id, sold_us, sold_on,
           CASE WHEN shipping_known THEN -shipping_minor END
    FROM sold WHERE NOT shipping_known OR shipping_minor <> 0
    UNION ALL
    SELECT unit_id, 'brought', 'tax', id, id, sold_us, sold_on,
           -tax_after_refund(tax_minor, COALESCE(purchase_minor, 0), price_minor, refund_minor)
    FROM sold WHERE tax_minor <> 0
    UNION ALL
    SELECT unit_id, 'brought', 'refund', id, sale_id, at_us, NULL, -refund_minor FROM back
    UNION ALL
    SELECT unit_id, 'brought', 'fee back', id, sale_id, at_us, NULL, fee_back_minor
    FROM back WHERE fee_back_minor <> 0
    UNION ALL
    SELECT unit_id, 'brought', 'postage', id, sale_id, at_us, NULL, -postage_minor
    FROM back WHERE postage_minor IS NULL OR postage_minor <> 0
    UNION ALL
    SELECT unit.id, 'brought', 'repair', way_out.id, way_out.id, way_out.at_us, NULL, way_out.price_minor
    FROM wanted CROSS JOIN unit ON unit.id = wanted.unit_id AND unit.owner_id IS NOT NULL
    CROSS JOIN way_out ON way_out.unit_id = unit.id AND way_out.way = 'handed back' AND way_out.removed = 0
    UNION ALL
    SELECT unit.id, 'brought', 'repair tax', way_out.id, way_out.id, way_out.at_us, NULL, -way_out.tax_minor
    FROM wanted CROSS JOIN unit ON unit.id = wanted.unit_id AND unit.owner_id IS NOT NULL
    CROSS JOIN way_out ON way_out.unit_id = unit.id AND way_out.way = 'handed back' AND way_out.removed = 0
    AND way_out.tax_minor <> 0
    UNION ALL
    SELECT way_out.unit_id, 'brought', 'scrap', way_out.id, way_out.id, way_out.at_us, NULL,
           way_out.proceeds_minor
    FROM wanted CROSS JOIN way_out ON way_out.unit_id = wanted.unit_id AND way_out.way = 'scrapped'
    AND way_out.removed = 0 AND way_out.ended_us IS NULL WHERE way_out.proceeds_minor <> 0
){then}
"""


# What belongs to no unit, on the days from one to another: spent below 0, earned above. With what it was for.
GENERAL_LINES = """
general(unit_id, side, kind, row_id, of_id, at_us, day, amount_minor, category, income) AS (
    SELECT NULL, CASE side WHEN 'income' THEN 'brought' ELSE 'cost' END, 'general', id, id, NULL, day,
           CASE side WHEN 'income' THEN amount_minor ELSE -amount_minor END, category, side = 'income'
    FROM expense WHERE removed = 0 AND day BETWEEN :first AND :last
)
"""


@dataclass(frozen=True, slots=True)
class LedgerLine:
    """One line. `row_id`: the row behind it; `of_id`: what it belongs to, a sale or a consumable.

    `at_us`: when it was booked; `day`: on which day it was bought or sold, where that was typed.
    """

    unit_id: int
    side: str
    kind: str
    row_id: int
    of_id: int
    at_us: Instant
    day: date | None
    amount_minor: Minor | None


@dataclass(frozen=True, slots=True)
class LedgerTotal:
    """The lines of one unit and kind together. `absent`: how many of them were not typed."""

    unit_id: int
    side: str
    kind: str
    amount_minor: Minor
    rows: int
    absent: int


def over(whose: str, then: str) -> str:
    """A text whose SELECT, or tables before it, reads `ledger` over the units that `whose` answers."""
    return _LEDGER.replace("{whose}", whose).replace("{then}", then)


def _summed(whose: str) -> Query[LedgerTotal]:
    return Query(LedgerTotal, over(whose, _SUMS))


_SUMS = """
SELECT unit_id, side, kind, COALESCE(SUM(amount_minor), 0) AS amount_minor,
       SUM(amount_minor IS NOT 0) AS rows, SUM(amount_minor IS NULL) AS absent
FROM ledger GROUP BY unit_id, side, kind ORDER BY unit_id, MIN(at_us)
"""
_LINES = Query(LedgerLine, over(ONE, " SELECT * FROM ledger ORDER BY at_us, row_id"))
_OF_THESE = _summed(THESE)
_OF_SOLD = _summed(SOLD)
_COST_LEFT = over(ONE, " SELECT -SUM(amount_minor) FROM ledger WHERE side = 'cost' AND kind <> 'consumable'")
_CONSUMED = over(ONE, " SELECT -SUM(amount_minor) FROM ledger WHERE kind = 'consumable'")
_LEFT = over(ONE, " SELECT SUM(amount_minor) FROM ledger WHERE kind <> 'scrap'")


def lines_of(connection: sqlite3.Connection, unit_id: int) -> tuple[LedgerLine, ...]:
    """Every line of one unit, in the order in which they were booked."""
    return _LINES.all(connection, id=unit_id)


def totals_of(connection: sqlite3.Connection, unit_ids: Iterable[int]) -> tuple[LedgerTotal, ...]:
    """The sums of these units, each kind apart."""
    return _OF_THESE.all(connection, ids=json.dumps(sorted(unit_ids)))


def totals_of_sold(connection: sqlite3.Connection, first: date, last: date) -> tuple[LedgerTotal, ...]:
    """The sums of the units sold from one day to another whose sale stands, each kind apart."""
    return _OF_SOLD.all(connection, first=first.isoformat(), last=last.isoformat())


def cost_left_minor(connection: sqlite3.Connection, unit_id: int) -> int:
    """The cost still on a unit without consumables: what was paid for it and parts in less parts out."""
    return int(value(connection, _COST_LEFT, id=unit_id) or 0)


def consumed_minor(connection: sqlite3.Connection, unit_id: int) -> int:
    """What the consumables taken for a unit have cost, less what was taken back."""
    return int(value(connection, _CONSUMED, id=unit_id) or 0)


def lost_minor(connection: sqlite3.Connection, unit_id: int) -> int:
    """What is lost with a unit: its cost, less what sales that were undone left of it or took."""
    return -int(value(connection, _LEFT, id=unit_id) or 0)


def total(sums: Iterable[LedgerTotal], *kinds: str) -> int:
    """What these kinds add up to, or all of them where none is named, in minor units."""
    return sum(one.amount_minor for one in sums if not kinds or one.kind in kinds)
