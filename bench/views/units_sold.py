"""SQL texts behind the units sold within some days.

A unit counts as sold while its newest sale stands: no return undid it, wherever the unit is now.
"""

from __future__ import annotations

import sqlite3

from bench.views.lots import COST_LEFT, FREIGHT
from bench.views.standing import NEWEST, OF_RETURNS, UNDONE

_STANDING = """
standing(unit_id, sold_on) AS (
    SELECT sale.unit_id, sale.sold_on
    FROM sale JOIN unit ON unit.id = sale.unit_id AND unit.removed = 0
    WHERE sale.removed = 0 AND sale.sold_on BETWEEN :first AND :last AND {newest} AND NOT {undone}
)
""".replace("{newest}", NEWEST).replace("{undone}", UNDONE)

MATERIALS = """
COALESCE((SELECT -SUM(movement.cost_minor) FROM task JOIN movement ON movement.task_id = task.id
          WHERE task.unit_id = unit.id), 0)
"""

ATTENDED = """
COALESCE((SELECT SUM(entry.stopped_us - entry.started_us)
          FROM task JOIN time_entry AS entry ON entry.task_id = task.id
          WHERE task.unit_id = unit.id AND entry.attended = 1 AND entry.stopped_us IS NOT NULL), 0)
"""

_SOLD = (
    """
WITH {standing}
SELECT unit.id AS unit_id, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS model, standing.sold_on,
       COALESCE(unit.price_minor, 0) AS purchase_minor, unit.price_minor IS NOT NULL AS price_known,
       {freight} AS freight_minor,
       {cost_left} - {freight} - COALESCE(unit.price_minor, 0) AS parts_minor, {materials} AS materials_minor,
       {attended} AS attended_us
FROM standing JOIN unit ON unit.id = standing.unit_id ORDER BY unit.id
""".replace("{standing}", _STANDING)
    .replace("{cost_left}", COST_LEFT)
    .replace("{freight}", FREIGHT)
    .replace("{materials}", MATERIALS)
    .replace("{attended}", ATTENDED)
)

_SALES = """
WITH {standing}
SELECT sale.unit_id, sale.price_minor, sale.fee_minor, sale.shipping_minor, sale.tax_minor,
{of_returns}
FROM standing JOIN sale ON sale.unit_id = standing.unit_id AND sale.removed = 0
ORDER BY sale.unit_id, sale.sold_us, sale.id
""".replace("{standing}", _STANDING).replace("{of_returns}", OF_RETURNS)


def sold(connection: sqlite3.Connection, first: str, last: str) -> list[sqlite3.Row]:
    """Each unit sold from one day to another that is still sold, with its cost and attended time."""
    return connection.execute(_SOLD, {"first": first, "last": last}).fetchall()


def sales(connection: sqlite3.Connection, first: str, last: str) -> list[sqlite3.Row]:
    """Every sale of those units, earlier ones they came back from too, with what was refunded."""
    return connection.execute(_SALES, {"first": first, "last": last}).fetchall()
