"""SQL texts behind what became of units that were not sold: losses, what was kept, repairs for owners."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable

from bench.views.lots import COST_LEFT
from bench.views.standing import IN_QUEUE, OF_RETURNS
from bench.views.units_sold import MATERIALS

_OUT = """
SELECT way_out.id AS way_out_id, way_out.unit_id, way_out.way, way_out.at_us, way_out.note,
       COALESCE(person.name, '') AS person, way_out.price_minor, way_out.proceeds_minor, way_out.ended_us
FROM way_out LEFT JOIN person ON person.id = way_out.person_id
WHERE way_out.unit_id = ? AND way_out.removed = 0 ORDER BY way_out.at_us, way_out.id
"""

_COST = "{cost_left} + {materials}".replace("{cost_left}", COST_LEFT).replace("{materials}", MATERIALS)

_UNSOLD = """
SELECT way_out.unit_id, unit.tag, way_out.way, way_out.proceeds_minor,
       COALESCE(unit.price_minor, 0) AS purchase_minor, {cost} AS cost_minor,
       unit.price_minor IS NOT NULL AS price_known
FROM way_out JOIN unit ON unit.id = way_out.unit_id AND unit.removed = 0
WHERE way_out.removed = 0 AND way_out.ended_us IS NULL AND way_out.at_us >= :lo AND way_out.at_us < :hi
AND way_out.way IN ('kept', 'scrapped', 'parts') ORDER BY way_out.at_us, way_out.id
""".replace("{cost}", _COST)

_SALES = """
SELECT sale.unit_id, sale.price_minor, sale.fee_minor, sale.shipping_minor, sale.tax_minor,
{of_returns}
FROM json_each(?) AS wanted JOIN sale ON sale.unit_id = wanted.value AND sale.removed = 0
""".replace("{of_returns}", OF_RETURNS)

# What a repair took: parts and consumables since the machine last came in, until it came in anew.
_SPENT = """
COALESCE((SELECT SUM(CASE WHEN part.to_unit_id = unit.id THEN part.cost_minor ELSE -part.cost_minor END)
          FROM part WHERE (part.to_unit_id = unit.id OR part.from_unit_id = unit.id) AND part.removed = 0
          AND part.at_us > {since} AND part.at_us <= {until}), 0)
+ COALESCE((SELECT -SUM(movement.cost_minor) FROM task JOIN movement ON movement.task_id = task.id
            WHERE task.unit_id = unit.id AND movement.at_us > {since} AND movement.at_us <= {until}), 0)
"""
_EVER_US = "9223372036854775807"

_REPAIRS = """
WITH visit AS (
    SELECT way_out.*, COALESCE(LAG(way_out.ended_us) OVER (
        PARTITION BY way_out.unit_id ORDER BY way_out.at_us, way_out.id), -1) AS since_us
    FROM way_out WHERE way_out.removed = 0 AND way_out.way = 'handed back' AND way_out.unit_id IN (
        SELECT one.unit_id FROM way_out AS one WHERE one.at_us >= :lo AND one.at_us < :hi)
)
SELECT visit.unit_id, unit.tag, visit.price_minor, {spent} AS cost_minor
FROM visit JOIN unit ON unit.id = visit.unit_id AND unit.removed = 0 AND unit.owner_id IS NOT NULL
WHERE visit.at_us >= :lo AND visit.at_us < :hi ORDER BY visit.at_us, visit.id
""".replace(
    "{spent}",
    _SPENT.replace("{since}", "visit.since_us").replace("{until}", f"COALESCE(visit.ended_us, {_EVER_US})"),
)

_UNDER_WAY = """
WITH here AS (
    SELECT unit.*, COALESCE((SELECT MAX(way_out.ended_us) FROM way_out WHERE way_out.unit_id = unit.id
                             AND way_out.removed = 0), -1) AS since_us
    FROM {in_queue} WHERE unit.owner_id IS NOT NULL
)
SELECT COUNT(*) AS units, COALESCE(SUM({spent}), 0) AS cost_minor FROM here AS unit
""".replace("{spent}", _SPENT.replace("{since}", "unit.since_us").replace("{until}", _EVER_US)).replace(
    "{in_queue}", IN_QUEUE
)

_COST_OF = "SELECT {cost} AS cost_minor, COALESCE(price_minor, 0) FROM unit WHERE id = ?".replace(
    "{cost}", _COST
)


def of_unit(connection: sqlite3.Connection, unit_id: int) -> list[sqlite3.Row]:
    """Every leaving of a unit, the earliest first."""
    return connection.execute(_OUT, (unit_id,)).fetchall()


def unsold(connection: sqlite3.Connection, span: tuple[int, int]) -> list[sqlite3.Row]:
    """Units kept, scrapped or broken for parts within a span and still so, with the cost on them."""
    return connection.execute(_UNSOLD, {"lo": span[0], "hi": span[1]}).fetchall()


def sales_of(connection: sqlite3.Connection, unit_ids: Iterable[int]) -> list[sqlite3.Row]:
    """Every sale of these units, with what returns changed of it; also inside a transaction that writes."""
    cursor = connection.cursor()
    cursor.row_factory = sqlite3.Row
    return cursor.execute(_SALES, (json.dumps(sorted(unit_ids)),)).fetchall()


def repairs(connection: sqlite3.Connection, span: tuple[int, int]) -> list[sqlite3.Row]:
    """Owners' machines handed back within a span: the repair's price and what it took."""
    return connection.execute(_REPAIRS, {"lo": span[0], "hi": span[1]}).fetchall()


def under_way(connection: sqlite3.Connection) -> sqlite3.Row:
    """Owners' machines in the queue, and what their repairs have taken so far."""
    row: sqlite3.Row = connection.execute(_UNDER_WAY).fetchone()
    return row


def cost_of(connection: sqlite3.Connection, unit_id: int) -> tuple[int, int]:
    """The cost on a unit, consumables included, and the price in it."""
    row = connection.execute(_COST_OF, (unit_id,)).fetchone()
    return int(row[0]), int(row[1])
