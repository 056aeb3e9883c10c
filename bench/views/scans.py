"""SQL texts behind a scan: what bears the text as tag, serial number or code, in whatever capitals."""

from __future__ import annotations

import sqlite3

_UNITS = """
SELECT id, tag, TRIM(maker || ' ' || model) AS name FROM unit
WHERE removed = 0 AND (tag = :text OR (serial <> '' AND serial = :text COLLATE NOCASE))
ORDER BY tag <> :text, id
"""

_DRIVES = """
SELECT drive.id, drive.unit_id, COALESCE(unit.tag, '') AS tag,
       TRIM(drive.maker || ' ' || drive.model || ' ' || drive.serial) AS name
FROM drive LEFT JOIN unit ON unit.id = drive.unit_id AND unit.removed = 0
WHERE drive.removed = 0 AND drive.serial <> '' AND drive.serial = :text COLLATE NOCASE ORDER BY drive.id
"""

_CONSUMABLES = """
SELECT id, name FROM consumable
WHERE removed = 0 AND code <> '' AND code = :text COLLATE NOCASE ORDER BY id
"""


def units(connection: sqlite3.Connection, text: str) -> list[sqlite3.Row]:
    """The units with this tag or serial number, the one with the tag first."""
    return connection.execute(_UNITS, {"text": text}).fetchall()


def drives(connection: sqlite3.Connection, text: str) -> list[sqlite3.Row]:
    """The drives with this serial number."""
    return connection.execute(_DRIVES, {"text": text}).fetchall()


def consumables(connection: sqlite3.Connection, text: str) -> list[sqlite3.Row]:
    """The consumables with this code."""
    return connection.execute(_CONSUMABLES, {"text": text}).fetchall()
