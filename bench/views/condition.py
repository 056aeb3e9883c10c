"""SQL texts behind a unit's readings."""

from __future__ import annotations

import sqlite3

_READINGS = """
SELECT reading.id, reading.moment, reading.subject, reading.source, reading.at_us, person.name AS person,
       reading.drive_id, COALESCE(TRIM(drive.model || ' ' || drive.serial), '') AS drive, reading.note,
       reading.figures
FROM reading JOIN person ON person.id = reading.person_id LEFT JOIN drive ON drive.id = reading.drive_id
WHERE reading.unit_id = ? AND reading.removed = 0 ORDER BY reading.at_us DESC, reading.id DESC
"""


def readings(connection: sqlite3.Connection, unit_id: int) -> list[sqlite3.Row]:
    """A unit's readings, the newest first."""
    return connection.execute(_READINGS, (unit_id,)).fetchall()
