"""Make a data file or bring an older one up to date. Alembic is loaded only for the second."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import text
from sqlalchemy.engine import Connection, Engine
from sqlalchemy.exc import DatabaseError

from bench.domain.copies import BEFORE_UPGRADE
from bench.errors import StoreError
from bench.store.beside import locked_beside
from bench.store.copies import copies_folder, make_copy
from bench.store.engine import driver_of, make_engine
from bench.store.files import revision_of
from bench.store.marks import NEW_MARK, mark_in
from bench.store.refusals import unwritable
from bench.store.revision import APPLICATION_ID, HEAD
from bench.store.schema import make_schema

MIGRATIONS = Path(__file__).parent / "migrations"


def make_tables(path: Path) -> None:
    """Give the empty file at `path` every table of this version."""
    engine = make_engine(path, foreign_keys=False)
    try:
        with _said_plainly(path), engine.begin() as connection:
            connection.execute(text(f"PRAGMA application_id = {APPLICATION_ID}"))
            make_schema(connection)
        with _said_plainly(path):
            _carry_over(engine)
    finally:
        engine.dispose()


def upgrade(path: Path, *, migrations: Path = MIGRATIONS, to: str = HEAD) -> Path | None:
    """Copy the file, verify the copy, migrate in one transaction; answer the copy's path.

    None where another program has done it meanwhile: one at a time looks again and does it. Raises StoreError
    when the file cannot be written or a row would be left pointing nowhere: then nothing is changed.
    """
    try:
        with locked_beside(path):
            return None if revision_of(path) == to else _upgrade(path, migrations, to)
    except OSError as error:
        raise unwritable(path, error) from error


def _upgrade(path: Path, migrations: Path, to: str) -> Path:
    engine = make_engine(path, foreign_keys=False)
    try:
        with _said_plainly(path):
            _carry_over(engine)  # so that the log begins with this, or holds none of it
        copied = make_copy(path, BEFORE_UPGRADE, time.time_ns() // 1000)
        kept = copies_folder(path) / copied.name
        with _said_plainly(path), engine.begin() as connection:
            marked = bool(mark_in(driver_of(connection)).identity)
            _run(connection, migrations, to)
            if marked:  # else this gives the first one, which must follow on a file without
                connection.execute(text(NEW_MARK))
            broken = connection.execute(text("PRAGMA foreign_key_check")).first()
            if broken is not None:
                raise StoreError(
                    f"{path} could not be brought up to date: a row of {broken[0]} points nowhere.",
                    f"It was left as it is; a copy is at {kept}.",
                )
        with _said_plainly(path):
            _carry_over(engine)
    finally:
        engine.dispose()
    return kept


def _carry_over(engine: Engine) -> None:
    with engine.connect() as connection:
        raw = driver_of(connection)
        raw.rollback()
        raw.execute("PRAGMA wal_checkpoint(TRUNCATE)")


@contextmanager
def _said_plainly(path: Path) -> Iterator[None]:
    try:
        yield
    except DatabaseError as error:
        raise unwritable(path, error.orig) from error


def _run(connection: Connection, migrations: Path, to: str) -> None:
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(migrations).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    config.attributes["connection"] = connection
    command.upgrade(config, to)
