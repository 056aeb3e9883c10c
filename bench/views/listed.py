"""SQL texts about units that are listed or left by a way on which their drives matter: what is in them."""

from __future__ import annotations

import sqlite3

# As bench/work/wiped.py asks it of a stage: from the first stage that lists on. A way out at which nothing is
# sold counts where the unit was sold all the same. What went back to whose it is, or stays, is not asked.
_UNITS = """
SELECT unit.id AS unit_id, unit.tag, unit.opened_us, unit.back_us, unit.held_reason, stage.final AS out
FROM unit JOIN stage ON stage.id = unit.stage_id
LEFT JOIN way_out AS way ON way.unit_id = unit.id AND way.removed = 0 AND way.ended_us IS NULL
WHERE unit.id IN (SELECT value FROM json_each(:units)) AND unit.removed = 0
AND (stage.lists = 1 OR stage.sells = 1
     OR (stage.final = 0 AND EXISTS (
         SELECT 1 FROM stage AS first WHERE first.lists = 1 AND first.removed = 0
         AND (first.position, first.id) <= (stage.position, stage.id)))
     OR (way.way = 'sold' AND EXISTS (
         SELECT 1 FROM sale WHERE sale.unit_id = unit.id AND sale.removed = 0 AND NOT EXISTS (
             SELECT 1 FROM comeback WHERE comeback.sale_id = sale.id AND comeback.removed = 0
             AND comeback.undoes = 1))))
AND (stage.final = 0 OR COALESCE(way.way, 'sold') NOT IN ('handed back', 'kept'))
"""

_DRIVES = """
SELECT drive.id AS drive_id, drive.unit_id, TRIM(drive.model || ' ' || drive.serial) AS name,
       drive.outside_us, came.added_us AS came_us, purchase.bought_on, shop.zone, wipe.result, wipe.wiped_us
FROM drive CROSS JOIN shop LEFT JOIN unit AS came ON came.id = drive.came_in_unit_id
LEFT JOIN purchase ON purchase.unit_id = drive.came_in_unit_id
LEFT JOIN wipe ON wipe.id = (
    SELECT newest.id FROM wipe AS newest WHERE newest.drive_id = drive.id AND newest.removed = 0
    ORDER BY newest.wiped_us DESC, newest.id DESC LIMIT 1)
WHERE drive.unit_id IN (SELECT value FROM json_each(:units)) AND drive.removed = 0 ORDER BY drive.id
"""

_REASONS = """
SELECT unit_id, at_us, covers FROM unwiped
WHERE unit_id IN (SELECT value FROM json_each(:units)) AND removed = 0
"""


def units(connection: sqlite3.Connection, numbers: str) -> list[sqlite3.Row]:
    """Those of the units that are listed or left so. `numbers`: a JSON list of them."""
    return _rows(connection, _UNITS, numbers)


def drives(connection: sqlite3.Connection, numbers: str) -> list[sqlite3.Row]:
    """The drives in these units, each with its newest wipe."""
    return _rows(connection, _DRIVES, numbers)


def reasons(connection: sqlite3.Connection, numbers: str) -> list[sqlite3.Row]:
    """What was said of these units for listing them all the same."""
    return _rows(connection, _REASONS, numbers)


def _rows(connection: sqlite3.Connection, text: str, numbers: str) -> list[sqlite3.Row]:
    cursor = connection.cursor()
    cursor.row_factory = sqlite3.Row
    return cursor.execute(text, {"units": numbers}).fetchall()
