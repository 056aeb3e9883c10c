"""The stock: every consumable's level, and the movements behind one. Light: the first paint reads it."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from bench.desk import Desk
from bench.domain.amounts import Instant, Minor, Thousandths
from bench.domain.layers import Layer
from bench.domain.stock_levels import LOOK_BACK_DAYS, LastReceipt, Level, StockLine, stock_line
from bench.domain.weeks import day_bounds_us, local_day
from bench.errors import NotFound
from bench.views.binder import Groups, Query
from bench.views.orders import NOTHING_ORDERED, on_order
from bench.views.shop import facts

MOST_MOVEMENTS = 500


@dataclass(frozen=True, slots=True)
class MovementLine:
    """One movement, newest first on screen. `kind`: receipt, issue, count or reversal."""

    movement_id: int
    at_us: Instant
    kind: str
    quantity: Thousandths
    base_unit: str
    balance: Thousandths
    cost_minor: Minor
    person: str
    unit_id: int | None
    tag: str
    task: str
    supplier: str
    expires_on: date | None
    reason: str


@dataclass(frozen=True, slots=True)
class ConsumableHistory:
    """One consumable opened: its level and the movements that make it up."""

    line: StockLine
    currency: str
    zone: str
    movements: tuple[MovementLine, ...]


@dataclass(frozen=True, slots=True)
class StockBook:
    """Every consumable, low ones first, then by name."""

    lines: tuple[StockLine, ...]
    currency: str


@dataclass(frozen=True, slots=True)
class StockToOrder:
    """The same with what came in last of each, by its number."""

    book: StockBook
    last: Mapping[int, LastReceipt]


@dataclass(frozen=True, slots=True)
class _Use:
    """Thousandths issued of a consumable on one of the days asked for, by its number."""

    day: int
    quantity: Thousandths


@dataclass(frozen=True, slots=True)
class _Left:
    """What remains of a receipt. One without a date of its own expires by the consumable's shelf life."""

    layer_id: int
    quantity: Thousandths
    cost_minor: Minor
    at_us: Instant
    expires_on: date | None
    shelf_life_days: int | None

    def layer(self, zone: str) -> Layer:
        """The receipt with the day on which it expires."""
        expires = self.expires_on
        if expires is None and self.shelf_life_days is not None:
            expires = local_day(self.at_us, zone) + timedelta(days=self.shelf_life_days)
        return Layer(self.layer_id, self.quantity, self.cost_minor, self.at_us, expires)


NOT_REVERSED = "NOT EXISTS (SELECT 1 FROM movement AS back WHERE back.reverses_id = movement.id)"

ON_HAND = """COALESCE((SELECT SUM(quantity) FROM layer_balance
    WHERE layer_balance.consumable_id = consumable.id AND layer_balance.quantity > 0), 0)"""

# What was on hand at the newest incoming: what is on hand now, less all that was booked since.
_LEVELS = Query(
    Level,
    """
WITH level AS MATERIALIZED (
    SELECT consumable.*, {on_hand} AS on_hand, (
        SELECT id FROM movement INDEXED BY ix_movement_booked
        WHERE consumable_id = consumable.id AND layer_id IS NULL AND {not_reversed}
        ORDER BY id DESC LIMIT 1
    ) AS incoming_id
    FROM consumable WHERE consumable.removed = 0 AND (:id IS NULL OR consumable.id = :id)
)
SELECT level.id AS consumable_id, level.name, level.base_unit, level.pack_quantity AS pack, level.lead_days,
       level.shelf_life_days, level.reorder_quantity, level.hazard, level.code, level.on_hand,
       COALESCE((SELECT SUM(cost_minor) FROM layer_balance
                 WHERE consumable_id = level.id AND quantity > 0), 0) AS value_minor,
       CASE WHEN level.incoming_id IS NULL THEN 0 ELSE level.on_hand - COALESCE((
           SELECT SUM(quantity) FROM movement INDEXED BY ix_movement_booked
           WHERE consumable_id = level.id AND id > level.incoming_id), 0) END AS after_incoming,
       (SELECT at_us FROM movement INDEXED BY ix_movement_consumable_id
        WHERE consumable_id = level.id AND kind <> 'reversal' AND {not_reversed} ORDER BY at_us
        LIMIT 1) AS first_us
FROM level ORDER BY level.id
""".replace("{on_hand}", ON_HAND).replace("{not_reversed}", NOT_REVERSED),
)

# Day by day down the index on (consumable, instant): older movements are not touched.
_DAILY_USE = Groups(
    _Use,
    """
WITH day(number, lo, hi) AS MATERIALIZED (
    SELECT key, json_extract(value, '$[0]'), json_extract(value, '$[1]') FROM json_each(:days)
)
SELECT movement.consumable_id, day.number AS day, -SUM(movement.quantity) AS quantity
FROM consumable CROSS JOIN day CROSS JOIN movement
ON movement.consumable_id = consumable.id AND movement.at_us >= day.lo AND movement.at_us < day.hi
WHERE movement.kind = 'issue' AND consumable.removed = 0
AND (:id IS NULL OR consumable.id = :id) AND {not_reversed}
GROUP BY movement.consumable_id, day.number
""".replace("{not_reversed}", NOT_REVERSED),
)

