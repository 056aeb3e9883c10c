"""SQL texts that hold the tables against the journal, and sums against the rows that make them up."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from bench.store.triggers.kept_counts import UNSETTLED
from bench.views.binder import Query, by_column, value


@dataclass(frozen=True, slots=True)
class OtherShape:
    """A line of the journal, and the shape in which it is written."""

    journal_id: int
    shape: int


@dataclass(frozen=True, slots=True)
class NotedChange:
    """One row's change as a line of the journal noted it, a JSON object."""

    table_name: str
    row_id: int
    journal_id: int
    noted: str


@dataclass(frozen=True, slots=True)
class WrongSum:
    """A row whose figures do not add up, and what they are."""

    table_name: str
    row_id: int
    what: str


# Sorted by SQLite, which puts aside on disk what does not fit: the history is never in memory at once.
_CHANGES = Query(
    NotedChange,
    """
SELECT json_extract(change.value, '$.table') AS table_name, json_extract(change.value, '$.id') AS row_id,
       line.id AS journal_id, change.value AS noted
FROM journal AS line CROSS JOIN json_each(line.changes) AS change
WHERE line.id > :since AND json_extract(change.value, '$.after') IS NOT '{}'
ORDER BY 1, 2, 3, change.key
""",
)

_OF_ANOTHER_SHAPE = Query(
    OtherShape,
    """
SELECT id AS journal_id, shape FROM journal
WHERE id > :since AND shape NOT IN (SELECT value FROM json_each(:shapes)) ORDER BY id LIMIT 1
""",
)

_NEWEST = "SELECT COALESCE(MAX(id), 0) FROM journal"
_LINES = "SELECT COUNT(*) FROM journal WHERE id > :since"

