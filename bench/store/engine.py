"""Ways to the data file: plain reads, recorded writes, and whether another program wrote meanwhile."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, cast

from bench.errors import Conflict, FileLost
from bench.store.connecting import connect, tidy, watch
from bench.store.files import copy_from
from bench.store.marks import NEW_MARK, line_in, mark_in
from bench.store.readers import Readers
from bench.store.refusals import is_busy, unreadable, unwritable
from bench.store.same_file import SameFile
from bench.store.side_files import readable

if TYPE_CHECKING:
    from sqlalchemy.engine import Connection, Engine
    from sqlmodel import Session

if TYPE_CHECKING:
    from sqlmodel import Session


_CHANGES = "changes at the beginning"
PRAGMAS = (
    "PRAGMA journal_mode = WAL",
    "PRAGMA synchronous = FULL",
    "PRAGMA foreign_keys = ON",
    "PRAGMA busy_timeout = 5000",
)


class Store:
    """One open data file. Threads may share it: none reads or writes by the connection of another."""

    def __init__(self, path: Path, notices: tuple[str, ...] = ()) -> None:
        self.path = path
        self.notices = notices  # what was met and done when it was opened, a sentence each
        self._engine: Engine | None = None
        self._engine_lock = threading.Lock()
        self._watch_lock = threading.Lock()
        self._version = 0
        self._closed = False
        with ExitStack() as opened:
            self._reads_at = opened.enter_context(readable(path))
            self._readers = Readers(self._reads_at)
            self._watch = watch(self._reads_at)
            opened.callback(self._watch.close)
            self._same = SameFile(path)
            self._note()  # a connection takes hold of the side files with its first read
            self._opened = opened.pop_all()

    @contextmanager
    def read(self) -> Iterator[sqlite3.Connection]:
        """One snapshot over the plain driver; nothing can be written through it. FileLost as in `write`."""
        self.require_same_file()
        try:
            with self._readers.snapshot() as connection:
                yield connection
        except sqlite3.DatabaseError as error:
            raise unreadable(self.path, error) from error

    @contextmanager
    def write(self) -> Iterator[Session]:
        """One BEGIN IMMEDIATE transaction: committed when the block ends well, else rolled back whole.

        Raises FileLost, before or after, when the file is not the one that was opened any more.
        """
        from sqlalchemy.exc import DatabaseError, IntegrityError
        from sqlmodel import Session

        self.require_same_file()
        try:
            with Session(self.engine(), expire_on_commit=False) as session, session.begin():
                session.connection()  # waits for its turn here: what is read from now on is not yet old
                yield session
        except IntegrityError as error:
            raise Conflict(
                f"The data file's own rules refuse this ({error.orig}).",
                "Look at the unit or consumable again and repeat; nothing was changed.",
            ) from error
        except DatabaseError as error:
            raise unwritable(self.path, error.orig) from error
        self.require_same_file()
        self._note()

    def lost(self) -> str:
        """What became of the open file, in words to follow its path; empty while it is the same."""
        return self._same.difference()

    def require_same_file(self) -> None:
        """Pass, or raise FileLost where the path does not lead to the file that was opened any more."""
        lost = self.lost()
        if lost:
            raise FileLost(
                f"{self.path} {lost}.",
                "Nothing more is written. Save a copy of what is open, then leave and look for the file.",
            )

    def copy_open(self, target: Path) -> str:
        """Copy what the open handle still holds, name or no name; "ok", or what is wrong with it: then none.

        FileExistsError where `target` is there already; another OSError or sqlite3.DatabaseError.
        """
        self.lost()
        if self._same.written_over:
            return "the file itself was written over, and with it what was open"
        with self._watch_lock:
            return copy_from(self._watch, target, self._same.is_as_far)

    def engine(self) -> Engine:
        """The engine behind writes, made at the first one."""
        with self._engine_lock:
            if self._engine is None:
                self._engine = make_engine(self.path)
            return self._engine

    def data_version(self) -> int:
        """A number that changes when another connection has written to the file; the last one while busy."""
        before = self._version
        try:
            with self._watch_lock:
                self._version = int(self._watch.execute("PRAGMA data_version").fetchone()[0])
        except sqlite3.DatabaseError as error:
            if not is_busy(error):
                raise unreadable(self.path, error) from error
        if self._version != before and not self.lost():
            self._note()
        return self._version

    def _note(self) -> None:
        """Note how far the record has come as this program sees it; not while that cannot be known."""
        try:
            with self._watch_lock:
                if not self._closed:
                    self._same.remember(mark_in(self._watch), line_in(self._watch))
        except sqlite3.DatabaseError as error:
            if not is_busy(error):
                raise unreadable(self.path, error) from error

    def close(self) -> None:
        """Let go of the file. Its side file is carried over first, but never into another file."""
        same = not self.lost()
        self._readers.close()
        with self._engine_lock:
            if self._engine is not None:
                self._engine.dispose()
        with self._watch_lock:
            self._watch.close()
            self._closed = True
        if same:
            tidy(self._reads_at)
        self._opened.close()


def make_engine(path: Path, *, foreign_keys: bool = True) -> Engine:
    """An engine whose every transaction is BEGIN IMMEDIATE: a read that leads to a write never loses one.

    Whatever changes the file gives it a new mark; `foreign_keys` is False for migrations, which do it too.
    """
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
    def _begin(connection: Connection) -> None:
        connection.exec_driver_sql("BEGIN IMMEDIATE")
        connection.info[_CHANGES] = driver_of(connection).total_changes

    @event.listens_for(engine, "commit")
    def _mark(connection: Connection) -> None:
        driver = driver_of(connection)
        if foreign_keys and driver.total_changes != connection.info[_CHANGES]:
            driver.execute(NEW_MARK)

    return engine


def driver_of(connection: Connection) -> sqlite3.Connection:
    """The driver's own connection under an engine's."""
    return cast("sqlite3.Connection", connection.connection.dbapi_connection)


def plain_connection(session: Session) -> sqlite3.Connection:
    """The driver's own connection of a session's transaction, for the texts of the reading room."""
    return cast(sqlite3.Connection, session.connection().connection.dbapi_connection)
