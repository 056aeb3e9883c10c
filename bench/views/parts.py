"""SQL texts behind parts: those of one unit, and the shelf."""

from __future__ import annotations

import sqlite3

from bench.domain.parts import PartLine

_LINE = """
SELECT part.id, part.at_us, part.name, part.serial, part.from_unit_id, COALESCE(giver.tag, ''),
       part.to_unit_id, COALESCE(taker.tag, ''), part.cost_minor, person.name, part.supplier, part.note,
       part.drive_id
FROM part JOIN person ON person.id = part.person_id
LEFT JOIN unit AS giver ON giver.id = part.from_unit_id LEFT JOIN unit AS taker ON taker.id = part.to_unit_id
WHERE part.removed = 0 AND {which} ORDER BY part.at_us, part.id
"""
_OF_UNIT = _LINE.replace("{which}", "part.id IN ({own})").replace(
    "{own}", "SELECT id FROM part WHERE from_unit_id = :id UNION SELECT id FROM part WHERE to_unit_id = :id"
)
_SHELF = _LINE.replace("{which}", "part.to_unit_id IS NULL")

_UNIT = """
SELECT unit.id AS unit_id, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS model, unit.price_minor,
       purchase.expected_minor, COALESCE(purchase.donor, 0) AS donor,
       shop.currency, shop.zone
FROM unit CROSS JOIN shop LEFT JOIN purchase ON purchase.unit_id = unit.id
WHERE unit.id = ? AND unit.removed = 0
"""


def of_unit(connection: sqlite3.Connection, unit_id: int) -> tuple[PartLine, ...]:
    """Every part that came into a unit or left it, oldest first."""
    return tuple(PartLine(*row) for row in connection.execute(_OF_UNIT, {"id": unit_id}))


def shelf(connection: sqlite3.Connection) -> tuple[PartLine, ...]:
    """The parts kept on the shelf, oldest first."""
    return tuple(PartLine(*row) for row in connection.execute(_SHELF))


def unit(connection: sqlite3.Connection, unit_id: int) -> sqlite3.Row | None:
    """The unit with the cost still on it; None when there is no such unit."""
    row: sqlite3.Row | None = connection.execute(_UNIT, (unit_id,)).fetchone()
    return row
