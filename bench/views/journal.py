"""The journal: who did what when, newest first, a page at a time; and the line booked with a script's key."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.amounts import Instant
from bench.errors import BadInput, NotFound
from bench.views.binder import Query, value
from bench.views.shop import facts

MOST_LINES = 10_000
_NEWEST = 2**63 - 1


@dataclass(frozen=True, slots=True)
class JournalLine:
    """One change. `undone`: a later line undid it; `undoes`: the line that it undid or redid."""

    journal_id: int
    at_us: Instant
    person: str
    action: str
    summary: str
    reason: str
    via: str
    unit_id: int | None
    tag: str
    undone: bool
    undoes: int | None
    changes: str


@dataclass(frozen=True, slots=True)
class BookedLine:
    """The line that a script's key was used for. `undone`: it was taken back and not done again since."""

    journal_id: int
    at_us: Instant
    person: str
    summary: str
    tag: str
    undone: bool


@dataclass(frozen=True, slots=True)
class JournalPage:
    """Lines newest first; `more` says that older ones exist. `currency`: of the amounts in their changes."""

    lines: tuple[JournalLine, ...]
    zone: str
    currency: str
    more: bool


# A line stands again where an undoing of it was itself undone, by a redo.
_LINES = """
SELECT line.id AS journal_id, line.at_us, person.name AS person, line.action, line.summary, line.reason,
       line.via, line.unit_id, COALESCE(unit.tag, '') AS tag,
       (WITH RECURSIVE onward(id) AS (
            SELECT later.id FROM journal AS later WHERE later.takes_back_id = line.id
            UNION ALL SELECT next.id FROM onward JOIN journal AS next ON next.takes_back_id = onward.id
        ) SELECT COUNT(*) FROM onward) % 2 AS undone,
       line.takes_back_id AS undoes, line.changes
FROM journal AS line JOIN person ON person.id = line.person_id LEFT JOIN unit ON unit.id = line.unit_id
WHERE line.id < :before {of_unit} ORDER BY line.id DESC LIMIT :limit
"""
_ALL = Query(JournalLine, _LINES.replace("{of_unit}", ""))
# A line about several units names none: it is of each whose row it touched.
_OF_ONE_OR_SEVERAL = """AND line.id IN (
    SELECT own.id FROM journal AS own WHERE own.unit_id = :unit_id UNION
    SELECT own.id FROM journal_row AS touched CROSS JOIN journal AS own ON own.id = touched.journal_id
    WHERE touched.table_name = 'unit' AND touched.row_id = :unit_id AND own.unit_id IS NULL
)"""
_OF_UNIT = Query(JournalLine, _LINES.replace("{of_unit}", _OF_ONE_OR_SEVERAL))

# A line is undone by a later one that takes it back, unless that one was taken back in its turn.
_BOOKED = Query(
    BookedLine,
    """
WITH RECURSIVE turn (line_id, undone) AS (
    SELECT journal_id, 0 FROM booking_key WHERE key = :key
    UNION ALL
    SELECT later.id, 1 - turn.undone FROM turn JOIN journal AS later ON later.takes_back_id = turn.line_id
)
SELECT line.id AS journal_id, line.at_us, person.name AS person, line.summary,
       COALESCE(unit.tag, '') AS tag, (SELECT undone FROM turn ORDER BY line_id DESC LIMIT 1) AS undone
FROM booking_key AS booked JOIN journal AS line ON line.id = booked.journal_id
JOIN person ON person.id = line.person_id LEFT JOIN unit ON unit.id = line.unit_id
WHERE booked.key = :key
""",
)

_ASKED = "SELECT asked FROM booking_key WHERE key = :key"

# Removed ones too: a unit's journal stays readable.
_UNIT_EVER = "SELECT 1 FROM unit WHERE id = :unit_id"


def read_journal(
    desk: Desk, *, before_id: int | None = None, unit_id: int | None = None, limit: int = 200
) -> JournalPage:
    """A page of the journal: lines older than `before_id`, of one unit or of all.

    The next page begins before the last line's number. NotFound for a unit that never was.
    """
    if not 1 <= limit <= MOST_LINES:
        raise BadInput(f"A page of {limit} lines cannot be read.", f"Ask for 1 to {MOST_LINES}.")
    before = _NEWEST if before_id is None else before_id
    with desk.store.read() as connection:
        shop = facts(connection)
        if unit_id is None:
            lines = _ALL.all(connection, before=before, limit=limit + 1)
        elif value(connection, _UNIT_EVER, unit_id=unit_id):
            lines = _OF_UNIT.all(connection, before=before, unit_id=unit_id, limit=limit + 1)
        else:
            raise NotFound(f"There is no unit with number {unit_id}.", "Look it up again.")
    return JournalPage(lines[:limit], shop.zone, shop.currency, more=len(lines) > limit)


def asked_with(connection: sqlite3.Connection, key: str) -> str | None:
    """The fingerprint of the command that was booked with a script's key; None: no such key."""
    asked: str | None = value(connection, _ASKED, key=key)
    return asked


def booked_with(connection: sqlite3.Connection, key: str) -> BookedLine:
    """The line that was booked with a script's key that there is."""
    return _BOOKED.the(connection, key=key)
