"""The journal as a table, and as a narrow one."""

from __future__ import annotations

from bench.views.columns import Column, Table
from bench.views.journal import JournalLine
from bench.views.kinds import INSTANT


def summary_words(line: JournalLine) -> str:
    """What was done; ↶ where it undid something, and whether it is undone."""
    mark = "↶ " if line.undoes is not None else ""
    return f"{mark}{line.summary}{' (undone)' if line.undone else ''}"


def _with_reason(line: JournalLine) -> str:
    words = summary_words(line)
    return f"{words}: {line.reason}" if line.reason else words


def _look(line: JournalLine) -> str:
    return "muted" if line.undone else ""


JOURNAL = Table[JournalLine](
    "journal",
    "Journal",
    (
        Column("When", "at_us", INSTANT, look="muted"),
        Column("Who", "person", width=10, from_width=64),
        Column("What", summary_words, width=24, grow=3, look=_look),
        Column("Why", "reason", width=12, grow=1, from_width=90, look="muted"),
    ),
    key="journal_id",
    empty="Nothing yet.",
)
NARROW_JOURNAL = Table[JournalLine](
    "journal",
    "Journal",
    (
        Column("When", "at_us", INSTANT, look="muted"),
        Column("What", _with_reason, width=20, grow=1, look=_look),
    ),
    key="journal_id",
)
