"""SQL texts behind buying: offers, where a unit comes from, a route's past jobs, newest prices."""

from __future__ import annotations

import sqlite3

from bench.domain.price_at_risk import Fetched
from bench.domain.price_sheet import PastJob
from bench.views.standing import IS_SOLD
from bench.views.stock import NOT_REVERSED

# Of a route done often, its newest jobs tell most of what the next one takes.
MOST_JOBS = 200

_OFFER = """
SELECT offer.id AS offer_id, offer.at_us, offer.maker, offer.model, offer.serial, offer.note,
       offer.route_id, COALESCE(route.name, '') AS route, offer.channel_id,
       COALESCE(channel.name, '') AS channel, offer.party_id, COALESCE(party.name, '') AS seller,
       offer.asking_minor, offer.expected_minor, offer.parts_minor, offer.findings, offer.state,
       offer.unit_id, COALESCE(unit.tag, '') AS tag, shop.currency, shop.zone,
       offer.premium_per_10000, offer.freight_minor, offer.shipping_minor
FROM offer CROSS JOIN shop LEFT JOIN route ON route.id = offer.route_id
LEFT JOIN channel ON channel.id = offer.channel_id LEFT JOIN party ON party.id = offer.party_id
LEFT JOIN unit ON unit.id = offer.unit_id
WHERE offer.removed = 0 AND {which} ORDER BY offer.at_us DESC, offer.id DESC
"""
_OFFERS = _OFFER.replace("{which}", "TRUE")
_OFFERS_IN = _OFFER.replace("{which}", "offer.state = :state")
_ONE_OFFER = _OFFER.replace("{which}", "offer.id = :id")

_PURCHASE = """
SELECT unit.id AS unit_id, unit.tag, unit.price_minor, purchase.bought_on,
       COALESCE(purchase.invoice, '') AS invoice, purchase.party_id, COALESCE(party.name, '') AS seller,
       purchase.lot_id, COALESCE(lot.name, '') AS lot, COALESCE(purchase.donor, 0) AS donor,
       COALESCE(purchase.premium_minor, 0) AS premium_minor,
       COALESCE(purchase.freight_minor, 0) AS freight_minor, purchase.shipping_minor,
       purchase.expected_minor, offer.id AS offer_id, offer.findings, trade.hold_days, shop.currency,
       shop.zone
FROM unit CROSS JOIN shop CROSS JOIN trade
LEFT JOIN purchase ON purchase.unit_id = unit.id LEFT JOIN party ON party.id = purchase.party_id
LEFT JOIN lot ON lot.id = purchase.lot_id
LEFT JOIN offer ON offer.unit_id = unit.id AND offer.removed = 0
WHERE unit.id = ? AND unit.removed = 0
"""

# Down the units by number, newest first, as far as there are jobs wanted.
_JOBS = """
SELECT unit.id, unit.tag, TRIM(unit.maker || ' ' || unit.model),
       SUM(COALESCE((SELECT SUM(entry.stopped_us - entry.started_us) FROM time_entry AS entry
           WHERE entry.task_id = task.id AND entry.attended = 1 AND entry.stopped_us IS NOT NULL), 0)) AS us,
       MAX(task.ended_us)
FROM unit JOIN task ON task.unit_id = unit.id AND task.removed = 0
WHERE unit.route_id = ? AND unit.removed = 0
GROUP BY unit.id HAVING us > 0 AND SUM(task.state = 'todo') = 0
ORDER BY unit.id DESC LIMIT ?
"""

_NEWEST_PRICES = """
SELECT consumable_id, quantity, cost_minor FROM movement WHERE id IN (
    SELECT (SELECT id FROM movement INDEXED BY ix_movement_booked
            WHERE consumable_id = consumable.id AND kind = 'receipt' AND cost_minor > 0
            AND {not_reversed} ORDER BY id DESC LIMIT 1) FROM consumable
)
""".replace("{not_reversed}", NOT_REVERSED)


# What became of the units that were sold last: every sale of theirs, what was given back taken off.
_FETCHED = """
SELECT unit.id, (
    SELECT SUM(sale.price_minor - COALESCE((SELECT SUM(refund_minor) FROM comeback
        WHERE comeback.sale_id = sale.id AND comeback.removed = 0), 0))
    FROM sale WHERE sale.unit_id = unit.id AND sale.removed = 0
), purchase.expected_minor
FROM unit JOIN purchase ON purchase.unit_id = unit.id
WHERE unit.removed = 0 AND purchase.expected_minor > 0 AND {is_sold}
ORDER BY (SELECT MAX(sold_us) FROM sale WHERE sale.unit_id = unit.id AND sale.removed = 0) DESC LIMIT ?
""".replace("{is_sold}", IS_SOLD)


def offers(connection: sqlite3.Connection, state: str | None) -> list[sqlite3.Row]:
    """The offers in one state, or all, the newest first."""
    return connection.execute(_OFFERS_IN if state else _OFFERS, {"state": state}).fetchall()


def offer(connection: sqlite3.Connection, offer_id: int) -> sqlite3.Row | None:
    """One offer; None when there is none of that number."""
    row: sqlite3.Row | None = connection.execute(_ONE_OFFER, {"id": offer_id}).fetchone()
    return row


def purchase(connection: sqlite3.Connection, unit_id: int) -> sqlite3.Row | None:
    """Where a unit comes from; None when there is no such unit."""
    row: sqlite3.Row | None = connection.execute(_PURCHASE, (unit_id,)).fetchone()
    return row


def past_jobs(connection: sqlite3.Connection, route_id: int) -> tuple[PastJob, ...]:
    """Units of the route whose tasks have all ended, with their attended time; none without time."""
    return tuple(PastJob(*row) for row in connection.execute(_JOBS, (route_id, MOST_JOBS)))


def fetched(connection: sqlite3.Connection) -> tuple[Fetched, ...]:
    """What the units sold last brought over all their sales, of those with an expected price."""
    return tuple(Fetched(*row) for row in connection.execute(_FETCHED, (MOST_JOBS,)))


def newest_prices(connection: sqlite3.Connection) -> dict[int, tuple[int, int]]:
    """Quantity and cost of the newest priced receipt that stands, by consumable."""
    return {row[0]: (row[1], row[2]) for row in connection.execute(_NEWEST_PRICES)}
