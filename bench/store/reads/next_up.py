"""SQL texts behind the ranking: each unit's cost, what it brought, the time it still takes.

Each is one statement over the whole queue, whatever the number of units.
"""

from __future__ import annotations

import sqlite3

from bench.store.reads.standing import IS_SOLD, OF_RETURNS

_QUEUE = """
queue(id) AS (
    SELECT unit.id FROM unit
    WHERE unit.removed = 0 AND unit.stage_id IN (SELECT id FROM stage WHERE final = 0)
)
"""

_UNITS = """
SELECT unit.id AS unit_id, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS model, unit.stage_id,
       stage.name AS stage, unit.stage_since_us, unit.added_us, unit.held_reason, unit.cell_finding,
       unit.due_on, COALESCE(unit.price_minor, 0) AS price_minor, purchase.expected_minor,
       COALESCE(purchase.donor, 0) AS donor, purchase.bought_on, {is_sold} AS is_sold, unit.owner_id
FROM unit JOIN stage ON stage.id = unit.stage_id LEFT JOIN purchase ON purchase.unit_id = unit.id
WHERE unit.removed = 0 AND stage.final = 0 ORDER BY unit.id
""".replace("{is_sold}", IS_SOLD)

_PARTS = """
WITH {queue}
SELECT queue.id,
       COALESCE((SELECT SUM(cost_minor) FROM part WHERE to_unit_id = queue.id AND removed = 0), 0)
       - COALESCE((SELECT SUM(cost_minor) FROM part WHERE from_unit_id = queue.id AND removed = 0), 0)
FROM queue
""".replace("{queue}", _QUEUE)

_MATERIALS = """
WITH {queue}
SELECT queue.id, -SUM(movement.cost_minor)
FROM queue JOIN task ON task.unit_id = queue.id JOIN movement ON movement.task_id = task.id
GROUP BY queue.id
""".replace("{queue}", _QUEUE)

_SALES = """
WITH {queue}
SELECT sale.unit_id, sale.channel_id, sale.price_minor, sale.fee_minor, sale.shipping_minor, sale.tax_minor,
{of_returns}
FROM queue JOIN sale ON sale.unit_id = queue.id WHERE sale.removed = 0 ORDER BY sale.sold_us, sale.id
""".replace("{queue}", _QUEUE).replace("{of_returns}", OF_RETURNS)

_OFFERED_THROUGH = """
WITH {queue}
SELECT offer.unit_id, offer.channel_id FROM offer JOIN queue ON queue.id = offer.unit_id
WHERE offer.removed = 0 AND offer.channel_id IS NOT NULL ORDER BY offer.id
""".replace("{queue}", _QUEUE)

# Per task, so that one task over its estimate does not eat up the time of the others.
_LEFT = """
WITH {queue}
SELECT task.unit_id, SUM(MAX(0, task.estimate_minutes * 60000000 - COALESCE(
    (SELECT SUM(MAX(0, COALESCE(entry.stopped_us, :now) - entry.started_us)) FROM time_entry AS entry
     WHERE entry.task_id = task.id AND entry.attended = 1), 0)))
FROM queue JOIN task ON task.unit_id = queue.id
WHERE task.removed = 0 AND task.state = 'todo' AND task.unattended = 0
GROUP BY task.unit_id
""".replace("{queue}", _QUEUE)


def units(connection: sqlite3.Connection) -> list[sqlite3.Row]:
    """The units in the queue with where they come from."""
    return connection.execute(_UNITS).fetchall()


def parts(connection: sqlite3.Connection) -> dict[int, int]:
    """Cost of parts that came into each unit less what left it."""
    return {row[0]: row[1] for row in connection.execute(_PARTS)}


def materials(connection: sqlite3.Connection) -> dict[int, int]:
    """Cost of what each unit took off the shelf."""
    return {row[0]: row[1] for row in connection.execute(_MATERIALS)}


def sales(connection: sqlite3.Connection) -> list[sqlite3.Row]:
    """Earlier sales of units that are back in the queue, the earliest first."""
    return connection.execute(_SALES).fetchall()


def offered_through(connection: sqlite3.Connection) -> dict[int, int]:
    """The channel meant for each unit when it was looked at."""
    return {row[0]: row[1] for row in connection.execute(_OFFERED_THROUGH)}


def attended_left(connection: sqlite3.Connection, now_us: int) -> dict[int, int]:
    """Attended microseconds still to spend on each unit's open tasks."""
    return {row[0]: row[1] for row in connection.execute(_LEFT, {"now": now_us})}
