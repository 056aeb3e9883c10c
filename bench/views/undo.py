"""SQL texts behind undo: lines of the journal that stand, and what was done later that stands on them.

A line that an undo took back stands no more; one that a redo brought back stands again: what counts is
whether an even number of lines, each of which undid the one before, follows it.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from bench.domain.amounts import Instant
from bench.views.binder import Query, value


@dataclass(frozen=True, slots=True)
class UndoOffer:
    """What undo, or redo where `again`, would do with a line; `refusal` says why it would not.

    `needs_reason`: what a reason is asked for; empty where none is.
    """

    journal_id: int
    at_us: Instant
    summary: str
    again: bool
    refusal: str
    needs_reason: str


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the journal. `changes`: a JSON list of what it changed. `takes_back_id`: what it undid."""

    journal_id: int
    at_us: Instant
    person_id: int
    person: str
    summary: str
    reason: str
    via: str
    unit_id: int | None
    changes: str
    takes_back_id: int | None
    shape: int


@dataclass(frozen=True, slots=True)
class Chain:
    """Of a line: `tip_id`, the last of undo and redo; `first_id`, what was done first; `steps` between."""

    tip_id: int
    first_id: int
    steps: int

    @property
    def undone(self) -> bool:
        """Whether what was done first is undone now."""
        return bool(self.steps % 2)


@dataclass(frozen=True, slots=True)
class Later:
    """A row, or in table journal a line, that stands on the line to be undone."""

    table_name: str
    row_id: int


@dataclass(frozen=True, slots=True)
class Place:
    """Where in the journal a line stands that is to be undone: its number, and that of what it did first."""

    line_id: int
    first_id: int

    def values(self) -> dict[str, int]:
        """As the texts name them."""
        return {"line": self.line_id, "first": self.first_id}


# A line that no later one took back, and that is not itself the undoing of another. What it does was done
# first after what `:first` did: the redoing of something earlier stands on nothing that came between.
LINE_STANDS = """NOT EXISTS (SELECT 1 FROM journal AS later WHERE later.takes_back_id = line.id) AND (
    WITH RECURSIVE back(id, steps) AS (
        SELECT line.id, 0 UNION ALL
        SELECT earlier.takes_back_id, steps + 1 FROM back JOIN journal AS earlier ON earlier.id = back.id
        WHERE earlier.takes_back_id IS NOT NULL
    ) SELECT MAX(steps) % 2 = 0 AND MIN(id) > :first FROM back)"""

# A row that a line after that one touched, one that stands.
TOUCHED_LATER = """EXISTS (
    SELECT 1 FROM journal_row AS row JOIN journal AS line ON line.id = row.journal_id
    WHERE row.table_name = '{table}' AND row.row_id = {row}.id AND row.journal_id > :line AND {stands}
)""".replace("{stands}", LINE_STANDS)

_LINE = Query(
    Line,
    """
SELECT line.id AS journal_id, line.at_us, line.person_id, person.name AS person, line.summary, line.reason,
       line.via, line.unit_id, line.changes, line.takes_back_id, line.shape
FROM journal AS line JOIN person ON person.id = line.person_id WHERE line.id = :id
""",
)

# The line at the end of a chain of undo and redo, how long the chain is, and the line it began with.
_CHAIN = Query(
    Chain,
    """
WITH RECURSIVE back(id, before_id, steps) AS (
    SELECT id, takes_back_id, 0 FROM journal WHERE id = :id UNION ALL
    SELECT line.id, line.takes_back_id, steps + 1 FROM back JOIN journal AS line ON line.id = before_id
), onward(id) AS (
    SELECT :id UNION ALL
    SELECT line.id FROM onward JOIN journal AS line ON line.takes_back_id = onward.id
)
SELECT (SELECT MAX(id) FROM onward) AS tip_id, (SELECT MIN(id) FROM back) AS first_id,
       (SELECT MAX(steps) FROM back) + (SELECT COUNT(*) - 1 FROM onward) AS steps
""",
)

# A line of one's own that changed something and that no other took back: there undo and redo go on.
_TIPS = """
SELECT line.id FROM journal AS line
WHERE line.person_id = :person_id AND line.via <> 'demo' AND line.id < :before AND line.changes <> '[]'
AND NOT EXISTS (SELECT 1 FROM journal AS later WHERE later.takes_back_id = line.id)
ORDER BY line.id DESC LIMIT :limit
"""

_LATER_LINE = """
SELECT line.id FROM journal_row JOIN journal AS line ON line.id = journal_row.journal_id
WHERE journal_row.table_name = :table_name AND journal_row.row_id = :row_id AND line.id > :line
ORDER BY {stands} DESC, line.id DESC LIMIT 1
""".replace("{stands}", LINE_STANDS)

_LINES_OF_PEOPLE = Query(
    Later,
    """
SELECT 'journal' AS table_name, line.id AS row_id FROM journal AS line
WHERE line.person_id IN (SELECT value FROM json_each(:ids)) AND line.id > :line AND {stands}
ORDER BY line.id DESC LIMIT 1
""".replace("{stands}", LINE_STANDS),
)

