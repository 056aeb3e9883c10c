"""Connections that only read, kept open from one read to the next: each new one parses every table again."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from bench.store.connecting import connect_reading, may_write_beside

MOST_IDLE = 4  # connections kept for the next reads; several threads may read at once


def reading_connection(path: Path) -> sqlite3.Connection:
    """A plain connection that only reads, with rows by name."""
    connection = connect_reading(path)
    connection.row_factory = sqlite3.Row
    connection.execute("PRAGMA query_only = ON")
    return connection


class Readers:
    """The connections by which one open file is read. Any thread may ask; none shares one with another."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._idle: list[sqlite3.Connection] = []
        self._lock = threading.Lock()
        self._closed = False

    @contextmanager
    def snapshot(self) -> Iterator[sqlite3.Connection]:
        """A connection inside one snapshot, of what is in the file at its first statement."""
        connection = self._take()
        sound = True
        try:
            connection.execute("BEGIN")
            yield connection
        except sqlite3.Error:
            sound = False
            raise
        finally:
            self._give_back(connection, sound=sound)

    def close(self) -> None:
        """Close those that nobody reads by; the others follow as soon as they are given back."""
        with self._lock:
            self._closed = True
            idle, self._idle = self._idle, []
        for connection in idle:
            connection.close()

    def _take(self) -> sqlite3.Connection:
        with self._lock:
            if self._idle:
                return self._idle.pop()
        return reading_connection(self._path)

    def _give_back(self, connection: sqlite3.Connection, *, sound: bool) -> None:
        # Where no side file can be made, a connection takes the file for one that never changes.
        if sound and may_write_beside(self._path):
            if connection.in_transaction:
                connection.execute("ROLLBACK")
            with self._lock:
                if not self._closed and len(self._idle) < MOST_IDLE:
                    self._idle.append(connection)
                    return
        connection.close()
