"""Ways to the data file: plain reads, recorded writes, and whether another program wrote meanwhile."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from bench.errors import Conflict
from bench.store.connecting import connect, readable, tidy, watch
from bench.store.files import connection_to
from bench.store.refusals import is_busy, unreadable, unwritable

if TYPE_CHECKING:
    from sqlalchemy.engine import Engine
    from sqlmodel import Session

PRAGMAS = (
    "PRAGMA journal_mode = WAL",
    "PRAGMA synchronous = FULL",
    "PRAGMA foreign_keys = ON",
    "PRAGMA busy_timeout = 5000",
)


class Store:
    """One open data file. Threads may share it: each read and each write has a connection of its own."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._engine: Engine | None = None
        self._engine_lock = threading.Lock()
        self._watch_lock = threading.Lock()
        self._version = 0
        with ExitStack() as opened:
            self._reads_at = opened.enter_context(readable(path))
            self._watch = watch(self._reads_at)
            self._opened = opened.pop_all()

    @contextmanager
    def read(self) -> Iterator[sqlite3.Connection]:
        """One snapshot over the plain driver; nothing can be written through it."""
        try:
            with connection_to(self._reads_at) as connection:
                yield connection
        except sqlite3.DatabaseError as error:
            raise unreadable(self.path, error) from error

    @contextmanager
    def write(self) -> Iterator[Session]:
        """One BEGIN IMMEDIATE transaction: committed when the block ends well, else rolled back whole."""
        from sqlalchemy.exc import DatabaseError, IntegrityError
        from sqlmodel import Session

        try:
            with Session(self.engine(), expire_on_commit=False) as session, session.begin():
                yield session
        except IntegrityError as error:
            raise Conflict(
                f"The data file's own rules refuse this ({error.orig}).",
                "Look at the unit or consumable again and repeat; nothing was changed.",
            ) from error
        except DatabaseError as error:
            raise unwritable(self.path, error.orig) from error

    def engine(self) -> Engine:
        """The engine behind writes, made at the first one."""
        with self._engine_lock:
            if self._engine is None:
                self._engine = make_engine(self.path)
            return self._engine

    def data_version(self) -> int:
        """A number that changes when another connection has written to the file; the last one while busy."""
        try:
            with self._watch_lock:
                self._version = int(self._watch.execute("PRAGMA data_version").fetchone()[0])
        except sqlite3.DatabaseError as error:
            if not is_busy(error):
                raise unreadable(self.path, error) from error
        return self._version

    def close(self) -> None:
        """Let go of the file."""
        with self._watch_lock:
            self._watch.close()
        if self._engine is not None:
            self._engine.dispose()
        tidy(self._reads_at)
        self._opened.close()


def make_engine(path: Path, *, foreign_keys: bool = True) -> Engine:
    """An engine whose every transaction is BEGIN IMMEDIATE: a read that leads to a write never loses one."""
    from sqlalchemy import create_engine, event
    from sqlalchemy.pool import QueuePool

    engine = create_engine("sqlite://", creator=lambda: connect(path), poolclass=QueuePool)

    @event.listens_for(engine, "connect")
    def _prepare(connection: sqlite3.Connection, _record: object) -> None:
        for pragma in PRAGMAS:
            connection.execute(pragma)
        if not foreign_keys:
            connection.execute("PRAGMA foreign_keys = OFF")

    @event.listens_for(engine, "begin")
    def _begin(connection: object) -> None:
        connection.exec_driver_sql("BEGIN IMMEDIATE")  # type: ignore[attr-defined]

    return engine
