"""SQL texts behind one unit: its particulars, tasks, uses, time entries, ticks."""

from __future__ import annotations

import sqlite3

from bench.views.covers import OPENS, WORKED_INSIDE
from bench.views.stock import ON_HAND

_UNIT = """
SELECT unit.*, stage.name AS stage, COALESCE(route.name, '') AS route, shop.currency, shop.zone,
       COALESCE(owner.name, '') AS owner, COALESCE(owner.contact, '') AS owner_contact,
       {worked_inside} AS worked_inside
FROM unit JOIN stage ON stage.id = unit.stage_id LEFT JOIN route ON route.id = unit.route_id
LEFT JOIN party AS owner ON owner.id = unit.owner_id CROSS JOIN shop WHERE unit.id = ? AND unit.removed = 0
""".replace("{worked_inside}", WORKED_INSIDE)

_TASKS = """
SELECT task.*, {opens} AS takes_cover_off, stage.lid_off AS at_cover_off, stage.name AS stage,
       COALESCE(SUM(entry.stopped_us - entry.started_us), 0) AS spent_us
FROM task JOIN stage ON stage.id = task.stage_id
LEFT JOIN time_entry AS entry ON entry.task_id = task.id AND entry.stopped_us IS NOT NULL
WHERE task.unit_id = ? AND task.removed = 0
GROUP BY task.id ORDER BY stage.position, task.position, task.id
""".replace("{opens}", OPENS)

_USES = """
SELECT task_use.task_id, consumable.id AS consumable_id, consumable.name, consumable.base_unit,
       consumable.hazard, task_use.quantity,
       {on_hand} AS on_hand
FROM task JOIN task_use ON task_use.task_id = task.id
JOIN consumable ON consumable.id = task_use.consumable_id
WHERE task.unit_id = ? AND task.removed = 0 AND consumable.removed = 0 ORDER BY task_use.id
""".replace("{on_hand}", ON_HAND)

_TICKS = """
SELECT tick.list, tick.item, person.name AS person, tick.at_us, tick.screws, tick.note, tick.reason
FROM unit JOIN safety_check AS tick ON tick.unit_id = unit.id AND tick.lid_count = unit.lid_count
JOIN person ON person.id = tick.person_id WHERE unit.id = ?
"""

_TIMES = """
SELECT entry.attended, COALESCE(SUM(entry.stopped_us - entry.started_us), 0) AS spent_us
FROM task JOIN time_entry AS entry ON entry.task_id = task.id
WHERE task.unit_id = ? AND entry.stopped_us IS NOT NULL GROUP BY entry.attended
"""

_MATERIALS = """
SELECT COALESCE(-SUM(movement.cost_minor), 0)
FROM task JOIN movement ON movement.task_id = task.id WHERE task.unit_id = ?
"""

_MATERIAL_LINES = """
SELECT movement.id AS movement_id, movement.at_us, consumable.id AS consumable_id, consumable.name,
       consumable.base_unit, movement.quantity, movement.cost_minor, task.name AS task, person.name AS person
FROM task JOIN movement ON movement.task_id = task.id
JOIN consumable ON consumable.id = movement.consumable_id JOIN person ON person.id = movement.person_id
WHERE task.unit_id = ? ORDER BY movement.id
"""

_WAY = """
SELECT stage.id, stage.lid_off, stage.id = unit.stage_id AS here,
       (SELECT COUNT(*) FROM task WHERE task.unit_id = unit.id AND task.stage_id = stage.id
        AND task.removed = 0) AS tasks
FROM unit CROSS JOIN stage WHERE unit.id = ? AND stage.removed = 0 ORDER BY stage.position, stage.id
"""


def particulars(connection: sqlite3.Connection, unit_id: int) -> sqlite3.Row | None:
    """The unit with the names of its stage and route; None when there is no such unit."""
    row: sqlite3.Row | None = connection.execute(_UNIT, (unit_id,)).fetchone()
    return row


def id_of_tag(connection: sqlite3.Connection, tag: str) -> int | None:
    """The number of the unit that bears the tag."""
    row = connection.execute("SELECT id FROM unit WHERE tag = ? AND removed = 0", (tag,)).fetchone()
    return int(row["id"]) if row else None


def unit_of_task(connection: sqlite3.Connection, task_id: int) -> int | None:
    """The unit a task belongs to."""
    row = connection.execute("SELECT unit_id FROM task WHERE id = ? AND removed = 0", (task_id,)).fetchone()
    return int(row["unit_id"]) if row else None


def tasks(connection: sqlite3.Connection, unit_id: int) -> list[sqlite3.Row]:
    """The unit's tasks in order, with the time spent on each."""
    return connection.execute(_TASKS, (unit_id,)).fetchall()


def uses(connection: sqlite3.Connection, unit_id: int) -> list[sqlite3.Row]:
    """What the unit's tasks take, with what is on hand."""
    return connection.execute(_USES, (unit_id,)).fetchall()


def ticks(connection: sqlite3.Connection, unit_id: int) -> list[sqlite3.Row]:
    """What is ticked since the unit's cover was last on."""
    return connection.execute(_TICKS, (unit_id,)).fetchall()


def times(connection: sqlite3.Connection, unit_id: int) -> dict[bool, int]:
    """Microseconds of closed entries, by attended or not."""
    return {bool(row["attended"]): row["spent_us"] for row in connection.execute(_TIMES, (unit_id,))}


def materials_minor(connection: sqlite3.Connection, unit_id: int) -> int:
    """FIFO cost of what was issued to the unit, less what was taken back."""
    return int(connection.execute(_MATERIALS, (unit_id,)).fetchone()[0])


def material_lines(connection: sqlite3.Connection, unit_id: int) -> list[sqlite3.Row]:
    """The movements behind the unit's materials, oldest first."""
    return connection.execute(_MATERIAL_LINES, (unit_id,)).fetchall()


def way_of(connection: sqlite3.Connection, unit_id: int) -> list[sqlite3.Row]:
    """The stages in order: which is the unit's own, and how many of its tasks belong to each."""
    return connection.execute(_WAY, (unit_id,)).fetchall()