_LAYERS = Groups(
    _Left,
    """
SELECT consumable.id AS consumable_id, balance.layer_id, balance.quantity, balance.cost_minor, movement.at_us,
       movement.expires_on, consumable.shelf_life_days
FROM consumable CROSS JOIN layer_balance AS balance ON balance.consumable_id = consumable.id
CROSS JOIN movement ON movement.id = balance.layer_id
WHERE consumable.removed = 0 AND balance.quantity > 0 AND (:id IS NULL OR consumable.id = :id)
ORDER BY balance.layer_id
""",
)

_LAST_RECEIPTS = Groups(
    LastReceipt,
    """
SELECT consumable.id AS consumable_id, receipt.quantity, receipt.cost_minor, receipt.supplier
FROM consumable CROSS JOIN movement AS receipt ON receipt.id = (
    SELECT id FROM movement INDEXED BY ix_movement_booked
    WHERE consumable_id = consumable.id AND layer_id IS NULL AND kind = 'receipt' AND {not_reversed}
    ORDER BY id DESC LIMIT 1)
WHERE consumable.removed = 0
""".replace("{not_reversed}", NOT_REVERSED),
)

# By number, the order in which they were booked: a receipt may carry an earlier date.
_MOVEMENTS = Query(
    MovementLine,
    """
WITH newest AS (SELECT * FROM movement WHERE consumable_id = :id ORDER BY id DESC LIMIT :most),
level AS (SELECT consumable.base_unit, COALESCE(SUM(layer_balance.quantity), 0) AS on_hand
          FROM consumable LEFT JOIN layer_balance ON layer_balance.consumable_id = consumable.id
          WHERE consumable.id = :id)
SELECT newest.id AS movement_id, newest.at_us, newest.kind, newest.quantity, level.base_unit,
       level.on_hand + newest.quantity - SUM(newest.quantity) OVER (ORDER BY newest.id DESC) AS balance,
       newest.cost_minor, person.name AS person, unit.id AS unit_id, COALESCE(unit.tag, '') AS tag,
       COALESCE(task.name, '') AS task, newest.supplier, newest.expires_on, newest.reason
FROM newest CROSS JOIN level
JOIN person ON person.id = newest.person_id
LEFT JOIN task ON task.id = newest.task_id
LEFT JOIN unit ON unit.id = task.unit_id
ORDER BY newest.id DESC
""",
)


def read_stock(desk: Desk) -> StockBook:
    """Every consumable: level, cover, expiry; low ones first, then by name."""
    with desk.store.read() as connection:
        return _book(connection, desk.clock.now_us())


def read_stock_to_order(desk: Desk) -> StockToOrder:
    """The same, with what came in last of each, from whom and for how much."""
    with desk.store.read() as connection:
        last = {number: one for number, (one,) in _LAST_RECEIPTS.by_key(connection).items()}
        return StockToOrder(_book(connection, desk.clock.now_us()), last)


def _book(connection: sqlite3.Connection, now_us: int) -> StockBook:
    lines = stock_lines(connection, now_us)
    lines.sort(key=lambda line: (not line.low, line.name.casefold(), line.consumable_id))
    return StockBook(tuple(lines), facts(connection).currency)


def read_history(desk: Desk, consumable_id: int) -> ConsumableHistory:
    """One consumable's level and its newest movements; NotFound when there is none of that number."""
    with desk.store.read() as connection:
        shop = facts(connection)
        lines = stock_lines(connection, desk.clock.now_us(), consumable_id)
        movements = _MOVEMENTS.all(connection, id=consumable_id, most=MOST_MOVEMENTS)
    if not lines:
        raise NotFound(
            f"There is no consumable with number {consumable_id}.",
            "Look it up again; it may have been removed.",
        )
    return ConsumableHistory(lines[0], shop.currency, shop.zone, movements)


def stock_lines(
    connection: sqlite3.Connection, now_us: int, consumable_id: int | None = None
) -> list[StockLine]:
    """The lines of every consumable, or of one, in five statements however many there are."""
    zone = facts(connection).zone
    today = local_day(now_us, zone)
    days = [day_bounds_us(today - timedelta(days=back), zone) for back in range(LOOK_BACK_DAYS)]
    used = _DAILY_USE.by_key(connection, id=consumable_id, days=json.dumps(days))
    left, ordered = layers(connection, zone, consumable_id), on_order(connection)
    lines = []
    for level in _LEVELS.each(connection, id=consumable_id):
        by_day = {use.day: use.quantity for use in used[level.consumable_id]}
        daily = [by_day.get(back, 0) for back in range(_days_known(level, now_us, zone))]
        coming = ordered.get(level.consumable_id, NOTHING_ORDERED)
        lines.append(
            stock_line(
                level,
                daily,
                left.get(level.consumable_id, ()),
                today,
                on_order=coming.quantity,
                order_due=coming.due_on,
            )
        )
    return lines


def layers(
    connection: sqlite3.Connection, zone: str, consumable_id: int | None = None
) -> dict[int, tuple[Layer, ...]]:
    """What remains of each receipt, by consumable, in the order in which they were booked."""
    left = _LAYERS.by_key(connection, id=consumable_id)
    return {number: tuple(one.layer(zone) for one in rest) for number, rest in left.items()}


def _days_known(level: Level, now_us: int, zone: str) -> int:
    """Over how many days, today included, its use is known: eight weeks, or since its first movement."""
    if level.first_us is None:
        return 0
    age = (local_day(now_us, zone) - local_day(level.first_us, zone)).days + 1
    return max(1, min(LOOK_BACK_DAYS, age))
