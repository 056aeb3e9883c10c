"""SQL texts that find what breaks a rule of the bench among the units that a transaction touched.

They are given :units, a JSON list of numbers, and, as JSON lists of their items, the lists of the domain.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass

from bench.views.binder import Query, value
from bench.views.standing import OPENS


@dataclass(frozen=True, slots=True)
class Broken:
    """A row that breaks a rule, the unit it is about, and what the sentence of the error names besides."""

    row_id: int
    unit_id: int
    tag: str
    detail: str


# How the rows of a table lead to units, each given a JSON list of that table's numbers.
_WAYS: dict[str, str] = {
    "unit": "SELECT id FROM unit WHERE id IN (SELECT value FROM json_each(:unit))",
    "task": "SELECT unit_id FROM task WHERE id IN (SELECT value FROM json_each(:task))",
    "time_entry": """SELECT unit_id FROM task WHERE id IN
        (SELECT task_id FROM time_entry WHERE id IN (SELECT value FROM json_each(:time_entry)))""",
    "safety_check": """SELECT unit_id FROM safety_check
        WHERE id IN (SELECT value FROM json_each(:safety_check))""",
    "drive": "SELECT unit_id FROM drive WHERE id IN (SELECT value FROM json_each(:drive))",
    "wipe": """SELECT unit_id FROM drive WHERE id IN
        (SELECT drive_id FROM wipe WHERE id IN (SELECT value FROM json_each(:wipe)))""",
    "purchase": """SELECT unit_id FROM purchase WHERE id IN (SELECT value FROM json_each(:purchase))
        UNION SELECT drive.unit_id FROM purchase JOIN drive ON drive.came_in_unit_id = purchase.unit_id
        WHERE purchase.id IN (SELECT value FROM json_each(:purchase))""",
    "unwiped": "SELECT unit_id FROM unwiped WHERE id IN (SELECT value FROM json_each(:unwiped))",
    "test_run": "SELECT unit_id FROM test_run WHERE id IN (SELECT value FROM json_each(:test_run))",
    "way_out": "SELECT unit_id FROM way_out WHERE id IN (SELECT value FROM json_each(:way_out))",
    "sale": "SELECT unit_id FROM sale WHERE id IN (SELECT value FROM json_each(:sale))",
    # Which stage lists bears on all that stand behind it too.
    "stage": """SELECT unit.id FROM unit WHERE unit.removed = 0 AND unit.stage_id IN (
        SELECT behind.id FROM stage JOIN stage AS behind ON behind.id = stage.id
            OR (behind.final = 0 AND behind.position >= stage.position)
        WHERE stage.id IN (SELECT value FROM json_each(:stage)))""",
}
_TOUCHED = " UNION ".join(_WAYS.values())

# The timers that run on those units, with all that a rule asks about them.
_RUNNING = """WITH running AS (
    SELECT entry.id, unit.id AS unit_id, unit.tag, task.name AS task, entry.attended,
        task.lid_off AS inside, unit.lid_off AS cover_off, unit.cell_finding, unit.held_reason,
        stage.final = 1 OR unit.removed = 1 OR task.removed = 1 OR task.state <> 'todo' AS gone,
        (SELECT COUNT(*) FROM safety_check AS tick WHERE tick.unit_id = unit.id
            AND tick.lid_count = unit.lid_count AND tick.list = 'opening'
            AND tick.item IN (SELECT value FROM json_each(wanted.items)))
        = json_array_length(wanted.items) AS opening_ticked,
        EXISTS (SELECT 1 FROM safety_check AS tick WHERE tick.unit_id = unit.id
            AND tick.lid_count = unit.lid_count AND tick.list = 'opening'
            AND tick.item = 'without') AS opening_passed,
        EXISTS (SELECT 1 FROM safety_check AS tick WHERE tick.unit_id = unit.id
            AND tick.lid_count = unit.lid_count AND tick.list = 'close_up'
            AND tick.item = 'battery_in') AS battery_back
    FROM unit CROSS JOIN task ON task.unit_id = unit.id
    CROSS JOIN time_entry AS entry ON entry.task_id = task.id AND entry.stopped_us IS NULL
    JOIN stage ON stage.id = unit.stage_id
    JOIN (SELECT 1 AS opens, :before AS items UNION ALL SELECT 0, :opening) AS wanted
        ON wanted.opens = {opens}
    WHERE unit.id IN (SELECT value FROM json_each(:units))
) SELECT id AS row_id, unit_id, tag, """.replace("{opens}", OPENS)

TIMER_ON_A_BAD_CELL = Query(
    Broken, _RUNNING + "cell_finding AS detail FROM running WHERE cell_finding IS NOT NULL"
)
TIMER_WITH_THE_BATTERY_IN = Query(
    Broken,
    _RUNNING
    + "task AS detail FROM running WHERE inside AND (battery_back OR NOT (opening_ticked OR opening_passed))",
)
TIMER_WITH_THE_COVER_ON = Query(
    Broken, _RUNNING + "task AS detail FROM running WHERE inside AND NOT cover_off"
)
TIMER_ON_HOLD = Query(
    Broken, _RUNNING + "held_reason AS detail FROM running WHERE held_reason IS NOT NULL AND attended = 1"
)
TIMER_ON_WHAT_IS_GONE = Query(Broken, _RUNNING + "task AS detail FROM running WHERE gone")

BATTERY_BACK_TOO_SOON = Query(
    Broken,
    """
    SELECT unit.id AS row_id, unit.id AS unit_id, unit.tag, '' AS detail FROM unit
    JOIN safety_check AS last ON last.unit_id = unit.id AND last.lid_count = unit.lid_count
        AND last.list = 'close_up' AND last.item = 'battery_in'
    WHERE unit.id IN (SELECT value FROM json_each(:units)) AND
        (SELECT COUNT(*) FROM safety_check AS tick WHERE tick.unit_id = unit.id
            AND tick.lid_count = unit.lid_count AND tick.list = 'close_up'
            AND tick.item IN (SELECT value FROM json_each(:closing)))
        < json_array_length(:closing)""",
)

# Where the newest movement of a drive as a part says that it is.
DRIVE_NOT_WHERE_IT_WENT = Query(
    Broken,
    """
    SELECT drive.id AS row_id, COALESCE(drive.unit_id, part.to_unit_id, part.from_unit_id) AS unit_id,
        COALESCE(unit.tag, '') AS tag, TRIM(drive.model || ' ' || drive.serial) AS detail
    FROM (
        SELECT id FROM drive WHERE unit_id IN (SELECT value FROM json_each(:units))
        UNION SELECT drive_id FROM part WHERE to_unit_id IN (SELECT value FROM json_each(:units))
        UNION SELECT drive_id FROM part WHERE from_unit_id IN (SELECT value FROM json_each(:units))
    ) AS touched CROSS JOIN drive ON drive.id = touched.id
    JOIN part ON part.id = (
        SELECT last.id FROM part AS last WHERE last.drive_id = drive.id AND last.removed = 0
        ORDER BY last.at_us DESC, last.id DESC LIMIT 1)
    LEFT JOIN unit ON unit.id = drive.unit_id
    WHERE drive.removed = 0 AND drive.unit_id IS NOT part.to_unit_id AND (
        drive.unit_id IN (SELECT value FROM json_each(:units))
        OR part.to_unit_id IN (SELECT value FROM json_each(:units))
        OR part.from_unit_id IN (SELECT value FROM json_each(:units)))""",
)

AT_A_REMOVED_STAGE = Query(
    Broken,
    """
    SELECT unit.id AS row_id, unit.id AS unit_id, unit.tag, stage.name AS detail
    FROM unit JOIN stage ON stage.id = unit.stage_id
    WHERE unit.id IN (SELECT value FROM json_each(:units)) AND unit.removed = 0 AND stage.removed = 1""",
)

DONE_WITHOUT_OUTCOME = Query(
    Broken,
    """
    SELECT task.id AS row_id, task.unit_id, unit.tag, task.name AS detail
    FROM unit CROSS JOIN task ON task.unit_id = unit.id AND task.state = 'done'
    WHERE unit.id IN (SELECT value FROM json_each(:units)) AND task.test <> '' AND task.removed = 0
        AND NOT EXISTS (SELECT 1 FROM test_run AS run WHERE run.task_id = task.id
            AND run.outcome = 'passed' AND run.removed = 0)""",
)


def touched_units(connection: sqlite3.Connection, ids: Mapping[str, set[int]]) -> set[int]:
    """The units on which rows of these tables bear, themselves or through a task, a tick, a drive."""
    values = {table: json.dumps(sorted(ids.get(table, ()))) for table in _WAYS}
    return {row[0] for row in connection.execute(_TOUCHED, values) if row[0] is not None}


def all_numbers(connection: sqlite3.Connection, table: str) -> str:
    """The numbers of a table's rows as a JSON list."""
    text = "SELECT json_group_array(id) FROM {table}".replace("{table}", table)
    return str(value(connection, text))


