"""What the past tells of the next purchase: times of a route, newest prices, what units fetched."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

from bench.domain.amounts import Minor, Thousandths
from bench.domain.price_sheet import Fetched, PastJob
from bench.store.standing import IS_SOLD
from bench.views.binder import Query
from bench.views.stock import NOT_REVERSED

# Of a route done often, its newest jobs tell most of what the next one takes.
MOST_JOBS = 200


@dataclass(frozen=True, slots=True)
class _Price:
    """What a quantity of a consumable cost."""

    consumable_id: int
    quantity: Thousandths
    cost_minor: Minor


# Down the units by number, newest first, as far as there are jobs wanted.
_JOBS = Query(
    PastJob,
    """
SELECT unit.id AS unit_id, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS model,
       SUM(COALESCE((SELECT SUM(entry.stopped_us - entry.started_us) FROM time_entry AS entry
           WHERE entry.task_id = task.id AND entry.attended = 1 AND entry.stopped_us IS NOT NULL), 0))
       AS hands_on_us,
       MAX(task.ended_us) AS finished_us
FROM unit JOIN task ON task.unit_id = unit.id AND task.removed = 0
WHERE unit.route_id = :route_id AND unit.removed = 0
GROUP BY unit.id HAVING hands_on_us > 0 AND SUM(task.state = 'todo') = 0
ORDER BY unit.id DESC LIMIT :most
""",
)

# Quantity and cost of the newest priced receipt that stands.
_NEWEST_PRICES = Query(
    _Price,
    """
SELECT consumable_id, quantity, cost_minor FROM movement WHERE id IN (
    SELECT (SELECT id FROM movement INDEXED BY ix_movement_booked
            WHERE consumable_id = consumable.id AND kind = 'receipt' AND cost_minor > 0
            AND {not_reversed} ORDER BY id DESC LIMIT 1) FROM consumable
)
""".replace("{not_reversed}", NOT_REVERSED),
)

# What became of the units that were sold last: every sale of theirs, what was given back taken off.
_FETCHED = Query(
    Fetched,
    """
SELECT unit.id AS unit_id, (
    SELECT SUM(sale.price_minor - COALESCE((SELECT SUM(refund_minor) FROM comeback
        WHERE comeback.sale_id = sale.id AND comeback.removed = 0), 0))
    FROM sale WHERE sale.unit_id = unit.id AND sale.removed = 0
) AS net_minor, purchase.expected_minor
FROM unit JOIN purchase ON purchase.unit_id = unit.id
WHERE unit.removed = 0 AND purchase.expected_minor > 0 AND {is_sold}
ORDER BY (SELECT MAX(sold_us) FROM sale WHERE sale.unit_id = unit.id AND sale.removed = 0) DESC LIMIT :most
""".replace("{is_sold}", IS_SOLD),
)


def past_jobs(connection: sqlite3.Connection, route_id: int) -> tuple[PastJob, ...]:
    """Units of the route whose tasks have all ended, with their hands-on time; none without time."""
    return _JOBS.all(connection, route_id=route_id, most=MOST_JOBS)


def fetched(connection: sqlite3.Connection) -> tuple[Fetched, ...]:
    """What the units sold last brought over all their sales, of those with an expected price."""
    return _FETCHED.all(connection, most=MOST_JOBS)


def newest_prices(connection: sqlite3.Connection) -> dict[int, tuple[int, int]]:
    """Quantity and cost of the newest priced receipt that stands, by consumable."""
    return {one.consumable_id: (one.quantity, one.cost_minor) for one in _NEWEST_PRICES.each(connection)}
