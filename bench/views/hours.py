"""Hours worked, clipped to spans of time such as days. Light: the first paint reads it.

What reaches into a span is found without looking through all entries before it: it starts in the span or up
to a day earlier (a range of the index on started_us), or it is longer than a day (a small index of just
those), or it still runs (another small index). The three have nothing in common.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from bench.domain.amounts import Length
from bench.views.binder import Query

Span = tuple[int, int]


@dataclass(frozen=True, slots=True)
class DayHours:
    """A day's hours in microseconds, hands-on and machine time apart."""

    day: date
    hands_on_us: Length
    machine_us: Length


@dataclass(frozen=True, slots=True)
class Worked:
    """Microseconds worked by someone, hands-on or not, within one of the spans asked for, by its number."""

    number: int
    person_id: int
    attended: bool
    us: int


@dataclass(frozen=True, slots=True)
class WorkedOn:
    """The same, by stage and task name besides: sums in any direction come from these."""

    number: int
    attended: bool
    stage_id: int
    person_id: int
    task: str
    us: int


# A day is written out: an index over some rows is used only where the text names its condition.
# Of the running and the long ones the index is named: left alone, SQLite seeks among all that started before.
PARTS = """
WITH span(number, lo, hi) AS MATERIALIZED (
    SELECT key, json_extract(value, '$[0]'), json_extract(value, '$[1]') FROM json_each(:spans)
),
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

_BY_PERSON = Query(
    Worked,
    """
{parts}
SELECT number, person_id, attended, SUM(us) AS us FROM part GROUP BY number, person_id, attended
""".replace("{parts}", PARTS),
)

_BY_TASK = Query(
    WorkedOn,
    """
{parts}
SELECT part.number, part.attended, task.stage_id, part.person_id, task.name AS task, SUM(part.us) AS us
FROM part JOIN task ON task.id = part.task_id
GROUP BY part.number, part.attended, task.stage_id, part.person_id, task.name
""".replace("{parts}", PARTS),
)


def by_person(connection: sqlite3.Connection, spans: Sequence[Span], now_us: int) -> tuple[Worked, ...]:
    """Microseconds worked within each span, by person, and hands-on or not."""
    return _BY_PERSON.all(connection, spans=in_text(spans), now=now_us)


def by_task(connection: sqlite3.Connection, spans: Sequence[Span], now_us: int) -> tuple[WorkedOn, ...]:
    """Microseconds worked within each span, by stage, person and task name."""
    return _BY_TASK.all(connection, spans=in_text(spans), now=now_us)


def in_text(spans: Sequence[Span]) -> str:
    """The spans as a text over PARTS asks for them, under the name `spans`."""
    return json.dumps(spans)
