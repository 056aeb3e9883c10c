"""Tests of a unit as they ended: every attempt, the last of each kind, and how often a kind fails."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.amounts import Instant, Length
from bench.domain.condition.figures import Figures
from bench.domain.outcomes import BROKEN_OFF, FAILED, KINDS, figure_words
from bench.domain.return_rate import Rate, rate_of
from bench.views.binder import Query

MOST_RUNS = 3000  # the newest tell of how the shop works now


@dataclass(frozen=True, slots=True)
class OutcomeLine:
    """One attempt. `fault_id`: the fault that it opened or showed again; `task`: empty where of none."""

    test_id: int
    unit_id: int
    kind: str
    outcome: str
    at_us: Instant
    ran_us: Length | None
    figures: Figures
    note: str
    person: str
    task_id: int | None
    task: str
    fault_id: int | None
    symptom: str

    @property
    def label(self) -> str:
        """The kind in words."""
        return KINDS[self.kind].label

    @property
    def measured(self) -> str:
        """Its figures in a line."""
        return figure_words(self.kind, self.figures)


@dataclass(frozen=True, slots=True)
class KindRate:
    """How often a kind of test failed at the first attempt on a unit that ended either way."""

    kind: str
    rate: Rate | None


@dataclass(frozen=True, slots=True)
class _Count:
    """Units by what their first attempt of a kind gave."""

    kind: str
    failed: int
    tried: int


_LINES = Query(
    OutcomeLine,
    """
SELECT test_run.id AS test_id, test_run.unit_id, test_run.kind, test_run.outcome, test_run.at_us,
       test_run.ran_us, test_run.figures, test_run.note, person.name AS person, test_run.task_id,
       COALESCE(task.name, '') AS task, test_run.fault_id, COALESCE(fault.symptom, '') AS symptom
FROM test_run JOIN person ON person.id = test_run.person_id
LEFT JOIN task ON task.id = test_run.task_id LEFT JOIN fault ON fault.id = test_run.fault_id
WHERE test_run.unit_id = :unit_id AND test_run.removed = 0 ORDER BY test_run.at_us, test_run.id
""",
    figures=json.loads,
)
_FIRST = Query(
    _Count,
    """
SELECT run.kind, SUM(run.outcome = 'failed') AS failed, COUNT(*) AS tried
FROM (SELECT * FROM test_run INDEXED BY ix_test_run_at_us WHERE at_us <= :until
      ORDER BY at_us DESC LIMIT :most) AS run
WHERE run.removed = 0 AND run.outcome <> 'broken off' AND NOT EXISTS (
    SELECT 1 FROM test_run AS earlier WHERE earlier.unit_id = run.unit_id AND earlier.kind = run.kind
    AND earlier.at_us <= run.at_us AND (earlier.at_us, earlier.id) < (run.at_us, run.id)
    AND earlier.removed = 0 AND earlier.outcome <> 'broken off')
GROUP BY run.kind ORDER BY run.kind
""",
)


def outcomes_of(connection: sqlite3.Connection, unit_id: int) -> tuple[OutcomeLine, ...]:
    """Every attempt at a test of a unit, the earliest first."""
    return _LINES.all(connection, unit_id=unit_id)


def last_of_each(outcomes: Iterable[OutcomeLine]) -> tuple[OutcomeLine, ...]:
    """The last attempt of each kind of test, in the order of the kinds."""
    last = {one.kind: one for one in outcomes}
    return tuple(last[kind] for kind in KINDS if kind in last)


def kind_rates(connection: sqlite3.Connection, until_us: int) -> tuple[KindRate, ...]:
    """How often each kind of test fails at first, by the newest attempts, with the interval of that."""
    found = _FIRST.each(connection, until=until_us, most=MOST_RUNS)
    return tuple(KindRate(one.kind, rate_of(one.failed, one.tried)) for one in found)


def read_outcomes(desk: Desk, unit_id: int) -> tuple[OutcomeLine, ...]:
    """Every attempt at a test of a unit, the earliest first."""
    with desk.store.read() as connection:
        return outcomes_of(connection, unit_id)


def outcome_look(outcome: str) -> str:
    """The look of an outcome; beside it stands the word."""
    return {FAILED: "alert", BROKEN_OFF: "warning"}.get(outcome, "good")
