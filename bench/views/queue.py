"""SQL texts behind the first screen and the queue. Units at a final stage, and removed ones, are left out."""

from __future__ import annotations

import sqlite3

from bench.views.covers import WORKED_INSIDE
from bench.views.standing import IN_QUEUE
from bench.views.stock import ON_HAND

_UNITS = """
SELECT unit.id, unit.tag, unit.maker, unit.model, unit.stage_id, unit.held_reason, unit.due_on,
       unit.lid_off, unit.cell_finding,
       EXISTS (SELECT 1 FROM safety_check AS tick WHERE tick.unit_id = unit.id
               AND tick.lid_count = unit.lid_count AND tick.list = 'close_up'
               AND tick.item = 'battery_in') AS battery_in,
       (SELECT json_group_array(tick.item) FROM safety_check AS tick WHERE tick.unit_id = unit.id
        AND tick.lid_count = unit.lid_count AND tick.list = 'opening') AS opening,
       {worked_inside} AS worked_inside
FROM {in_queue}
ORDER BY unit.due_on IS NULL, unit.due_on, unit.stage_since_us, unit.id
""".replace("{worked_inside}", WORKED_INSIDE).replace("{in_queue}", IN_QUEUE)

_ESTIMATES = """
SELECT task.unit_id, SUM(task.estimate_minutes) AS minutes
FROM {in_queue} CROSS JOIN task ON task.unit_id = unit.id
WHERE task.removed = 0 AND task.unattended = 0 AND task.state <> 'skipped'
GROUP BY task.unit_id
""".replace("{in_queue}", IN_QUEUE)

# With the cover off no task comes next that needs it on: one at a cover-on stage that does not open.
# SQLite fills the other columns from the row that holds the MIN (sqlite.org/lang_select.html, bare columns).
_NEXT_TASKS = """
SELECT task.unit_id, task.id, task.name, task.unattended,
       MIN(stage.position * 1000000 + task.position) AS turn
FROM {in_queue} CROSS JOIN task ON task.unit_id = unit.id JOIN stage ON stage.id = task.stage_id
WHERE task.removed = 0 AND task.state = 'todo'
AND NOT (unit.lid_off = 1 AND task.lid_off = 0 AND stage.lid_off = 0)
GROUP BY task.unit_id
""".replace("{in_queue}", IN_QUEUE)

_SPENT = """
SELECT task.unit_id, SUM(entry.stopped_us - entry.started_us) AS spent_us
FROM {in_queue} CROSS JOIN task ON task.unit_id = unit.id
CROSS JOIN time_entry AS entry ON entry.task_id = task.id AND entry.attended = 1
WHERE task.removed = 0 AND entry.stopped_us IS NOT NULL
GROUP BY task.unit_id
""".replace("{in_queue}", IN_QUEUE)

RUNNING = """
SELECT entry.id AS entry_id, entry.task_id, task.name AS task, unit.id AS unit_id, unit.tag,
       entry.person_id, person.name AS person, entry.started_us, entry.attended,
       task.estimate_minutes, entry.kept_us
FROM time_entry AS entry INDEXED BY ix_time_entry_open
CROSS JOIN task ON task.id = entry.task_id JOIN unit ON unit.id = task.unit_id
JOIN person ON person.id = entry.person_id
WHERE entry.stopped_us IS NULL
ORDER BY entry.started_us, entry.id
"""

_SHORT = """
SELECT task_use.task_id, consumable.name
FROM {in_queue} CROSS JOIN task ON task.unit_id = unit.id
CROSS JOIN task_use INDEXED BY ix_task_use_task_id ON task_use.task_id = task.id
JOIN consumable ON consumable.id = task_use.consumable_id
WHERE task.removed = 0 AND task.state = 'todo' AND consumable.removed = 0
AND task_use.quantity > {on_hand}
ORDER BY task_use.id
""".replace("{in_queue}", IN_QUEUE).replace("{on_hand}", ON_HAND)

_STAGES = """
SELECT stage.id, stage.name, stage.lid_off, stage.final,
       (SELECT COUNT(*) FROM unit WHERE unit.stage_id = stage.id AND unit.removed = 0) AS units
FROM stage WHERE stage.removed = 0 ORDER BY stage.position, stage.id
"""

# Units that are out otherwise than by a sale, few of many; the index holds all that is asked.
_WAYS = """
SELECT unit.stage_id, way_out.way, COUNT(*) FROM way_out JOIN unit ON unit.id = way_out.unit_id
WHERE way_out.way IN ('handed back', 'kept', 'scrapped', 'parts') AND way_out.removed = 0
AND way_out.ended_us IS NULL AND unit.removed = 0 GROUP BY unit.stage_id, way_out.way
"""

_SHOP = """
SELECT name, currency, zone, rate_minor_per_hour, forgotten_times, forgotten_least_minutes FROM shop
"""


def shop(connection: sqlite3.Connection) -> sqlite3.Row:
    """The shop's settings."""
    row: sqlite3.Row = connection.execute(_SHOP).fetchone()
    return row


def stages(connection: sqlite3.Connection) -> list[sqlite3.Row]:
    """The stages in order, with how many units stand at each."""
    return connection.execute(_STAGES).fetchall()


def ways_out(connection: sqlite3.Connection) -> dict[int, dict[str, int]]:
    """How many units that are out left otherwise than by a sale, by stage and way."""
    counts: dict[int, dict[str, int]] = {}
    for stage_id, way, count in connection.execute(_WAYS):
        counts.setdefault(stage_id, {})[way] = count
    return counts


def people(connection: sqlite3.Connection) -> list[sqlite3.Row]:
    """The people at the bench, by name."""
    return connection.execute("SELECT id, name FROM person WHERE removed = 0 ORDER BY id").fetchall()


def units(connection: sqlite3.Connection) -> list[sqlite3.Row]:
    """The units in the queue: due ones first, then as long as they stand at their stage."""
    return connection.execute(_UNITS).fetchall()


def estimates(connection: sqlite3.Connection) -> dict[int, int]:
    """Attended minutes estimated, by unit; skipped tasks do not count."""
    return {row["unit_id"]: row["minutes"] for row in connection.execute(_ESTIMATES)}


def next_tasks(connection: sqlite3.Connection) -> dict[int, sqlite3.Row]:
    """The task that comes next, by unit."""
    return {row["unit_id"]: row for row in connection.execute(_NEXT_TASKS)}


def spent(connection: sqlite3.Connection) -> dict[int, int]:
    """Attended microseconds of closed entries, by unit."""
    return {row["unit_id"]: row["spent_us"] for row in connection.execute(_SPENT)}


def running(connection: sqlite3.Connection) -> list[sqlite3.Row]:
    """Every open time entry, oldest first."""
    return connection.execute(RUNNING).fetchall()


def short(connection: sqlite3.Connection) -> dict[int, tuple[str, ...]]:
    """Names of consumables of which a task takes more than is on hand, by task."""
    names: dict[int, tuple[str, ...]] = {}
    for row in connection.execute(_SHORT):
        names[row["task_id"]] = (*names.get(row["task_id"], ()), row["name"])
    return names
