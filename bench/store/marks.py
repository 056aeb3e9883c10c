"""Which file this is, and which of its states: an identity and marks kept in the file itself.

Each transaction that changes anything gives the file a new mark and notes the one before. So the chain of
marks in a side file says to which states of which file it can be added: to any other it would be ruin.
"""

from __future__ import annotations

import re
import sqlite3
import struct
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from bench.store.connecting import connect

BEFORE_ALL = "0" * 16  # the mark of a file older than marks
NEW_MARK = "UPDATE file_identity SET previous = mark, mark = lower(hex(randomblob(8)))"
# What was copied goes its own way from here on: no side file of its original is its own.
OWN_MARK = "UPDATE file_identity SET previous = '0000000000000000', mark = lower(hex(randomblob(8)))"

_ROW = re.compile(rb"bench-file:([0-9a-f]{32})([0-9a-f]{16})([0-9a-f]{16})")
_LONGEST_ROW = 160
# Source for the layout of a log and of a table's page: sqlite.org/fileformat2.html, sections 4.1 and 1.6.
_LOG_HEADER = struct.Struct(">8I")
_FRAME_HEADER = struct.Struct(">6I")
_LOG_MAGIC = (0x377F0682, 0x377F0683)
_ONE_ROW_LEAF = re.compile(rb"\x0d..\x00\x01", re.DOTALL)
_CELL_POINTER_AT = 8


@dataclass(frozen=True, slots=True)
class Mark:
    """One state of one file. `identity` is empty for a file older than marks."""

    identity: str
    mark: str
    previous: str


def mark_in(connection: sqlite3.Connection) -> Mark:
    """The mark that a connection sees."""
    if not connection.execute("SELECT 1 FROM sqlite_master WHERE name = 'file_identity'").fetchone():
        return Mark("", BEFORE_ALL, BEFORE_ALL)
    row = connection.execute("SELECT identity, mark, previous FROM file_identity").fetchone()
    return Mark(row[0].removeprefix("bench-file:"), row[1], row[2])


def line_in(connection: sqlite3.Connection) -> int:
    """The number of the journal's newest line that a connection sees; 0 for none."""
    return int(connection.execute("SELECT COALESCE(MAX(id), 0) FROM journal").fetchone()[0])


def line_without_log(path: Path) -> int:
    """The same in the one file, whatever lies beside it. sqlite3.DatabaseError where it cannot be read."""
    with closing(connect(path, "immutable=1")) as connection:
        return line_in(connection)


def mark_without_log(path: Path) -> Mark:
    """The mark in the one file, whatever lies beside it. sqlite3.DatabaseError where it cannot be read."""
    with closing(connect(path, "immutable=1")) as connection:
        return mark_in(connection)


def marks_in_log(log: Path) -> list[Mark]:
    """Every mark that a side file would add, in order; none where it is empty, or older than marks."""
    try:
        with log.open("rb") as file:
            header = file.read(_LOG_HEADER.size)
            if len(header) < _LOG_HEADER.size:
                return []
            magic, _, page_bytes, _, *salts, _, _ = _LOG_HEADER.unpack(header)
            if magic not in _LOG_MAGIC:
                return []
            found = []
            while len(frame := file.read(_FRAME_HEADER.size + page_bytes)) == _FRAME_HEADER.size + page_bytes:
                if list(_FRAME_HEADER.unpack_from(frame)[2:4]) != salts:
                    break  # left over from before the log was begun again
                found += _marks_on(frame[_FRAME_HEADER.size :])
            return found
    except FileNotFoundError:
        return []


def _marks_on(page: bytes) -> list[Mark]:
    if not _ONE_ROW_LEAF.match(page):
        return []
    at = int.from_bytes(page[_CELL_POINTER_AT : _CELL_POINTER_AT + 2], "big")
    row = _ROW.search(page, at, at + _LONGEST_ROW)
    return [Mark(*(part.decode() for part in row.groups()))] if row else []
