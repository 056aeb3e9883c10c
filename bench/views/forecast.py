"""SQL texts behind the forecast: how units moved between stages, and who stands where.

Each asks for the newest of a kind: it costs the same however long the shop's history is.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable

from bench.domain.passage import Move, Standing
from bench.views.standing import IN_QUEUE

_STAGES = "SELECT id, name, lid_off, final FROM stage WHERE removed = 0 ORDER BY position, id"

# How long units stayed at each stage, the newest so many as a JSON list. Where the clock went back it says
# nothing.
_STAYS = """
SELECT stage.id, (SELECT json_group_array(newest.stayed_us) FROM (
    SELECT move.at_us - move.from_since_us AS stayed_us
    FROM stage_move AS move INDEXED BY ix_stage_move_from_stage_id
    WHERE move.removed = 0 AND move.from_stage_id = stage.id AND move.at_us >= :since
    AND move.at_us >= move.from_since_us ORDER BY move.at_us DESC LIMIT :most) AS newest)
FROM stage WHERE stage.final = 0 AND stage.removed = 0
"""

# The units that left last, of those that came in since; what is kept for its parts passes no stages.
_LEFT = """
SELECT DISTINCT unit.id, unit.stage_id, unit.stage_since_us, unit.added_us
FROM stage CROSS JOIN stage_move AS gone ON gone.id IN (
    SELECT newest.id FROM stage_move AS newest INDEXED BY ix_stage_move_to_stage_id
    CROSS JOIN unit AS whose ON whose.id = newest.unit_id AND whose.removed = 0 AND whose.added_us >= :since
    WHERE newest.removed = 0 AND newest.to_stage_id = stage.id AND newest.at_us >= :since
    AND NOT EXISTS (SELECT 1 FROM purchase WHERE purchase.unit_id = whose.id AND purchase.donor = 1)
    ORDER BY newest.at_us DESC LIMIT :most)
CROSS JOIN unit ON unit.id = gone.unit_id
WHERE stage.final = 1 AND stage.removed = 0
"""

_MOVE = "move.unit_id, move.from_stage_id, move.from_since_us, move.to_stage_id, move.at_us"

_MOVES_OF = """
SELECT {move} FROM json_each(:units) AS whose
CROSS JOIN stage_move AS move INDEXED BY ix_stage_move_unit_id ON move.unit_id = whose.value
WHERE move.removed = 0 ORDER BY move.id
""".replace("{move}", _MOVE)

_STANDING = """
SELECT unit.id, unit.stage_id, unit.stage_since_us, unit.added_us FROM {in_queue}
UNION
SELECT unit.id, unit.stage_id, unit.stage_since_us, unit.added_us
FROM stage CROSS JOIN stage_move AS gone INDEXED BY ix_stage_move_to_stage_id
    ON gone.removed = 0 AND gone.to_stage_id = stage.id AND gone.at_us >= :since
CROSS JOIN unit ON unit.id = gone.unit_id AND unit.removed = 0
WHERE stage.final = 1 AND stage.removed = 0
""".replace("{in_queue}", IN_QUEUE)

# What left the queue since, and what came back to it since an instant that may lie further back: that a unit
# came back tells by itself when it had left.
_CROSSINGS = """
SELECT move.id, {move}
FROM stage AS there CROSS JOIN stage_move AS move INDEXED BY ix_stage_move_to_stage_id
    ON move.removed = 0 AND move.to_stage_id = there.id AND move.at_us >= :left_since
JOIN stage AS here ON here.id = move.from_stage_id
WHERE there.final = 1 AND there.removed = 0 AND (here.final = 0 OR here.removed = 1)
UNION ALL
SELECT move.id, {move}
FROM stage AS here CROSS JOIN stage_move AS move INDEXED BY ix_stage_move_from_stage_id
    ON move.removed = 0 AND move.from_stage_id = here.id AND move.at_us >= :back_since
JOIN stage AS there ON there.id = move.to_stage_id
WHERE here.final = 1 AND here.removed = 0 AND (there.final = 0 OR there.removed = 1)
ORDER BY 1
""".replace("{move}", _MOVE)

_TASKS = """
SELECT task.unit_id, task.stage_id
FROM {in_queue} CROSS JOIN task ON task.unit_id = unit.id
WHERE task.removed = 0
GROUP BY task.unit_id, task.stage_id
""".replace("{in_queue}", IN_QUEUE)


def stages(connection: sqlite3.Connection) -> list[sqlite3.Row]:
    """The stages in order."""
    return connection.execute(_STAGES).fetchall()


def stays(connection: sqlite3.Connection, since_us: int, most: int) -> dict[int, tuple[int, ...]]:
    """By stage the lengths of the newest stays that have ended since an instant, in microseconds."""
    found = connection.execute(_STAYS, {"since": since_us, "most": most})
    return {stage_id: tuple(json.loads(lengths)) for stage_id, lengths in found}


def left_last(connection: sqlite3.Connection, since_us: int, most: int) -> tuple[Standing, ...]:
    """The newest units that came and left since an instant, donors apart: so many of each way out."""
    return tuple(Standing._make(row) for row in connection.execute(_LEFT, {"since": since_us, "most": most}))


def moves_of(connection: sqlite3.Connection, units: Iterable[Standing]) -> tuple[Move, ...]:
    """Every move of these units, in the order in which they were made."""
    ids = json.dumps([unit.unit_id for unit in units])
    return tuple(Move._make(row) for row in connection.execute(_MOVES_OF, {"units": ids}))


def standing(connection: sqlite3.Connection, since_us: int) -> tuple[Standing, ...]:
    """Units in the queue, and those that left it since an instant."""
    return tuple(Standing._make(row) for row in connection.execute(_STANDING, {"since": since_us}))


def crossings(connection: sqlite3.Connection, left_since_us: int, back_since_us: int) -> tuple[Move, ...]:
    """Moves by which units left the queue or came back to it, in the order in which they were made."""
    values = {"left_since": left_since_us, "back_since": back_since_us}
    return tuple(Move._make(row[1:]) for row in connection.execute(_CROSSINGS, values))


def task_stages(connection: sqlite3.Connection) -> dict[int, set[int]]:
    """The stages at which each unit of the queue has tasks."""
    found: dict[int, set[int]] = {}
    for unit_id, stage_id in connection.execute(_TASKS):
        found.setdefault(unit_id, set()).add(stage_id)
    return found
