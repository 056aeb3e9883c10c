"""SQL texts behind drives, their wipes, and the reason for listing a unit without."""

from __future__ import annotations

import sqlite3

_DRIVE = """
SELECT drive.id AS drive_id, drive.unit_id, COALESCE(unit.tag, '') AS tag, drive.maker, drive.model,
       drive.serial, drive.media_type, drive.media_number, drive.size_bytes, drive.came_from,
       drive.outside_us, came.added_us AS came_us, purchase.bought_on, shop.zone
FROM drive CROSS JOIN shop LEFT JOIN unit ON unit.id = drive.unit_id
LEFT JOIN unit AS came ON came.id = drive.came_in_unit_id
LEFT JOIN purchase ON purchase.unit_id = drive.came_in_unit_id
"""

_DRIVES = _DRIVE + "WHERE drive.unit_id IS ? AND drive.removed = 0 ORDER BY drive.id"

_ONE = _DRIVE + "WHERE drive.id = ? AND drive.removed = 0"

# Which wipe is the newest: bench/work/wiped.py asks for the same order.
_WIPE = """
SELECT wipe.id AS wipe_id, wipe.drive_id, wipe.method, wipe.technique, wipe.tool, wipe.tool_version,
       wipe.confidentiality_before, wipe.confidentiality_after, wipe.destination, person.name AS person,
       wipe.title, wipe.location, wipe.contact, wipe.wiped_us, wipe.verification, wipe.result,
       COALESCE(verifier.name, '') AS verifier, wipe.verifier_title, wipe.verifier_location,
       wipe.verifier_contact, wipe.verified_us, wipe.note
FROM wipe JOIN person ON person.id = wipe.person_id
LEFT JOIN person AS verifier ON verifier.id = wipe.verified_by_id
"""

_NEWEST_FIRST = " AND wipe.removed = 0 ORDER BY wipe.wiped_us DESC, wipe.id DESC"

_WIPES_OF_ONE = _WIPE + "WHERE wipe.drive_id = ?" + _NEWEST_FIRST

_WIPES = (
    _WIPE
    + "JOIN drive ON drive.id = wipe.drive_id WHERE drive.unit_id IS ? AND drive.removed = 0"
    + _NEWEST_FIRST
)

_DRIVE_OF_WIPE = "SELECT drive_id FROM wipe WHERE id = ? AND removed = 0"

_REASONS = """
SELECT unwiped.reason, person.name AS person, unwiped.at_us, unwiped.covers
FROM unwiped JOIN person ON person.id = unwiped.person_id
WHERE unwiped.unit_id = ? AND unwiped.removed = 0 ORDER BY unwiped.id DESC
"""


def drives(connection: sqlite3.Connection, unit_id: int | None) -> list[sqlite3.Row]:
    """The drives in a unit, or on the shelf."""
    return connection.execute(_DRIVES, (unit_id,)).fetchall()


def drive(connection: sqlite3.Connection, drive_id: int) -> sqlite3.Row | None:
    """The drive with that number."""
    row: sqlite3.Row | None = connection.execute(_ONE, (drive_id,)).fetchone()
    return row


def wipes(connection: sqlite3.Connection, unit_id: int | None) -> list[sqlite3.Row]:
    """The wipes of every drive in a unit, or on the shelf, the newest first."""
    return connection.execute(_WIPES, (unit_id,)).fetchall()


def wipes_of_one(connection: sqlite3.Connection, drive_id: int) -> list[sqlite3.Row]:
    """A drive's wipes, the newest first."""
    return connection.execute(_WIPES_OF_ONE, (drive_id,)).fetchall()


def drive_of_wipe(connection: sqlite3.Connection, wipe_id: int) -> int | None:
    """The drive a wipe is of."""
    row = connection.execute(_DRIVE_OF_WIPE, (wipe_id,)).fetchone()
    return int(row["drive_id"]) if row else None


def reasons(connection: sqlite3.Connection, unit_id: int) -> list[sqlite3.Row]:
    """What was said for listing a unit without something, the newest first, ended or not."""
    return connection.execute(_REASONS, (unit_id,)).fetchall()
