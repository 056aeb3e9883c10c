"""SQL texts behind the week: hours clipped to spans of time, finished tasks, and the entries themselves.

What reaches into a span is found without looking through all entries before it: it starts in the span or up
to a day earlier (a range of the index on started_us), or it is longer than a day (a small index of just
those), or it still runs (another small index). The three have nothing in common.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence

from bench.views.entries import ENTRY_LINE

Span = tuple[int, int]

# A day is written out: an index over some rows is used only where the text names its condition.
# Of the running and the long ones the index is named: left alone, SQLite seeks among all that started before.
PARTS = """
WITH span(number, lo, hi) AS (VALUES {spans}),
part(number, task_id, person_id, attended, us) AS (
    SELECT span.number, entry.task_id, entry.person_id, entry.attended,
           MIN(COALESCE(entry.stopped_us, :now), span.hi) - MAX(entry.started_us, span.lo)
    FROM span CROSS JOIN time_entry AS entry
    WHERE entry.started_us >= span.lo - 86400000000 AND entry.started_us < span.hi
    AND COALESCE(entry.stopped_us, :now) > MAX(entry.started_us, span.lo)
    UNION ALL
    SELECT span.number, entry.task_id, entry.person_id, entry.attended,
           MIN(entry.stopped_us, span.hi) - span.lo
    FROM span CROSS JOIN time_entry AS entry INDEXED BY ix_time_entry_long
    WHERE entry.stopped_us - entry.started_us > 86400000000
    AND entry.stopped_us > span.lo AND entry.started_us < span.lo - 86400000000
    UNION ALL
    SELECT span.number, entry.task_id, entry.person_id, entry.attended, MIN(:now, span.hi) - span.lo
    FROM span CROSS JOIN time_entry AS entry INDEXED BY ix_time_entry_open
    WHERE entry.stopped_us IS NULL AND :now > span.lo AND entry.started_us < span.lo - 86400000000
)
"""

_TOTALS = """
{parts}
SELECT number, attended, SUM(us) AS us FROM part GROUP BY number, attended
""".replace("{parts}", PARTS)

_BY_PERSON = """
{parts}
SELECT number, person_id, attended, SUM(us) AS us FROM part GROUP BY number, person_id, attended
""".replace("{parts}", PARTS)

_CELLS = """
{parts}
SELECT part.number, part.attended, task.stage_id, part.person_id, task.name AS task, SUM(part.us) AS us
FROM part JOIN task ON task.id = part.task_id
GROUP BY part.number, part.attended, task.stage_id, part.person_id, task.name
""".replace("{parts}", PARTS)

_ENTRIES = """
{entry_line}
WHERE entry.id IN (
    SELECT id FROM time_entry WHERE started_us >= :lo AND started_us < :hi
    UNION ALL
    SELECT id FROM time_entry WHERE started_us >= :lo - 86400000000 AND started_us < :lo
    AND COALESCE(stopped_us, :now) > :lo
    UNION ALL
    SELECT id FROM time_entry INDEXED BY ix_time_entry_long WHERE stopped_us - started_us > 86400000000
    AND stopped_us > :lo AND started_us < :lo - 86400000000
    UNION ALL
    SELECT id FROM time_entry INDEXED BY ix_time_entry_open
    WHERE stopped_us IS NULL AND :now > :lo AND started_us < :lo - 86400000000
)
ORDER BY entry.started_us, entry.id
""".replace("{entry_line}", ENTRY_LINE)

_FINISHED = """
SELECT task.name AS task, task.estimate_minutes, route_task.id AS route_task_id,
       route_task.estimate_minutes AS route_minutes,
       (SELECT SUM(entry.stopped_us - entry.started_us) FROM time_entry AS entry
        WHERE entry.task_id = task.id AND entry.stopped_us IS NOT NULL) AS spent_us
FROM task
LEFT JOIN route_task ON route_task.id = task.route_task_id AND route_task.removed = 0
AND route_task.route_id IN (SELECT id FROM route WHERE removed = 0)
WHERE task.ended_us >= :lo AND task.ended_us < :hi AND task.state = 'done' AND task.removed = 0
ORDER BY task.ended_us, task.id
"""


def totals(connection: sqlite3.Connection, spans: Sequence[Span], now_us: int) -> dict[tuple[int, bool], int]:
    """Microseconds worked within each span, by its place in `spans` and attended or not."""
    rows = connection.execute(spans_in(_TOTALS, spans), {"now": now_us})
    return {(row["number"], bool(row["attended"])): row["us"] for row in rows}


def by_person(connection: sqlite3.Connection, spans: Sequence[Span], now_us: int) -> list[sqlite3.Row]:
    """Microseconds worked within each span, by its place in `spans`, by person, and attended or not."""
    return connection.execute(spans_in(_BY_PERSON, spans), {"now": now_us}).fetchall()


def cells(connection: sqlite3.Connection, spans: Sequence[Span], now_us: int) -> list[sqlite3.Row]:
    """The same, by stage, person and task name besides: sums in any direction come from these."""
    return connection.execute(spans_in(_CELLS, spans), {"now": now_us}).fetchall()


def entries(connection: sqlite3.Connection, span: Span, now_us: int) -> list[sqlite3.Row]:
    """Every entry that touches the span, by start; one without length counts where it starts."""
    return connection.execute(_ENTRIES, {"lo": span[0], "hi": span[1], "now": now_us}).fetchall()


def finished(connection: sqlite3.Connection, span: Span) -> list[sqlite3.Row]:
    """Tasks done within the span, earliest first, each with its time and its route's estimate."""
    return connection.execute(_FINISHED, {"lo": span[0], "hi": span[1]}).fetchall()


def stage_names(connection: sqlite3.Connection) -> dict[int, str]:
    """Every stage in order, removed ones too: their hours stay theirs."""
    rows = connection.execute("SELECT id, name FROM stage ORDER BY position, id")
    return {row["id"]: row["name"] for row in rows}


def person_names(connection: sqlite3.Connection) -> dict[int, str]:
    """Every person by name, removed ones too."""
    rows = connection.execute("SELECT id, name FROM person ORDER BY name, id")
    return {row["id"]: row["name"] for row in rows}


def spans_in(text: str, spans: Sequence[Span]) -> str:
    """A text over PARTS with the spans written into it: whole numbers only."""
    values = ", ".join(f"({number}, {int(lo)}, {int(hi)})" for number, (lo, hi) in enumerate(spans))
    return text.replace("{spans}", values)
