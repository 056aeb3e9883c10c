"""Files as earlier revisions wrote them, kept as SQL texts beside this, and what a file is made of."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from bench.store.files import made_whole

REVISIONS = Path(__file__).parent / "revisions"
# The last of the development, the first after it, and that one with faults, parts, orders and tests besides.
OLDER = ("0004", "0005", "0006")
BEFORE_COMPONENTS = OLDER[:2]  # parts had no identity yet
OLD = OLDER[0]  # a small shop: units that moved, came back, were undone and redone, stock, a running timer


def old_file(path: Path, revision: str = OLD) -> Path:
    """A data file of an earlier revision; answers its path."""
    with made_whole(path) as scratch, closing(sqlite3.connect(scratch, isolation_level=None)) as file:
        file.executescript((REVISIONS / f"{revision}.sql").read_text(encoding="utf-8"))
        file.execute("PRAGMA journal_mode = WAL")
    return path


def schema_of(path: Path) -> dict[str, str]:
    """The text of every table, index and trigger by name; SQLite's own left out."""
    with closing(sqlite3.connect(path)) as file:
        texts = file.execute("SELECT name, sql FROM sqlite_schema WHERE sql IS NOT NULL")
        return {name: text.strip() for name, text in texts if not name.startswith("sqlite_")}
