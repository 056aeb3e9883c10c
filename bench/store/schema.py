"""What a data file is made of: tables and indexes of the classes, triggers, the rows it begins with."""

from __future__ import annotations

from sqlalchemy import Column, MetaData, PrimaryKeyConstraint, String, Table, insert
from sqlalchemy.engine import Connection

from bench.store.first_rows import ROWS
from bench.store.revision import HEAD
from bench.store.tables import metadata
from bench.store.triggers import TRIGGERS

# As Alembic makes it, which is loaded only where a file is older.
REVISION = Table(
    "alembic_version",
    MetaData(),
    Column("version_num", String(32), nullable=False),
    PrimaryKeyConstraint("version_num", name="alembic_version_pkc"),
)


def make_schema(connection: Connection) -> None:
    """Make all of it in an empty file."""
    metadata.create_all(connection, checkfirst=False)
    REVISION.create(connection)
    connection.execute(insert(REVISION).values(version_num=HEAD))
    for statement in (*TRIGGERS, *ROWS):
        connection.exec_driver_sql(statement)
