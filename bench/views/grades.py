"""SQL texts behind grades, the scale, and the parts that went into or out of a unit."""

from __future__ import annotations

import sqlite3

_STEPS = "SELECT id, side, position, name, meaning FROM grade_step"

_SCALE = _STEPS + " WHERE removed = 0 ORDER BY side, position, id"

_GRADES = """
SELECT grade.id, grade.part, grade.function_step_id, grade.looks_step_id, grade.sentence, grade.tested,
       person.name AS person, grade.at_us
FROM grade JOIN person ON person.id = grade.person_id
WHERE grade.unit_id = ? AND grade.removed = 0 ORDER BY grade.id
"""

_PARTS = """
SELECT name, serial, to_unit_id = :unit_id AS goes_in, from_unit_id IS NOT NULL AS used, at_us
FROM part WHERE (to_unit_id = :unit_id OR from_unit_id = :unit_id) AND removed = 0 ORDER BY at_us, id
"""


def every_step(connection: sqlite3.Connection) -> list[sqlite3.Row]:
    """All steps, removed ones too: a grade given once keeps its name."""
    return connection.execute(_STEPS).fetchall()


def scale(connection: sqlite3.Connection) -> list[sqlite3.Row]:
    """The steps in use, by side, the best first."""
    return connection.execute(_SCALE).fetchall()


def grades(connection: sqlite3.Connection, unit_id: int) -> list[sqlite3.Row]:
    """What is said of a unit's parts."""
    return connection.execute(_GRADES, (unit_id,)).fetchall()


def parts(connection: sqlite3.Connection, unit_id: int) -> list[sqlite3.Row]:
    """The parts that went into the unit or out of it, in order of time."""
    return connection.execute(_PARTS, {"unit_id": unit_id}).fetchall()
