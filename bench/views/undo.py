"""SQL texts behind undo: lines of the journal that stand, and what was done later that stands on them.

A line that an undo took back stands no more; one that a redo brought back stands again: what counts is
whether an even number of lines, each of which undid the one before, follows it.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

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

_LINE = """
SELECT line.id AS journal_id, line.at_us, line.person_id, person.name AS person, line.summary, line.reason,
       line.via, line.unit_id, line.changes, line.takes_back_id, line.shape
FROM journal AS line JOIN person ON person.id = line.person_id WHERE line.id = :id
"""

# The line at the end of a chain of undo and redo, how long the chain is, and the line it began with.
_CHAIN = """
WITH RECURSIVE back(id, before_id, steps) AS (
    SELECT id, takes_back_id, 0 FROM journal WHERE id = :id UNION ALL
    SELECT line.id, line.takes_back_id, steps + 1 FROM back JOIN journal AS line ON line.id = before_id
), onward(id) AS (
    SELECT :id UNION ALL
    SELECT line.id FROM onward JOIN journal AS line ON line.takes_back_id = onward.id
)
SELECT (SELECT MAX(id) FROM onward) AS tip_id, (SELECT MIN(id) FROM back) AS first_id,
       (SELECT MAX(steps) FROM back) + (SELECT COUNT(*) - 1 FROM onward) AS steps
"""

# A line of one's own that changed something and that no other took back: there undo and redo go on.
_TIPS = """
SELECT line.id FROM journal AS line
WHERE line.person_id = :person_id AND line.via <> 'demo' AND line.id < :before AND line.changes <> '[]'
AND NOT EXISTS (SELECT 1 FROM journal AS later WHERE later.takes_back_id = line.id)
ORDER BY line.id DESC LIMIT :limit
"""

_LATER_LINE = """
SELECT line.id AS journal_id, line.summary, person.name AS person FROM journal_row
JOIN journal AS line ON line.id = journal_row.journal_id JOIN person ON person.id = line.person_id
WHERE journal_row.table_name = :table_name AND journal_row.row_id = :row_id AND line.id > :line
ORDER BY {stands} DESC, line.id DESC LIMIT 1
""".replace("{stands}", LINE_STANDS)

_LINES_OF_PEOPLE = """
SELECT 'journal' AS table_name, line.id AS row_id FROM journal AS line
WHERE line.person_id IN (SELECT value FROM json_each(:ids)) AND line.id > :line AND {stands}
ORDER BY line.id DESC LIMIT 1
""".replace("{stands}", LINE_STANDS)

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


@dataclass(frozen=True, slots=True)
class Place:
    """Where in the journal a line stands that is to be undone: its number, and that of what it did first."""

    line_id: int
    first_id: int

    def values(self) -> dict[str, int]:
        """As the texts name them."""
        return {"line": self.line_id, "first": self.first_id}


def line(connection: sqlite3.Connection, journal_id: int) -> sqlite3.Row | None:
    """One line; None where the journal has none of that number."""
    return first(connection, _LINE, {"id": journal_id})


def chain(connection: sqlite3.Connection, journal_id: int) -> sqlite3.Row:
    """Of a line: `tip_id`, the last of undo and redo; `first_id`, what was done first; `steps` between."""
    row = first(connection, _CHAIN, {"id": journal_id})
    assert row is not None
    return row


def tips(connection: sqlite3.Connection, person_id: int, *, before_id: int, limit: int) -> list[int]:
    """The newest lines of a person's own at which undo or redo can go on."""
    values = {"person_id": person_id, "before": before_id, "limit": limit}
    return [row[0] for row in connection.execute(_TIPS, values)]


def later_line(connection: sqlite3.Connection, table: str, row_id: int, line: Place) -> sqlite3.Row | None:
    """The newest line after that one that touched a row, before all one that still stands."""
    return first(connection, _LATER_LINE, {"table_name": table, "row_id": row_id, **line.values()})


def lines_of_people(connection: sqlite3.Connection, ids: Iterable[int], line: Place) -> sqlite3.Row | None:
    """The newest line that one of these people wrote after that one."""
    return first(connection, _LINES_OF_PEOPLE, {"ids": json.dumps(list(ids)), **line.values()})


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


def set_later(
    connection: sqlite3.Connection, table: str, row_id: int, columns: Iterable[str], line: Place
) -> int | None:
    """The newest line after that one that set one of these columns of a row and stands; None for none."""
    values = {"table_name": table, "row_id": row_id, "columns": json.dumps(list(columns)), **line.values()}
    row = first(connection, _SET_LATER, values)
    return None if row is None else int(row["row_id"])


def referring(
    connection: sqlite3.Connection, table: str, column: str, ids: Iterable[int], line: Place, stands: str
) -> sqlite3.Row | None:
    """The newest row of a table that names one of these in that column, and was touched after that line."""
    text = _REFERRING.replace("{table}", table).replace("{column}", column).replace("{stands}", stands)
    return first(connection, text, {"ids": json.dumps(list(ids)), **line.values()})


# Whether a row, as it will be, is one of those for which a place is theirs alone, and who has that place.
_IN_ITS_PLACE = """
WITH own AS (SELECT {values})
SELECT {table}.id FROM {table}
WHERE {same} AND {table}.id <> (SELECT id FROM own) AND ({where}) AND EXISTS (SELECT 1 FROM own WHERE {where})
"""

_SAME = "{table}.{column} = (SELECT {column} FROM own) COLLATE NOCASE"


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
    same = _SAME.replace("{table}", table)
    text = text.replace("{same}", " AND ".join(same.replace("{column}", one) for one in columns))
    row = first(connection, text, will_be)
    return None if row is None else int(row["id"])


def first(connection: sqlite3.Connection, text: str, values: Mapping[str, object]) -> sqlite3.Row | None:
    """The first row that a text finds, by name of column on whichever connection."""
    cursor = connection.cursor()
    cursor.row_factory = sqlite3.Row
    row: sqlite3.Row | None = cursor.execute(text, dict(values)).fetchone()
    return row
