"""The data file rewritten without what was erased: not in free pages, nor in the log beside it."""

from __future__ import annotations

import sqlite3
from pathlib import Path

from bench.store.connecting import connect

PATIENCE_SECONDS = 5.0


def scrub(path: Path) -> str:
    """Rewrite the file and empty its log; answers why that did not go through, or nothing when it did.

    An overwritten or deleted row leaves its bytes in pages moved earlier and in the log until then. What the
    disk itself keeps of blocks it gave free is beyond a program.
    """
    connection = connect(path, patience=PATIENCE_SECONDS)
    try:
        connection.execute("VACUUM")
        busy, _, _ = connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    except sqlite3.OperationalError as error:
        return str(error)
    finally:
        connection.close()
    return "another program is reading the file" if busy else ""