# Those rows of a table that name one of these rows.
_REFERRING = """
SELECT '{table}' AS table_name, referring.id AS row_id FROM {table} AS referring
WHERE referring.{column} IN (SELECT value FROM json_each(:ids)) {stands} AND {later}
ORDER BY referring.id DESC LIMIT 1
""".replace("{later}", TOUCHED_LATER.replace("{row}", "referring"))

REMOVED = "AND referring.removed = 0"
# A movement that was reversed, and what reversed it, stand for nothing any more.
REVERSED = """AND referring.kind <> 'reversal'
AND NOT EXISTS (SELECT 1 FROM movement AS back WHERE back.reverses_id = referring.id)"""

# A line that stands and set one of these columns of a row, even if another set it back since.
_SET_LATER = """
SELECT line.id AS row_id FROM journal_row AS row
JOIN journal AS line ON line.id = row.journal_id CROSS JOIN json_each(line.changes) AS change
WHERE row.table_name = :table_name AND row.row_id = :row_id AND row.journal_id > :line
AND json_extract(change.value, '$.table') = :table_name AND json_extract(change.value, '$.id') = :row_id
AND EXISTS (SELECT 1 FROM json_each(change.value, '$.after') AS now
            WHERE now.key IN (SELECT value FROM json_each(:columns)))
AND {stands} ORDER BY line.id DESC LIMIT 1
""".replace("{stands}", LINE_STANDS)

# Whether a row, as it will be, is one of those for which a place is theirs alone, and who has that place.
_IN_ITS_PLACE = """
WITH own AS (SELECT {values})
SELECT {table}.id FROM {table}
WHERE {same} AND {table}.id <> (SELECT id FROM own) AND ({where}) AND EXISTS (SELECT 1 FROM own WHERE {where})
"""

# With a collation of its own a number is not looked up in the index of its column.
_SAME = "{table}.{column} = (SELECT {column} FROM own)"
_SAME_WORDS = f"{_SAME} COLLATE NOCASE"


def line(connection: sqlite3.Connection, journal_id: int) -> Line | None:
    """One line; None where the journal has none of that number."""
    return _LINE.first(connection, id=journal_id)


def chain(connection: sqlite3.Connection, journal_id: int) -> Chain:
    """The chain of undo and redo in which a line stands."""
    return _CHAIN.the(connection, id=journal_id)


def tips(connection: sqlite3.Connection, person_id: int, *, before_id: int, limit: int) -> list[int]:
    """The newest lines of a person's own at which undo or redo can go on."""
    asked = {"person_id": person_id, "before": before_id, "limit": limit}
    return [tip_id for (tip_id,) in connection.execute(_TIPS, asked)]


def later_line(connection: sqlite3.Connection, table: str, row_id: int, place: Place) -> Line | None:
    """The newest line after that one that touched a row, before all one that still stands."""
    later = value(connection, _LATER_LINE, table_name=table, row_id=row_id, **place.values())
    return None if later is None else line(connection, later)


def lines_of_people(connection: sqlite3.Connection, ids: Iterable[int], place: Place) -> Later | None:
    """The newest line that one of these people wrote after that one."""
    return _LINES_OF_PEOPLE.first(connection, ids=json.dumps(list(ids)), **place.values())


def set_later(
    connection: sqlite3.Connection, table: str, row_id: int, columns: Iterable[str], place: Place
) -> int | None:
    """The newest line after that one that set one of these columns of a row and stands; None for none."""
    wanted = json.dumps(list(columns))
    asked = {"table_name": table, "row_id": row_id, "columns": wanted, **place.values()}
    line_id: int | None = value(connection, _SET_LATER, **asked)
    return line_id


def referring(
    connection: sqlite3.Connection, table: str, column: str, ids: Iterable[int], place: Place, stands: str
) -> Later | None:
    """The newest row of a table that names one of these in that column, and was touched after that line."""
    text = _REFERRING.replace("{table}", table).replace("{column}", column).replace("{stands}", stands)
    return Query(Later, text).first(connection, ids=json.dumps(list(ids)), **place.values())


def in_its_place(
    connection: sqlite3.Connection,
    table: str,
    columns: Sequence[str],
    where: str,
    will_be: Mapping[str, object],
) -> int | None:
    """The other row of a table that has in these columns what this one will have; None where nobody has."""
    text = _IN_ITS_PLACE.replace("{table}", table).replace("{where}", where)
    text = text.replace("{values}", ", ".join(f":{one} AS {one}" for one in will_be))
    same = [_SAME_WORDS if isinstance(will_be[one], str) else _SAME for one in columns]
    alike = [text.replace("{column}", one) for text, one in zip(same, columns, strict=True)]
    text = text.replace("{same}", " AND ".join(alike).replace("{table}", table))
    row_id: int | None = value(connection, text, **will_be)
    return row_id