def pointing_at_removed(
    child: str, column: str, parent: str, *, removable: bool
) -> tuple[Query[Broken], Query[Broken]]:
    """The texts that find standing rows of a table which point at a removed one: among the children
    and among the parents whose :numbers are given.

    They answer the child's number and table as `row_id` and `tag`, the parent's as `unit_id` and `detail`.
    """
    names = {"child": child, "column": column, "parent": parent}
    stands = "AND child.removed = 0" if removable else ""
    children, parents = (
        Query(Broken, _OF_CHILDREN.format(**names, stands=stands)),
        Query(Broken, _OF_PARENTS.format(**names, stands=stands)),
    )
    return children, parents


_POINTING = "SELECT child.id AS row_id, parent.id AS unit_id, '{child}' AS tag, '{parent}' AS detail"
_OF_CHILDREN = (
    _POINTING
    + """
    FROM json_each(:numbers) AS number CROSS JOIN {child} AS child ON child.id = number.value {stands}
    CROSS JOIN {parent} AS parent ON parent.id = child.{column} AND parent.removed = 1"""
)
_OF_PARENTS = (
    _POINTING
    + """
    FROM json_each(:numbers) AS number
    CROSS JOIN {parent} AS parent ON parent.id = number.value AND parent.removed = 1
    CROSS JOIN {child} AS child ON child.{column} = parent.id {stands}"""
)
