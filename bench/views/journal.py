"""SQL texts behind the journal, newest first, a page at a time."""

from __future__ import annotations

import sqlite3

# A line stands again where an undoing of it was itself undone, by a redo.
_LINES = """
SELECT line.id AS journal_id, line.at_us, person.name AS person, line.action, line.summary, line.reason,
       line.via, line.unit_id, COALESCE(unit.tag, '') AS tag,
       (WITH RECURSIVE onward(id) AS (
            SELECT later.id FROM journal AS later WHERE later.takes_back_id = line.id
            UNION ALL SELECT next.id FROM onward JOIN journal AS next ON next.takes_back_id = onward.id
        ) SELECT COUNT(*) FROM onward) % 2 AS undone,
       line.takes_back_id AS undoes, line.changes
FROM journal AS line JOIN person ON person.id = line.person_id LEFT JOIN unit ON unit.id = line.unit_id
WHERE line.id < :before {of_unit} ORDER BY line.id DESC LIMIT :limit
"""
_ALL = _LINES.replace("{of_unit}", "")
_OF_UNIT = _LINES.replace("{of_unit}", "AND line.unit_id = :unit_id")

# A line is undone by a later one that takes it back, unless that one was taken back in its turn.
_BOOKED = """
WITH RECURSIVE turn (line_id, undone) AS (
    SELECT journal_id, 0 FROM booking_key WHERE key = :key
    UNION ALL
    SELECT later.id, 1 - turn.undone FROM turn JOIN journal AS later ON later.takes_back_id = turn.line_id
)
SELECT line.id AS journal_id, line.at_us, person.name AS person, line.summary,
       COALESCE(unit.tag, '') AS tag, (SELECT undone FROM turn ORDER BY line_id DESC LIMIT 1) AS undone,
       booked.asked, (SELECT zone FROM shop) AS zone
FROM booking_key AS booked JOIN journal AS line ON line.id = booked.journal_id
JOIN person ON person.id = line.person_id LEFT JOIN unit ON unit.id = line.unit_id
WHERE booked.key = :key
"""


def lines(
    connection: sqlite3.Connection, *, before_id: int, unit_id: int | None, limit: int
) -> list[sqlite3.Row]:
    """Up to `limit` lines older than `before_id`, of one unit or of all."""
    text = _ALL if unit_id is None else _OF_UNIT
    return connection.execute(text, {"before": before_id, "unit_id": unit_id, "limit": limit}).fetchall()


def unit_exists(connection: sqlite3.Connection, unit_id: int) -> bool:
    """Whether there is such a unit, be it a removed one: its journal stays readable."""
    return connection.execute("SELECT 1 FROM unit WHERE id = ?", (unit_id,)).fetchone() is not None


def booked_with(connection: sqlite3.Connection, key: str) -> sqlite3.Row | None:
    """The line that was booked with a script's key, and the fingerprint of the command; None: no such key."""
    cursor = connection.cursor()
    cursor.row_factory = sqlite3.Row
    found: sqlite3.Row | None = cursor.execute(_BOOKED, {"key": key}).fetchone()
    return found
