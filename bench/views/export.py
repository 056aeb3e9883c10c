"""Every row of every table, for people who want their records in another form."""

from __future__ import annotations

import sqlite3

_TABLES = """
SELECT name FROM sqlite_schema
WHERE type = 'table' AND name NOT LIKE 'sqlite~_%' ESCAPE '~'
AND name NOT IN ('alembic_version', 'journal_row')
ORDER BY name
"""

Rows = tuple[tuple[int | float | str | None, ...], ...]


def table_names(connection: sqlite3.Connection) -> tuple[str, ...]:
    """The file's tables by name."""
    return tuple(row["name"] for row in connection.execute(_TABLES))


def columns_and_rows(connection: sqlite3.Connection, table: str) -> tuple[tuple[str, ...], Rows]:
    """A table's columns and its rows in the order they were made."""
    # A name cannot be bound as a value: it comes from the file's own list, and is quoted all the same.
    quoted = table.replace('"', '""')
    cursor = connection.execute('SELECT * FROM "{table}" ORDER BY rowid'.replace("{table}", quoted))
    columns = tuple(column[0] for column in cursor.description)
    return columns, tuple(tuple(row) for row in cursor)


def revision(connection: sqlite3.Connection) -> str:
    """Which revision of the tables the file has."""
    return str(connection.execute("SELECT version_num FROM alembic_version").fetchone()[0])
