"""How a data file is reached: by an address that never makes one, also where nothing may be written."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing, suppress
from pathlib import Path

from bench.domain.margin_tax import tax_after_refund_minor

PATIENCE_SECONDS = 5.0


def address(path: Path, *options: str) -> str:
    """The URI of a file that is there: every byte of its name is taken as it is, %20 and ? included."""
    return f"{path.absolute().as_uri()}?{'&'.join(options)}"


def connect(path: Path, *options: str, patience: float = PATIENCE_SECONDS) -> sqlite3.Connection:
    """A connection without transactions of its own, for any thread; `options` as in sqlite.org/uri.html.

    Without options it reads and writes. It never makes a file. Its SQL knows the domain's `tax_after_refund`.
    """
    connection = sqlite3.connect(
        address(path, *(options or ("mode=rw",))),
        uri=True,
        isolation_level=None,
        timeout=patience,
        check_same_thread=False,
    )
    connection.create_function("tax_after_refund", 4, tax_after_refund_minor, deterministic=True)
    return connection


def connect_reading(path: Path, mode: str = "mode=rw") -> sqlite3.Connection:
    """A connection to read by, also where the folder may not be written and no side file can be made."""
    return connect(path, mode if may_write_beside(path) else "immutable=1")


def watch(path: Path) -> sqlite3.Connection:
    """A connection that never waits and, closed after all others, never carries a side file over.

    It is asked twice a second by whoever draws the screen. It holds the file open, whatever becomes of its
    name: what was read and written through this program can still be copied from it.
    """
    connection = connect_reading(path, "mode=ro")
    connection.execute("PRAGMA busy_timeout = 0")
    return connection


def tidy(path: Path) -> None:
    """Carry the side file over into the file and remove it, unless another program is using them."""
    with suppress(sqlite3.Error), closing(connect(path, patience=0.0)) as connection:
        connection.execute("PRAGMA schema_version")  # takes hold of the file, and reads no table's text


def side_file(path: Path, ending: str) -> Path:
    """One of the files that SQLite keeps beside a data file: -wal, -shm or -journal."""
    return path.with_name(f"{path.name}{ending}")


def may_write_beside(path: Path) -> bool:
    """Whether files can be made in the folder of `path`."""
    return os.access(path.parent, os.W_OK | os.X_OK)


def has_content(path: Path) -> bool:
    """Whether the file is there and not empty."""
    try:
        return path.stat().st_size > 0
    except OSError:
        return False
