"""SQL texts behind the stock: levels, use by day, what is left of each receipt, movements.

Rows are taken apart by position, so that these run on a plain connection and inside a writing one alike.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any

from bench.domain.layers import Layer
from bench.domain.stock_book import MovementLine
from bench.domain.stock_levels import Level
from bench.domain.weeks import local_day

NOT_REVERSED = "NOT EXISTS (SELECT 1 FROM movement AS back WHERE back.reverses_id = movement.id)"

ON_HAND = """COALESCE((SELECT SUM(quantity) FROM layer_balance
    WHERE layer_balance.consumable_id = consumable.id AND layer_balance.quantity > 0), 0)"""

# What was on hand at the newest incoming: what is on hand now, less all that was booked since.
_LEVELS = """
WITH level AS MATERIALIZED (
    SELECT consumable.*, {on_hand} AS on_hand, (
        SELECT id FROM movement INDEXED BY ix_movement_booked
        WHERE consumable_id = consumable.id AND layer_id IS NULL AND {not_reversed}
        ORDER BY id DESC LIMIT 1
    ) AS incoming_id
    FROM consumable WHERE consumable.removed = 0 AND {which}
)
SELECT level.id, level.name, level.base_unit, level.pack_quantity, level.lead_days,
       level.shelf_life_days, level.reorder_quantity, level.hazard, level.code, level.on_hand,
       COALESCE((SELECT SUM(cost_minor) FROM layer_balance
                 WHERE consumable_id = level.id AND quantity > 0), 0),
       CASE WHEN level.incoming_id IS NULL THEN 0 ELSE level.on_hand - COALESCE((
           SELECT SUM(quantity) FROM movement INDEXED BY ix_movement_booked
           WHERE consumable_id = level.id AND id > level.incoming_id), 0) END,
       (SELECT at_us FROM movement INDEXED BY ix_movement_consumable_id
        WHERE consumable_id = level.id AND kind <> 'reversal' AND {not_reversed} ORDER BY at_us LIMIT 1)
FROM level ORDER BY level.id
""".replace("{on_hand}", ON_HAND).replace("{not_reversed}", NOT_REVERSED)

# Day by day down the index on (consumable, instant): older movements are not touched.
_DAILY_USE = """
WITH day(number, lo, hi) AS MATERIALIZED (
    SELECT key, json_extract(value, '$[0]'), json_extract(value, '$[1]') FROM json_each(:days)
)
SELECT movement.consumable_id, day.number, -SUM(movement.quantity)
FROM consumable CROSS JOIN day CROSS JOIN movement
ON movement.consumable_id = consumable.id AND movement.at_us >= day.lo AND movement.at_us < day.hi
WHERE movement.kind = 'issue' AND consumable.removed = 0 AND {which} AND {not_reversed}
GROUP BY movement.consumable_id, day.number
""".replace("{not_reversed}", NOT_REVERSED)

_LAYERS = """
SELECT consumable.id, balance.layer_id, balance.quantity, balance.cost_minor, movement.at_us,
       movement.expires_on, consumable.shelf_life_days
FROM consumable CROSS JOIN layer_balance AS balance ON balance.consumable_id = consumable.id
CROSS JOIN movement ON movement.id = balance.layer_id
WHERE consumable.removed = 0 AND balance.quantity > 0 AND {which}
ORDER BY balance.layer_id
"""

# By number, the order in which they were booked: a receipt may carry an earlier date.
_MOVEMENTS = """
WITH newest AS (SELECT * FROM movement WHERE consumable_id = :id ORDER BY id DESC LIMIT :most),
level(on_hand) AS (SELECT COALESCE(SUM(quantity), 0) FROM layer_balance WHERE consumable_id = :id)
SELECT newest.id, newest.at_us, newest.kind, newest.quantity,
       level.on_hand + newest.quantity - SUM(newest.quantity) OVER (ORDER BY newest.id DESC),
       newest.cost_minor, person.name, unit.id, COALESCE(unit.tag, ''), COALESCE(task.name, ''),
       newest.supplier, newest.expires_on, newest.reason
FROM newest CROSS JOIN level
JOIN person ON person.id = newest.person_id
LEFT JOIN task ON task.id = newest.task_id
LEFT JOIN unit ON unit.id = task.unit_id
ORDER BY newest.id DESC
"""


def money_and_zone(connection: sqlite3.Connection) -> tuple[str, str]:
    """The shop's currency and zone."""
    currency, zone = connection.execute("SELECT currency, zone FROM shop").fetchone()
    return currency, zone


def levels(connection: sqlite3.Connection, consumable_id: int | None = None) -> tuple[Level, ...]:
    """What is on hand of every consumable that is kept, or of one."""
    rows = connection.execute(*_asked(_LEVELS, consumable_id))
    return tuple(Level(*row) for row in rows)


def daily_use(
    connection: sqlite3.Connection, days: Sequence[tuple[int, int]], consumable_id: int | None = None
) -> dict[int, dict[int, int]]:
    """Thousandths issued, by consumable and number of the day; `days` are bounds in UTC microseconds."""
    text, asked = _asked(_DAILY_USE, consumable_id)
    used: dict[int, dict[int, int]] = {}
    for consumable, day, quantity in connection.execute(text, {**asked, "days": json.dumps(days)}):
        used.setdefault(consumable, {})[day] = quantity
    return used


def layers(
    connection: sqlite3.Connection, zone: str, consumable_id: int | None = None
) -> dict[int, tuple[Layer, ...]]:
    """What remains of each receipt, by consumable. One without a date of its own expires by shelf life."""
    left: dict[int, tuple[Layer, ...]] = {}
    for consumable, receipt, quantity, cost, at_us, expires, days in connection.execute(
        *_asked(_LAYERS, consumable_id)
    ):
        layer = Layer(receipt, quantity, cost, at_us, _expiry(expires, at_us, days, zone))
        left[consumable] = (*left.get(consumable, ()), layer)
    return left


def movements(connection: sqlite3.Connection, consumable_id: int, most: int) -> tuple[MovementLine, ...]:
    """The newest movements of one consumable, each with the level after it."""
    rows = connection.execute(_MOVEMENTS, {"id": consumable_id, "most": most})
    return tuple(_movement_line(row) for row in rows)


def _movement_line(row: Sequence[Any]) -> MovementLine:
    values = [*row[:-2], _day(row[-2]), row[-1]]
    return MovementLine(*values)


def _asked(text: str, consumable_id: int | None) -> tuple[str, dict[str, object]]:
    which = "TRUE" if consumable_id is None else "consumable.id = :id"
    return text.replace("{which}", which), {} if consumable_id is None else {"id": consumable_id}


def _expiry(expires: str | None, at_us: int, shelf_life_days: int | None, zone: str) -> date | None:
    if expires is None and shelf_life_days is not None:
        return local_day(at_us, zone) + timedelta(days=shelf_life_days)
    return _day(expires)


def _day(text: str | None) -> date | None:
    return date.fromisoformat(text) if text else None
