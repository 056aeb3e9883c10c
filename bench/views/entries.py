"""Time entries as lines that can be opened and corrected: those of one unit, of a span, or one."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.amounts import Instant
from bench.errors import NotFound
from bench.views.binder import Query
from bench.views.hours import Span


@dataclass(frozen=True, slots=True)
class EntryLine:
    """A time entry as a line that can be opened and corrected."""

    entry_id: int
    task_id: int
    task: str
    unit_id: int
    tag: str
    stage: str
    person_id: int
    person: str
    started_us: Instant
    stopped_us: Instant | None
    attended: bool
    corrected: bool


@dataclass(frozen=True, slots=True)
class CorrectionLine:
    """One correction of one time entry, oldest first on screen. A stop of None: it was still running."""

    correction_id: int
    at_us: Instant
    person: str
    old_started_us: Instant
    old_stopped_us: Instant | None
    new_started_us: Instant
    new_stopped_us: Instant | None
    reason: str


_LINE = """
SELECT entry.id AS entry_id, entry.task_id, task.name AS task, unit.id AS unit_id, unit.tag,
       stage.name AS stage, entry.person_id, person.name AS person, entry.started_us, entry.stopped_us,
       entry.attended,
       EXISTS (SELECT 1 FROM correction WHERE correction.time_entry_id = entry.id) AS corrected
FROM time_entry AS entry
JOIN task ON task.id = entry.task_id JOIN stage ON stage.id = task.stage_id
JOIN unit ON unit.id = task.unit_id JOIN person ON person.id = entry.person_id
"""

_OF_UNIT = Query(EntryLine, _LINE + "WHERE task.unit_id = :unit_id ORDER BY entry.started_us, entry.id")

_ONE = Query(EntryLine, _LINE + "WHERE entry.id = :entry_id")

# As `hours.PARTS` finds them: those that start near the span, the long ones, and those that still run.
_IN_SPAN = Query(
    EntryLine,
    """
{line}
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
""".replace("{line}", _LINE),
)

_CORRECTIONS = Query(
    CorrectionLine,
    """
SELECT correction.id AS correction_id, correction.at_us, person.name AS person,
       correction.old_started_us, correction.old_stopped_us,
       correction.new_started_us, correction.new_stopped_us, correction.reason
FROM correction JOIN person ON person.id = correction.person_id
WHERE correction.time_entry_id = :entry_id ORDER BY correction.id
""",
)


def read_unit_entries(desk: Desk, unit_id: int) -> tuple[EntryLine, ...]:
    """Every time entry of a unit, by start."""
    with desk.store.read() as connection:
        return of_unit(connection, unit_id)


def read_entry(desk: Desk, entry_id: int) -> tuple[EntryLine, tuple[CorrectionLine, ...]]:
    """One time entry, and its corrections, oldest first. NotFound when there is no such entry."""
    with desk.store.read() as connection:
        entry = _ONE.first(connection, entry_id=entry_id)
        if entry is None:
            raise NotFound(f"There is no time entry with number {entry_id}.", "It may have been removed.")
        return entry, _CORRECTIONS.all(connection, entry_id=entry_id)


def of_unit(connection: sqlite3.Connection, unit_id: int) -> tuple[EntryLine, ...]:
    """Every time entry of a unit, by start, within a snapshot that other reads share."""
    return _OF_UNIT.all(connection, unit_id=unit_id)


def in_span(connection: sqlite3.Connection, span: Span, now_us: int) -> tuple[EntryLine, ...]:
    """Every entry that touches the span, by start; one without length counts where it starts."""
    return _IN_SPAN.all(connection, lo=span[0], hi=span[1], now=now_us)
