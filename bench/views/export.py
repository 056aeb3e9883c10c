"""Every row of every table, as plain values, for people who want their records in another form."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.amounts import Instant
from bench.views.binder import value
from bench.views.shop import facts

Value = int | float | str | None


@dataclass(frozen=True, slots=True)
class ExportTable:
    """One table: its name, its columns in the file's order, and its rows by number."""

    name: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Value, ...], ...]


@dataclass(frozen=True, slots=True)
class Export:
    """The whole file at one instant. `revision`: which shape the file has."""

    tables: tuple[ExportTable, ...]
    revision: str
    made_us: Instant
    zone: str


_TABLES = """
SELECT name FROM sqlite_schema
WHERE type = 'table' AND name NOT LIKE 'sqlite~_%' ESCAPE '~'
AND name NOT IN ('alembic_version', 'journal_row', 'access_word')
ORDER BY name
"""

_REVISION = "SELECT version_num FROM alembic_version"


def read_everything(desk: Desk) -> Export:
    """Every table with every row, removed ones and half-filled forms too, as the file keeps them."""
    made_us = desk.clock.now_us()
    with desk.store.read() as connection:
        tables = tuple(_table(connection, name) for name in table_names(connection))
        return Export(tables, value(connection, _REVISION), made_us, facts(connection).zone)


def table_names(connection: sqlite3.Connection) -> tuple[str, ...]:
    """The file's tables by name."""
    return tuple(name for (name,) in connection.execute(_TABLES))


def _table(connection: sqlite3.Connection, table: str) -> ExportTable:
    """A table's columns and its rows in the order they were made."""
    # A name cannot be bound as a value: it comes from the file's own list, and is quoted all the same.
    quoted = table.replace('"', '""')
    cursor = connection.execute('SELECT * FROM "{table}" ORDER BY rowid'.replace("{table}", quoted))
    columns = tuple(column[0] for column in cursor.description)
    return ExportTable(table, columns, tuple(tuple(row) for row in cursor))
