"""SQL texts behind the forecast: every move between stages out of the journal, and who stands where."""

from __future__ import annotations

import sqlite3

from bench.domain.passage import Move, Standing
from bench.views.standing import IN_QUEUE

# The first condition is word for word that of the index on these lines; a + keeps other ways from it.
# What was undone did not happen; what was redone happened when it was done first.
_MOVES = """
SELECT json_extract(noted.value, '$.id'), json_extract(noted.value, '$.before.stage_id'),
       json_extract(noted.value, '$.before.stage_since_us'), json_extract(noted.value, '$.after.stage_id'),
       json_extract(noted.value, '$.after.stage_since_us')
FROM journal AS line CROSS JOIN json_each(line.changes) AS noted
WHERE instr(line.changes, '"stage_since_us"') > 0 AND line.at_us >= ?
AND +line.takes_back_id IS NULL
AND (WITH RECURSIVE onward(id) AS (
    SELECT later.id FROM journal AS later WHERE later.takes_back_id = line.id
    UNION ALL SELECT next.id FROM onward JOIN journal AS next ON next.takes_back_id = onward.id
) SELECT COUNT(*) FROM onward) % 2 = 0
AND json_extract(noted.value, '$.table') = 'unit'
AND json_extract(noted.value, '$.before.stage_id') IS NOT NULL
AND json_extract(noted.value, '$.after.stage_id') IS NOT NULL
AND json_extract(noted.value, '$.before.stage_since_us') IS NOT NULL
ORDER BY +line.id
"""

_STANDING = """
SELECT unit.id, unit.stage_id, unit.stage_since_us, unit.added_us
FROM unit WHERE unit.removed = 0 AND (
    unit.stage_id IN (SELECT id FROM stage WHERE final = 0)
    OR unit.stage_since_us >= :since OR unit.added_us >= :since
)
"""

# Units that came since, but for donors: what is kept for its parts passes no stages.
_CAME = """
SELECT unit.id, unit.stage_id, unit.stage_since_us, unit.added_us
FROM unit LEFT JOIN purchase ON purchase.unit_id = unit.id
WHERE unit.removed = 0 AND unit.added_us >= ? AND COALESCE(purchase.donor, 0) = 0
"""

_STAGES = "SELECT id, name, lid_off, final FROM stage WHERE removed = 0 ORDER BY position, id"

_TASKS = """
SELECT task.unit_id, task.stage_id
FROM {in_queue} CROSS JOIN task ON task.unit_id = unit.id
WHERE task.removed = 0
GROUP BY task.unit_id, task.stage_id
""".replace("{in_queue}", IN_QUEUE)


def moves(connection: sqlite3.Connection, since_us: int) -> tuple[Move, ...]:
    """Every move of a unit to another stage since an instant, in the order in which they were made."""
    return tuple(Move(*row) for row in connection.execute(_MOVES, (since_us,)))


def standing(connection: sqlite3.Connection, since_us: int) -> tuple[Standing, ...]:
    """Units in the queue, and those that came or left since an instant."""
    return tuple(Standing(*row) for row in connection.execute(_STANDING, {"since": since_us}))


def came(connection: sqlite3.Connection, since_us: int) -> tuple[Standing, ...]:
    """Units that came in since an instant, donors left out."""
    return tuple(Standing(*row) for row in connection.execute(_CAME, (since_us,)))


def stages(connection: sqlite3.Connection) -> list[sqlite3.Row]:
    """The stages in order."""
    return connection.execute(_STAGES).fetchall()


def task_stages(connection: sqlite3.Connection) -> dict[int, set[int]]:
    """The stages at which each unit of the queue has tasks."""
    found: dict[int, set[int]] = {}
    for unit_id, stage_id in connection.execute(_TASKS):
        found.setdefault(unit_id, set()).add(stage_id)
    return found
