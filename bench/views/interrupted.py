"""What was interrupted: the task that someone was at before, and tasks left for another one. Light.

Nothing is stored for it: an entry that stops at the instant at which the next one of its person starts was
left for that one.
"""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.amounts import Instant
from bench.errors import NotFound
from bench.views.binder import Query
from bench.views.standing import IN_QUEUE

LOOKED_THROUGH = 60  # entries of a person's own; what is further back was not "before" but some other day


@dataclass(frozen=True, slots=True)
class Before:
    """A task that its person was at, and has not finished."""

    task_id: int
    task: str
    unit_id: int
    tag: str
    started_us: Instant


@dataclass(frozen=True, slots=True)
class Interrupted:
    """A task of a unit in the queue that was left for another one, and who left it."""

    unit_id: int
    task_id: int
    task: str
    person: str
    at_us: Instant


_BEFORE = Query(
    Before,
    """
SELECT task.id AS task_id, task.name AS task, unit.id AS unit_id, unit.tag, own.started_us
FROM (SELECT task_id, started_us FROM time_entry INDEXED BY ix_time_entry_person_id
      WHERE person_id = :person_id AND attended = 1
      ORDER BY started_us DESC LIMIT :most) AS own
CROSS JOIN task ON task.id = own.task_id
CROSS JOIN unit ON unit.id = task.unit_id
CROSS JOIN stage ON stage.id = unit.stage_id
WHERE task.state = 'todo' AND task.removed = 0 AND unit.removed = 0 AND stage.final = 0
AND NOT EXISTS (SELECT 1 FROM time_entry AS runs INDEXED BY ix_time_entry_open
                WHERE runs.task_id = task.id AND runs.stopped_us IS NULL
                AND runs.person_id = :person_id)
ORDER BY own.started_us DESC LIMIT 1
""",
)

# The newest hands-on entry of each task that is still to do, where it stopped as its person's next one began.
_LEFT = """
SELECT task.unit_id, task.id AS task_id, task.name AS task, person.name AS person,
       entry.stopped_us AS at_us
FROM {units} CROSS JOIN task ON task.unit_id = unit.id
CROSS JOIN time_entry AS entry INDEXED BY ix_time_entry_task_id
ON entry.task_id = task.id AND entry.attended = 1
JOIN person ON person.id = entry.person_id
WHERE task.removed = 0 AND task.state = 'todo' AND entry.stopped_us IS NOT NULL
AND NOT EXISTS (SELECT 1 FROM time_entry AS later INDEXED BY ix_time_entry_task_id
                WHERE later.task_id = task.id AND later.attended = 1
                AND (later.started_us, later.id) > (entry.started_us, entry.id))
AND EXISTS (SELECT 1 FROM time_entry AS next INDEXED BY ix_time_entry_person_id
            WHERE next.person_id = entry.person_id AND next.attended = 1
            AND next.started_us = entry.stopped_us AND next.task_id <> task.id)
ORDER BY entry.stopped_us DESC
"""
_IN_QUEUE = Query(Interrupted, _LEFT.replace("{units}", IN_QUEUE))
_OF_UNIT = Query(
    Interrupted, _LEFT.replace("{units}", "(SELECT id FROM unit WHERE id = :unit_id AND removed = 0) AS unit")
)


def interrupted(connection: sqlite3.Connection) -> tuple[Interrupted, ...]:
    """The tasks in the queue that were left for another one and not taken up since, the newest first."""
    return _IN_QUEUE.all(connection)


def interrupted_on(connection: sqlite3.Connection, unit_id: int) -> tuple[Interrupted, ...]:
    """Those of one unit, wherever it stands."""
    return _OF_UNIT.all(connection, unit_id=unit_id)


def read_before(desk: Desk) -> Before:
    """The newest unfinished task of the desk's person but the one that runs; NotFound where none is."""
    with desk.store.read() as connection:
        found = _BEFORE.all(connection, person_id=desk.person_id, most=LOOKED_THROUGH)
    if not found:
        raise NotFound(
            "Nothing else of yours is still to do: what you were at before is done, or its unit has left.",
            "Start a task of a unit.",
        )
    return found[0]
