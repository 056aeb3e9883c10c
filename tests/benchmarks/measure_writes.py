"""A start and a stop against the same rows written by nothing but the driver, as safely (WAL, FULL)."""

from __future__ import annotations

import sqlite3
from pathlib import Path

from bench.store.engine import PRAGMAS
from bench.work.timers import start_task, stop_entry
from tests.benchmarks.big_files import NOW_US, file_with
from tests.benchmarks.measuring import compare
from tests.clocks import HandSetClock

_JOURNAL = (
    "INSERT INTO journal (at_us, person_id, action, summary, via, reason, changes)"
    " VALUES (?, 1, 'start', 'Started', 'command', '', '[]')"
)


def test_start_and_stop(tmp_path: Path) -> None:
    with (
        file_with(tmp_path / "ours.bench", units=100) as desk,
        file_with(tmp_path / "plain.bench", units=100) as other,
    ):
        clock = desk.clock
        assert isinstance(clock, HandSetClock)
        plain = sqlite3.connect(other.store.path, isolation_level=None)
        for pragma in PRAGMAS:
            plain.execute(pragma)
        at_us = iter(range(NOW_US, NOW_US + 10**9, 1000))

        def ours() -> None:
            clock.advance(us=1000)
            started = start_task(desk, 1)
            clock.advance(us=1000)
            stop_entry(desk, started.entry_id)

        def plainly() -> None:
            started_us, stopped_us = next(at_us), next(at_us)
            plain.execute("BEGIN IMMEDIATE")
            entry = plain.execute(
                "INSERT INTO time_entry (task_id, person_id, started_us, attended, note, boot)"
                " VALUES (1, 1, ?, 1, '', '')",
                (started_us,),
            ).lastrowid
            plain.execute(_JOURNAL, (started_us,))
            plain.execute("COMMIT")
            plain.execute("BEGIN IMMEDIATE")
            plain.execute("UPDATE time_entry SET stopped_us = ? WHERE id = ?", (stopped_us, entry))
            plain.execute(_JOURNAL, (stopped_us,))
            plain.execute("COMMIT")

        ratio = compare("start and stop", ours, plainly, rounds=40)
        written = plain.execute("SELECT COUNT(*) FROM time_entry WHERE stopped_us IS NOT NULL").fetchone()[0]
        plain.close()
    assert written == 41
    ratio.must_be_below(30)
