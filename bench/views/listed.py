"""Units that are listed or left by a way on which their drives matter: what is in them, and what was said."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from bench.domain.amounts import Instant
from bench.views.binder import Groups, Query


@dataclass(frozen=True, slots=True)
class ListedUnit:
    """A unit that is listed or left so. `held`: it is on hold. `out`: it has left."""

    unit_id: int
    tag: str
    opened_us: Instant | None
    back_us: Instant | None
    held: bool
    out: bool


@dataclass(frozen=True, slots=True)
class ListedDrive:
    """A drive in such a unit with its newest wipe, if any. When it was outside: see `domain.wipe`."""

    drive_id: int
    name: str
    outside_us: Instant | None
    came_us: Instant | None
    bought_on: date | None
    zone: str
    result: str | None
    wiped_us: Instant | None


@dataclass(frozen=True, slots=True)
class ListedReason:
    """What was said of such a unit for listing it all the same."""

    at_us: Instant
    covers: tuple[str, ...]


# As bench/work/wiped.py asks it of a stage: from the first stage that lists on. A way out at which nothing is
# sold counts where the unit was sold all the same. What went back to whose it is, or stays, is not asked.
_UNITS = Query(
    ListedUnit,
    """
SELECT unit.id AS unit_id, unit.tag, unit.opened_us, unit.back_us, unit.held_reason IS NOT NULL AS held,
       stage.final AS out
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
""",
)

_DRIVES = Groups(
    ListedDrive,
    """
SELECT drive.unit_id, drive.id AS drive_id, TRIM(drive.model || ' ' || drive.serial) AS name,
       drive.outside_us, came.added_us AS came_us, purchase.bought_on, shop.zone, wipe.result, wipe.wiped_us
FROM drive CROSS JOIN shop LEFT JOIN unit AS came ON came.id = drive.came_in_unit_id
LEFT JOIN purchase ON purchase.unit_id = drive.came_in_unit_id
LEFT JOIN wipe ON wipe.id = (
    SELECT newest.id FROM wipe AS newest WHERE newest.drive_id = drive.id AND newest.removed = 0
    ORDER BY newest.wiped_us DESC, newest.id DESC LIMIT 1)
WHERE drive.unit_id IN (SELECT value FROM json_each(:units)) AND drive.removed = 0 ORDER BY drive.id
""",
)

_REASONS = Groups(
    ListedReason,
    """
SELECT unit_id, at_us, covers FROM unwiped
WHERE unit_id IN (SELECT value FROM json_each(:units)) AND removed = 0
""",
    covers=lambda matters: tuple(matters.split()),
)


def units(connection: sqlite3.Connection, numbers: str) -> tuple[ListedUnit, ...]:
    """Those of the units that are listed or left so. `numbers`: a JSON list of them."""
    return _UNITS.all(connection, units=numbers)


def drives(connection: sqlite3.Connection, numbers: str) -> Mapping[int, tuple[ListedDrive, ...]]:
    """The drives in each of these units, each with its newest wipe."""
    return _DRIVES.by_key(connection, units=numbers)


def reasons(connection: sqlite3.Connection, numbers: str) -> Mapping[int, tuple[ListedReason, ...]]:
    """What was said of each of these units for listing it all the same."""
    return _REASONS.by_key(connection, units=numbers)
