"""The moves of units as the journal tells them, against their rows."""

from __future__ import annotations

from bench.desk import Desk

# What the forecast itself read before moves were rows: each line that moved a unit and stands.
TOLD = """
SELECT json_extract(noted.value, '$.id'), json_extract(noted.value, '$.before.stage_id'),
       json_extract(noted.value, '$.before.stage_since_us'), json_extract(noted.value, '$.after.stage_id'),
       json_extract(noted.value, '$.after.stage_since_us'), line.person_id, line.id
FROM journal AS line CROSS JOIN json_each(line.changes) AS noted
WHERE line.takes_back_id IS NULL AND (WITH RECURSIVE onward(id) AS (
    SELECT later.id FROM journal AS later WHERE later.takes_back_id = line.id
    UNION ALL SELECT next.id FROM onward JOIN journal AS next ON next.takes_back_id = onward.id
) SELECT COUNT(*) FROM onward) % 2 = 0
AND json_extract(noted.value, '$.table') = 'unit'
AND json_extract(noted.value, '$.before.stage_id') IS NOT NULL
AND json_extract(noted.value, '$.after.stage_id') IS NOT NULL
ORDER BY line.id
"""
_ROWS = """
SELECT unit_id, from_stage_id, from_since_us, to_stage_id, at_us, person_id, (
    SELECT MIN(journal_id) FROM journal_row WHERE table_name = 'stage_move' AND row_id = stage_move.id)
FROM stage_move WHERE removed = 0
"""


def asked(desk: Desk, text: str) -> list[tuple[int, ...]]:
    """The rows that a text answers."""
    with desk.store.read() as connection:
        return [tuple(row) for row in connection.execute(text)]


def rows_are_what_the_journal_tells(desk: Desk) -> int:
    """See that they are; answers how many moves stand."""
    told = asked(desk, TOLD)
    assert sorted(asked(desk, _ROWS)) == sorted(told)
    return len(told)
