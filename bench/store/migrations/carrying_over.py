"""Every row of an older file into tables made anew; of the development's journal, each move into a row."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sqlalchemy import Column
from sqlalchemy.engine import Connection

from bench.store.migrations.identities import give_identities
from bench.store.tables import metadata
from bench.store.triggers import TRIGGERS
from bench.store.triggers.kept_counts import KEPT

# Whether a line's changes led a unit from one stage to another.
_MOVED = """json_extract(noted.value, '$.table') = 'unit'
AND json_extract(noted.value, '$.before.stage_id') <> json_extract(noted.value, '$.after.stage_id')"""
# What the old tables do not have: such a line is of a shape of its own.
_SHAPE = f"NOT EXISTS (SELECT 1 FROM json_each(changes) AS noted WHERE {_MOVED})"  # noqa: S608 - text of ours
# Each move of a part begins with an identity of its own number; `give_identities` makes them.
_IDENTITY = {("part", "component_id"): "id"}
_NEW_COLUMNS = {("journal", "shape"): _SHAPE} | _IDENTITY

# None moved two, so its number becomes the row's. It stands unless an odd number of lines follow it that each
# undid the one before.
_MOVES = f"""
INSERT INTO stage_move (id, unit_id, from_stage_id, from_since_us, to_stage_id, at_us, person_id, removed)
SELECT line.id, json_extract(noted.value, '$.id'), json_extract(noted.value, '$.before.stage_id'),
       json_extract(noted.value, '$.before.stage_since_us'), json_extract(noted.value, '$.after.stage_id'),
       json_extract(noted.value, '$.after.stage_since_us'), line.person_id, (
    WITH RECURSIVE onward(id) AS (
        SELECT later.id FROM journal AS later WHERE later.takes_back_id = line.id
        UNION ALL SELECT next.id FROM onward JOIN journal AS next ON next.takes_back_id = onward.id
    ) SELECT COUNT(*) % 2 FROM onward)
FROM journal AS line CROSS JOIN json_each(line.changes) AS noted
WHERE line.takes_back_id IS NULL AND {_MOVED} ORDER BY line.id
"""  # noqa: S608 - texts of ours
# The lines that tell of each: the one that made it, and those that undid and redid it.
_TOLD = """
INSERT INTO journal_row (table_name, row_id, journal_id)
WITH RECURSIVE told(row_id, journal_id) AS (
    SELECT id, id FROM stage_move UNION ALL
    SELECT told.row_id, later.id FROM told JOIN journal AS later ON later.takes_back_id = told.journal_id
) SELECT 'stage_move', row_id, journal_id FROM told
"""


def carry_over(connection: Connection) -> None:
    """A file of the development, with the moves of its journal as rows."""
    made_anew(connection, _NEW_COLUMNS)
    give_identities(connection)
    for statement in (_MOVES, _TOLD, *KEPT, *TRIGGERS):
        connection.exec_driver_sql(statement)


def carry_on(connection: Connection) -> None:
    """A file of this shape, into tables that know more."""
    made_anew(connection, _IDENTITY)
    give_identities(connection)
    for statement in (*KEPT, *TRIGGERS):
        connection.exec_driver_sql(statement)


def made_anew(connection: Connection, told: Mapping[tuple[str, str], str]) -> None:
    """Make the tables anew from their classes, with all rows and the numbers that were given.

    A column that a table did not have is told by `told`, or begins as in a row of today.
    """
    sql = connection.exec_driver_sql
    sql("PRAGMA legacy_alter_table = ON")  # a renamed table stays what others call by its first name
    known = sql("SELECT type, name FROM sqlite_schema WHERE sql IS NOT NULL").all()
    for kind, name in known:
        if kind in ("trigger", "index"):
            sql(f"DROP {kind} {name}")
    tables = [table for table in metadata.sorted_tables if ("table", table.name) in known]
    for table in tables:
        sql(f"ALTER TABLE {table.name} RENAME TO was_{table.name}")
    metadata.create_all(connection, checkfirst=False)
    for table in tables:
        had = {name for (name,) in sql(f"SELECT name FROM pragma_table_info('was_{table.name}')")}  # noqa: S608
        names = [column.name for column in table.columns]
        values = [
            column.name if column.name in had else told.get((table.name, column.name), _begins_as(column))
            for column in table.columns
        ]
        sql(f"INSERT INTO {table.name} ({', '.join(names)}) SELECT {', '.join(values)} FROM was_{table.name}")  # noqa: S608
        if table.dialect_options["sqlite"]["autoincrement"]:
            sql(f"DELETE FROM sqlite_sequence WHERE name = '{table.name}'")  # noqa: S608
            sql(f"UPDATE sqlite_sequence SET name = '{table.name}' WHERE name = 'was_{table.name}'")  # noqa: S608
        sql(f"DROP TABLE was_{table.name}")
    sql("PRAGMA legacy_alter_table = OFF")


def _begins_as(column: Column[Any]) -> str:
    value = getattr(column.default, "arg", None)
    if value is None:
        return "NULL"
    return str(value) if isinstance(value, int) else "'" + str(value).replace("'", "''") + "'"
