"""Make a data file or bring an older one up to date. Imports Alembic: only called when there is need."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from alembic import command
from alembic.config import Config
from sqlalchemy import text
from sqlalchemy.engine import Connection
from sqlalchemy.exc import DatabaseError

from bench.errors import StoreError
from bench.store.engine import make_engine
from bench.store.files import backup
from bench.store.refusals import unwritable
from bench.store.revision import APPLICATION_ID, HEAD

MIGRATIONS = Path(__file__).parent / "migrations"


def make_tables(path: Path, *, to: str = HEAD) -> None:
    """Give the empty file at `path` every table of a revision, by default this version's."""
    engine = make_engine(path, foreign_keys=False)
    try:
        with _said_plainly(path), engine.begin() as connection:
            connection.execute(text(f"PRAGMA application_id = {APPLICATION_ID}"))
            _run(connection, MIGRATIONS, to)
        with _said_plainly(path), engine.connect() as connection:
            raw = connection.connection.dbapi_connection
            assert raw is not None
            raw.rollback()
            raw.cursor().execute("PRAGMA wal_checkpoint(TRUNCATE)")
    finally:
        engine.dispose()


def upgrade(path: Path, *, migrations: Path = MIGRATIONS, to: str = HEAD) -> Path:
    """Back the file up, verify the backup, migrate in one transaction; answer the backup's path.

    Raises StoreError when the file cannot be written or a row would be left pointing nowhere: then nothing
    is changed.
    """
    kept = backup(path, f"before-{to}")
    engine = make_engine(path, foreign_keys=False)
    try:
        with _said_plainly(path), engine.begin() as connection:
            _run(connection, migrations, to)
            broken = connection.execute(text("PRAGMA foreign_key_check")).first()
            if broken is not None:
                raise StoreError(
                    f"{path} could not be brought up to date: a row of {broken[0]} points nowhere.",
                    f"It was left as it is; a backup is at {kept}.",
                )
    finally:
        engine.dispose()
    return kept


@contextmanager
def _said_plainly(path: Path) -> Iterator[None]:
    try:
        yield
    except DatabaseError as error:
        raise unwritable(path, error.orig) from error


def _run(connection: Connection, migrations: Path, to: str) -> None:
    config = Config()
    config.set_main_option("script_location", str(migrations).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    config.attributes["connection"] = connection
    command.upgrade(config, to)
