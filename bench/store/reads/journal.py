"""SQL texts behind the journal, newest first, a page at a time."""

from __future__ import annotations

import sqlite3

_LINES = """
SELECT line.id AS journal_id, line.at_us, person.name AS person, line.action, line.summary, line.reason,
       line.via, line.unit_id, COALESCE(unit.tag, '') AS tag,
       EXISTS (SELECT 1 FROM journal AS later WHERE later.takes_back_id = line.id) AS taken_back,
       line.takes_back_id AS takes_back, line.changes
FROM journal AS line JOIN person ON person.id = line.person_id LEFT JOIN unit ON unit.id = line.unit_id
WHERE line.id < :before {of_unit} ORDER BY line.id DESC LIMIT :limit
"""
_ALL = _LINES.replace("{of_unit}", "")
_OF_UNIT = _LINES.replace("{of_unit}", "AND line.unit_id = :unit_id")


def lines(
    connection: sqlite3.Connection, *, before_id: int, unit_id: int | None, limit: int
) -> list[sqlite3.Row]:
    """Up to `limit` lines older than `before_id`, of one unit or of all."""
    text = _ALL if unit_id is None else _OF_UNIT
    return connection.execute(text, {"before": before_id, "unit_id": unit_id, "limit": limit}).fetchall()


def unit_exists(connection: sqlite3.Connection, unit_id: int) -> bool:
    """Whether there is such a unit, be it a removed one: its journal stays readable."""
    return connection.execute("SELECT 1 FROM unit WHERE id = ?", (unit_id,)).fetchone() is not None
