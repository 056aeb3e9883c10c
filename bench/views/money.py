"""SQL texts behind one unit's money: what it cost, what it brought, the time spent on it."""

from __future__ import annotations

import sqlite3

from bench.views.standing import OF_RETURNS, UNDONE

_UNIT = """
SELECT unit.id AS unit_id, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS model, unit.price_minor,
       unit.owner_id, COALESCE(owner.name, '') AS owner,
       stage.final, purchase.id AS purchase_id, purchase.bought_on, purchase.expected_minor,
       COALESCE(purchase.premium_minor, 0) AS premium_minor,
       COALESCE(purchase.freight_minor, 0) AS freight_minor,
       COALESCE(purchase.invoice, '') AS invoice, COALESCE(party.name, '') AS seller,
       COALESCE(lot.name, '') AS lot, unit.added_us, shop.currency, shop.zone, shop.rate_minor_per_hour
FROM unit JOIN stage ON stage.id = unit.stage_id CROSS JOIN shop
LEFT JOIN purchase ON purchase.unit_id = unit.id LEFT JOIN lot ON lot.id = purchase.lot_id
LEFT JOIN party ON party.id = purchase.party_id
LEFT JOIN party AS owner ON owner.id = unit.owner_id
WHERE unit.id = ? AND unit.removed = 0
"""

_MATERIALS = """
SELECT consumable.id AS consumable_id, consumable.name, SUM(movement.quantity) AS quantity,
       SUM(movement.cost_minor) AS cost_minor, COUNT(*) AS rows
FROM task JOIN movement ON movement.task_id = task.id
JOIN consumable ON consumable.id = movement.consumable_id
WHERE task.unit_id = ? GROUP BY consumable.id ORDER BY MIN(movement.id)
"""

_SALES = """
SELECT sale.id AS sale_id, sale.sold_on, sale.sold_us, sale.channel_id,
       COALESCE(channel.name, '') AS channel, sale.price_minor, sale.fee_minor, sale.shipping_minor,
       sale.tax_minor, sale.invoice, person.name AS person,
{of_returns},
       {undone} AS undone
FROM sale JOIN person ON person.id = sale.person_id LEFT JOIN channel ON channel.id = sale.channel_id
WHERE sale.unit_id = ? AND sale.removed = 0 ORDER BY sale.sold_us, sale.id
""".replace("{of_returns}", OF_RETURNS).replace("{undone}", UNDONE)

_RETURNS = """
SELECT comeback.id AS comeback_id, comeback.sale_id, comeback.at_us, comeback.reason, comeback.refund_minor,
       comeback.fee_back_minor, comeback.postage_minor, comeback.undoes, person.name AS person
FROM sale JOIN comeback ON comeback.sale_id = sale.id JOIN person ON person.id = comeback.person_id
WHERE sale.unit_id = ? AND sale.removed = 0 AND comeback.removed = 0 ORDER BY comeback.at_us, comeback.id
"""

# What reaches over the return counts from the return on.
_ATTENDED = """
SELECT COALESCE(SUM(entry.stopped_us - entry.started_us), 0),
       COALESCE(SUM(MAX(0, entry.stopped_us - MAX(entry.started_us, :since))), 0), COUNT(*)
FROM task JOIN time_entry AS entry ON entry.task_id = task.id
WHERE task.unit_id = :id AND entry.attended = 1 AND entry.stopped_us IS NOT NULL
"""

_OFFERED_THROUGH = """
SELECT channel_id FROM offer WHERE unit_id = ? AND removed = 0 AND channel_id IS NOT NULL ORDER BY id DESC
"""


def unit(connection: sqlite3.Connection, unit_id: int) -> sqlite3.Row | None:
    """The unit, its purchase and the shop's rate; None when there is no such unit."""
    row: sqlite3.Row | None = connection.execute(_UNIT, (unit_id,)).fetchone()
    return row


def materials(connection: sqlite3.Connection, unit_id: int) -> list[sqlite3.Row]:
    """What the unit took of each consumable, less what was taken back; below 0 as booked."""
    return connection.execute(_MATERIALS, (unit_id,)).fetchall()


def sales(connection: sqlite3.Connection, unit_id: int) -> list[sqlite3.Row]:
    """The unit's sales, the earliest first, each with what was refunded of it."""
    return connection.execute(_SALES, (unit_id,)).fetchall()


def returns(connection: sqlite3.Connection, unit_id: int) -> list[sqlite3.Row]:
    """The unit's returns, the earliest first."""
    return connection.execute(_RETURNS, (unit_id,)).fetchall()


def attended(connection: sqlite3.Connection, unit_id: int, since_us: int) -> tuple[int, int, int]:
    """Attended time of closed entries, the part of it since an instant, and how many entries there are."""
    row = connection.execute(_ATTENDED, {"id": unit_id, "since": since_us}).fetchone()
    return int(row[0]), int(row[1]), int(row[2])


def offered_through(connection: sqlite3.Connection, unit_id: int) -> int | None:
    """The channel that was meant when the unit was looked at before paying."""
    row = connection.execute(_OFFERED_THROUGH, (unit_id,)).fetchone()
    return int(row[0]) if row else None
