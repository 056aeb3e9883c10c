"""SQL texts behind one unit's sales and returns."""

from __future__ import annotations

import sqlite3

_UNIT = """
SELECT unit.id AS unit_id, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS model, stage.name AS stage,
       stage.final, shop.currency, shop.zone
FROM unit JOIN stage ON stage.id = unit.stage_id CROSS JOIN shop WHERE unit.id = ? AND unit.removed = 0
"""

_SALES = """
SELECT sale.id AS sale_id, sale.sold_on, sale.sold_us, person.name AS person,
       COALESCE(channel.name, '') AS channel, sale.party_id, COALESCE(party.name, '') AS buyer,
       sale.price_minor, sale.fee_minor,
       CASE WHEN sale.shipping_known THEN sale.shipping_minor END AS shipping_minor, sale.tax_minor,
       sale.invoice, sale.warranty_until, sale.note
FROM sale JOIN person ON person.id = sale.person_id LEFT JOIN channel ON channel.id = sale.channel_id
LEFT JOIN party ON party.id = sale.party_id
WHERE sale.unit_id = ? AND sale.removed = 0 ORDER BY sale.sold_us, sale.id
"""

# Time belongs to the last return before it; what reaches over a return counts from there on.
_COMEBACKS = """
WITH own AS (
    SELECT comeback.id, comeback.sale_id, comeback.at_us, comeback.reason, comeback.refund_minor,
           comeback.fee_back_minor, comeback.postage_minor, comeback.undoes, comeback.person_id,
           LEAD(comeback.at_us, 1, 9223372036854775807) OVER (ORDER BY comeback.at_us, comeback.id) AS next_us
    FROM sale JOIN comeback ON comeback.sale_id = sale.id
    WHERE sale.unit_id = :id AND sale.removed = 0 AND comeback.removed = 0
)
SELECT own.id AS comeback_id, own.sale_id, own.at_us, own.reason, own.refund_minor, own.fee_back_minor,
       own.postage_minor, own.undoes, person.name AS person,
       (SELECT COALESCE(SUM(MAX(0, MIN(entry.stopped_us, own.next_us) - MAX(entry.started_us, own.at_us))), 0)
        FROM task JOIN time_entry AS entry ON entry.task_id = task.id
        WHERE task.unit_id = :id AND entry.attended = 1 AND entry.stopped_us IS NOT NULL) AS attended_us
FROM own JOIN person ON person.id = own.person_id ORDER BY own.at_us, own.id
"""


def unit(connection: sqlite3.Connection, unit_id: int) -> sqlite3.Row | None:
    """The unit, its stage and the shop; None when there is no such unit."""
    row: sqlite3.Row | None = connection.execute(_UNIT, (unit_id,)).fetchone()
    return row


def sales(connection: sqlite3.Connection, unit_id: int) -> list[sqlite3.Row]:
    """The unit's sales, the earliest first."""
    return connection.execute(_SALES, (unit_id,)).fetchall()


def comebacks(connection: sqlite3.Connection, unit_id: int) -> list[sqlite3.Row]:
    """The unit's returns, the earliest first, each with the attended time since."""
    return connection.execute(_COMEBACKS, {"id": unit_id}).fetchall()


def address(connection: sqlite3.Connection, party_id: int | None) -> str:
    """Where someone lives, as typed; empty where nobody is named."""
    row = connection.execute("SELECT address FROM party WHERE id = ?", (party_id,)).fetchone()
    return str(row[0]) if row else ""
