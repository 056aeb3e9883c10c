"""SQL texts behind time entries as lines that can be opened and corrected."""

from __future__ import annotations

import sqlite3

ENTRY_LINE = """
SELECT entry.id AS entry_id, entry.task_id, task.name AS task, unit.id AS unit_id, unit.tag,
       stage.name AS stage, entry.person_id, person.name AS person, entry.started_us, entry.stopped_us,
       entry.attended,
       EXISTS (SELECT 1 FROM correction WHERE correction.time_entry_id = entry.id) AS corrected
FROM time_entry AS entry
JOIN task ON task.id = entry.task_id JOIN stage ON stage.id = task.stage_id
JOIN unit ON unit.id = task.unit_id JOIN person ON person.id = entry.person_id
"""

_OF_UNIT = ENTRY_LINE + "WHERE task.unit_id = ? ORDER BY entry.started_us, entry.id"

_ONE = ENTRY_LINE + "WHERE entry.id = ?"

_CORRECTIONS = """
SELECT correction.id AS correction_id, correction.at_us, person.name AS person,
       correction.old_started_us, correction.old_stopped_us,
       correction.new_started_us, correction.new_stopped_us, correction.reason
FROM correction JOIN person ON person.id = correction.person_id
WHERE correction.time_entry_id = ? ORDER BY correction.id
"""


def of_unit(connection: sqlite3.Connection, unit_id: int) -> list[sqlite3.Row]:
    """Every time entry of a unit, by start."""
    return connection.execute(_OF_UNIT, (unit_id,)).fetchall()


def one(connection: sqlite3.Connection, entry_id: int) -> sqlite3.Row | None:
    """The time entry with that number."""
    row: sqlite3.Row | None = connection.execute(_ONE, (entry_id,)).fetchone()
    return row


def corrections(connection: sqlite3.Connection, entry_id: int) -> list[sqlite3.Row]:
    """What was corrected in an entry, oldest first."""
    return connection.execute(_CORRECTIONS, (entry_id,)).fetchall()


def exists(connection: sqlite3.Connection, entry_id: int) -> bool:
    """Whether the file holds the entry."""
    found = connection.execute("SELECT 1 FROM time_entry WHERE id = ?", (entry_id,)).fetchone()
    return found is not None
