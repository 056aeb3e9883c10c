"""What is in the queue, and what takes the cover off. Which sale stands: `store/standing.py`."""

from __future__ import annotations

import sqlite3

from bench.views.binder import value

# Where the units in the queue come from, however many have left: down the stages, in this order (CROSS JOIN).
IN_QUEUE = """stage AS standing
CROSS JOIN unit ON standing.final = 0 AND unit.stage_id = standing.id AND unit.removed = 0"""
# Of a unit whose tasks do not say which opens it, the first cover-off one does.
OPENS = """(task.opens = 1 OR task.id IS (
    SELECT first.id FROM task AS first JOIN stage AS place ON place.id = first.stage_id
    WHERE first.unit_id = task.unit_id AND first.removed = 0 AND first.lid_off = 1
    AND NOT EXISTS (SELECT 1 FROM task AS marked WHERE marked.unit_id = task.unit_id
                    AND marked.removed = 0 AND marked.opens = 1)
    ORDER BY place.position, first.position, first.id LIMIT 1))"""

# Since the cover last came off: a cover-off task was done or stopped, or one runs that does not open.
WORKED_INSIDE = """(unit.lid_off = 1 AND EXISTS (
    SELECT 1 FROM task JOIN time_entry AS entry ON entry.task_id = task.id
    WHERE task.unit_id = unit.id AND task.removed = 0 AND task.lid_off = 1
    AND (entry.stopped_us IS NULL OR entry.stopped_us >= unit.opened_us)
    AND NOT (entry.stopped_us IS NULL AND {opens})))""".replace("{opens}", OPENS)

_OPENS = """
SELECT task.id FROM task WHERE task.id = :task_id AND task.lid_off = 1 AND {opens}""".replace(
    "{opens}", OPENS
)


def opens(connection: sqlite3.Connection, task_id: int | None) -> bool:
    """Whether a task is the one that takes its unit's cover off."""
    return value(connection, _OPENS, task_id=task_id) is not None