# Each finds rows whose figures do not add up, with what they are.
SUMS = (
    Query(
        WrongSum,
        """
SELECT 'movement' AS table_name, layer.id AS row_id,
       SUM(own.quantity) || ' left at ' || SUM(own.cost_minor) AS what
FROM movement AS layer JOIN movement AS own ON own.id = layer.id OR own.layer_id = layer.id
WHERE layer.layer_id IS NULL GROUP BY layer.id
HAVING SUM(own.quantity) < 0 OR SUM(own.cost_minor) < 0
OR (SUM(own.quantity) = 0 AND SUM(own.cost_minor) <> 0)
""",
    ),
    Query(
        WrongSum,
        """
SELECT 'layer_balance' AS table_name, id AS row_id,
       COALESCE(quantity || ' left at ' || cost_minor, 'nothing left')
       || ', by its movements ' || summed || ' at ' || cost AS what FROM (
    SELECT COALESCE(layer_id, id) AS id, SUM(quantity) AS summed, SUM(cost_minor) AS cost
    FROM movement GROUP BY 1
) LEFT JOIN layer_balance AS kept ON kept.layer_id = id
WHERE COALESCE(kept.quantity, 0) <> summed OR COALESCE(kept.cost_minor, 0) <> cost
""",
    ),
    Query(
        WrongSum,
        """
SELECT 'stage_count' AS table_name, stage.id AS row_id,
       COALESCE(kept.units, 0) || ', by the units ' || COUNT(unit.id) AS what
FROM stage LEFT JOIN unit ON unit.stage_id = stage.id AND unit.removed = 0
LEFT JOIN stage_count AS kept ON kept.stage_id = stage.id
GROUP BY stage.id HAVING COALESCE(kept.units, 0) <> COUNT(unit.id)
""",
    ),
    Query(
        WrongSum,
        """
SELECT 'way_count' AS table_name, stage_id AS row_id,
       SUM(kept) || ' ' || way || ', by the units ' || SUM(there) AS what FROM (
    SELECT stage_id, way, units AS kept, 0 AS there FROM way_count
    UNION ALL
    SELECT unit.stage_id, way_out.way, 0, 1 FROM way_out CROSS JOIN unit ON unit.id = way_out.unit_id
    WHERE way_out.removed = 0 AND way_out.ended_us IS NULL AND unit.removed = 0
) GROUP BY stage_id, way HAVING SUM(kept) <> SUM(there)
""",
    ),
    Query(
        WrongSum,
        """
SELECT 'unsettled_sale' AS table_name, unit_id AS row_id,
       'kept otherwise than its sales and returns tell' AS what FROM (
    SELECT unit_id, unrecorded, undone FROM (SELECT * FROM unsettled_sale UNION ALL {unsettled})
    GROUP BY 1, 2, 3 HAVING COUNT(*) = 1
) GROUP BY unit_id
""".replace("{unsettled}", UNSETTLED),
    ),
    Query(
        WrongSum,
        """
SELECT 'movement' AS table_name, back.id AS row_id, 'reverses another amount' AS what
FROM movement AS back JOIN movement AS own ON own.id = back.reverses_id
WHERE back.quantity <> -own.quantity OR back.cost_minor <> -own.cost_minor
OR back.consumable_id <> own.consumable_id
""",
    ),
    Query(
        WrongSum,
        """
SELECT 'lot' AS table_name, lot.id AS row_id,
       'price ' || lot.price_minor || ', its shares ' || SUM(unit.price_minor) AS what
FROM lot JOIN purchase ON purchase.lot_id = lot.id
JOIN unit ON unit.id = purchase.unit_id AND unit.removed = 0
WHERE lot.removed = 0 GROUP BY lot.id
HAVING COUNT(unit.price_minor) = COUNT(*) AND SUM(unit.price_minor) <> lot.price_minor
""",
    ),
    Query(
        WrongSum,
        """
SELECT 'unit' AS table_name, unit.id AS row_id, 'does not stand where its last move led' AS what
FROM unit JOIN stage_move AS last ON last.id = (
    SELECT MAX(id) FROM stage_move WHERE unit_id = unit.id AND removed = 0)
WHERE (last.to_stage_id, last.at_us) <> (unit.stage_id, unit.stage_since_us)
""",
    ),
    Query(
        WrongSum,
        """
SELECT 'stage_move' AS table_name, id AS row_id, 'does not begin where the one before it led' AS what FROM (
    SELECT id, from_stage_id, from_since_us, LAG(to_stage_id) OVER one_unit AS led_to,
        LAG(at_us) OVER one_unit AS led_us
    FROM stage_move WHERE removed = 0 WINDOW one_unit AS (PARTITION BY unit_id ORDER BY id))
WHERE (from_stage_id, from_since_us) <> (led_to, led_us)
""",
    ),
    Query(
        WrongSum,
        """
SELECT 'time_entry' AS table_name, id AS row_id, 'overlaps another of the same person' AS what FROM (
    SELECT id, started_us, MAX(COALESCE(stopped_us, started_us)) OVER (
        PARTITION BY person_id ORDER BY started_us, COALESCE(stopped_us, started_us), id
        ROWS BETWEEN UNBOUNDED PRECEDING AND 1 PRECEDING) AS before_us
    FROM time_entry WHERE attended = 1)
WHERE before_us > started_us
""",
    ),
)


def changes(connection: sqlite3.Connection, since_id: int) -> Iterator[NotedChange]:
    """Every change of a line after that one, row by row of each table, each from the oldest."""
    return _CHANGES.each(connection, since=since_id)


def of_another_shape(
    connection: sqlite3.Connection, since_id: int, shapes: Sequence[int]
) -> OtherShape | None:
    """The first line after that one of none of these shapes; None where there is none."""
    return _OF_ANOTHER_SHAPE.first(connection, since=since_id, shapes=json.dumps(shapes))


def rows(connection: sqlite3.Connection, table: str, ids: Sequence[int] | None) -> Iterator[dict[str, Any]]:
    """A table's rows by number: those of these numbers, or all for None."""
    text = "SELECT * FROM {table} {which} ORDER BY id".replace("{table}", table)
    if ids is None:
        return by_column(connection, text.replace("{which}", ""))
    which = "WHERE id IN (SELECT value FROM json_each(:ids))"
    return by_column(connection, text.replace("{which}", which), ids=json.dumps(ids))


def wrong_sums(connection: sqlite3.Connection) -> Iterator[WrongSum]:
    """Each row whose figures do not add up."""
    for query in SUMS:
        yield from query.each(connection)


def newest_line(connection: sqlite3.Connection) -> int:
    """The number of the journal's newest line; 0 for none."""
    return int(value(connection, _NEWEST))


def lines_since(connection: sqlite3.Connection, since_id: int) -> int:
    """How many lines came after that one."""
    return int(value(connection, _LINES, since=since_id))
