"""SQL texts behind lots and the shares of their units."""

from __future__ import annotations

import sqlite3

from bench.views.standing import IS_SOLD

_LOTS = """
SELECT lot.id AS lot_id, lot.name, lot.bought_on, lot.price_minor, COALESCE(party.name, '') AS seller,
       COUNT(unit.id) AS units,
       COALESCE(SUM(unit.id IS NOT NULL AND {is_sold}), 0) AS sold,
       COALESCE(SUM(unit.id IS NOT NULL AND purchase.donor), 0) AS donors
FROM lot LEFT JOIN party ON party.id = lot.party_id
LEFT JOIN purchase ON purchase.lot_id = lot.id
LEFT JOIN unit ON unit.id = purchase.unit_id AND unit.removed = 0
WHERE lot.removed = 0 GROUP BY lot.id ORDER BY lot.bought_on DESC, lot.id DESC
""".replace("{is_sold}", IS_SOLD)

_LOT = """
SELECT lot.id AS lot_id, lot.name, lot.bought_on, lot.price_minor, COALESCE(party.name, '') AS seller,
       lot.note, shop.currency
FROM lot CROSS JOIN shop LEFT JOIN party ON party.id = lot.party_id WHERE lot.id = ? AND lot.removed = 0
"""

FREIGHT = """
COALESCE((SELECT freight_minor FROM purchase AS way_in WHERE way_in.unit_id = unit.id), 0)
"""

COST_LEFT = """
COALESCE(unit.price_minor, 0) + {freight}
    + COALESCE((SELECT SUM(cost_minor) FROM part WHERE part.to_unit_id = unit.id AND part.removed = 0), 0)
    - COALESCE((SELECT SUM(cost_minor) FROM part WHERE part.from_unit_id = unit.id AND part.removed = 0), 0)
""".replace("{freight}", FREIGHT)

_LOT_UNITS = """
SELECT unit.id AS unit_id, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS model, unit.serial,
       stage.name AS stage, purchase.expected_minor, COALESCE(unit.price_minor, 0) AS share_minor,
       {cost_left} AS left_minor, purchase.donor,
       EXISTS (SELECT 1 FROM sale WHERE sale.unit_id = unit.id AND sale.removed = 0) AS sold
FROM purchase JOIN unit ON unit.id = purchase.unit_id JOIN stage ON stage.id = unit.stage_id
WHERE purchase.lot_id = ? AND unit.removed = 0 ORDER BY purchase.id
""".replace("{cost_left}", COST_LEFT)

_COST_LEFT_OF = "SELECT {cost_left} FROM unit WHERE unit.id = ?".replace("{cost_left}", COST_LEFT)


def lots(connection: sqlite3.Connection) -> list[sqlite3.Row]:
    """Every lot, the newest first, with how many units it holds."""
    return connection.execute(_LOTS).fetchall()


def lot(connection: sqlite3.Connection, lot_id: int) -> sqlite3.Row | None:
    """One lot; None when there is none of that number."""
    row: sqlite3.Row | None = connection.execute(_LOT, (lot_id,)).fetchone()
    return row


def lot_units(connection: sqlite3.Connection, lot_id: int) -> list[sqlite3.Row]:
    """A lot's units in the order in which they were typed."""
    return connection.execute(_LOT_UNITS, (lot_id,)).fetchall()


def cost_left(connection: sqlite3.Connection, unit_id: int) -> int:
    """The cost still on a unit: its price and parts in less parts out, in minor units."""
    return int(connection.execute(_COST_LEFT_OF, (unit_id,)).fetchone()[0])
