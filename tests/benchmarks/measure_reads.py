"""What the screens read, against the same rows read by nothing but the driver, and against a small file."""

from __future__ import annotations

import sqlite3
from pathlib import Path

from bench.views.parties import read_parties
from bench.views.queue import read_queue
from bench.views.week import read_week
from tests.benchmarks.big_files import file_with
from tests.benchmarks.measuring import compare

_SAME_ROWS = """
SELECT unit.id, unit.tag, unit.maker, unit.model, unit.stage_id, unit.held_reason, unit.due_on,
       task.id, task.name,
       (SELECT SUM(stopped_us - started_us) FROM time_entry WHERE time_entry.task_id = task.id)
FROM unit JOIN task ON task.unit_id = unit.id WHERE unit.removed = 0 AND task.removed = 0
"""


def test_the_queue_of_1000_units(tmp_path: Path) -> None:
    with file_with(tmp_path / "a.bench", units=1000, entries=5000) as desk:

        def plainly() -> list[tuple[object, ...]]:
            connection = sqlite3.connect(desk.store.path)
            rows = connection.execute(_SAME_ROWS).fetchall()
            connection.close()
            return rows

        assert len(plainly()) == 2000
        assert sum(stage.count for stage in read_queue(desk).stages) == 1000
        compare("read_queue, 1,000 units", lambda: read_queue(desk), plainly).must_be_below(8)


def test_the_week_and_the_queue_of_a_million_entries(tmp_path: Path) -> None:
    """Ten weeks of entries against nearly eight years of them, as dense: neither screen must notice."""
    few = file_with(tmp_path / "few.bench", units=30, sold=500, entries=25_200)
    many = file_with(tmp_path / "many.bench", units=30, sold=500, entries=1_000_000)
    with few as small, many as large:
        assert read_week(large).hands_on_us == read_week(small).hands_on_us > 0
        assert read_queue(large).week == read_queue(small).week
        week = compare(
            "read_week, 1,000,000 entries", lambda: read_week(large), lambda: read_week(small), rounds=9
        )
        queue = compare(
            "read_queue, 1,000,000 entries", lambda: read_queue(large), lambda: read_queue(small), rounds=9
        )
    week.must_be_below(3)
    queue.must_be_below(3)


def test_ten_times_the_people_take_ten_times_as_long(tmp_path: Path) -> None:
    """The whole list is shown: it grows with the people, and no faster."""
    few, many = file_with(tmp_path / "few.bench", sold=2_000), file_with(tmp_path / "many.bench", sold=20_000)
    with few as small, many as large:
        assert len(read_parties(large)) == 10 * len(read_parties(small)) == 20_000
        people = compare(
            "read_parties, 20,000 people",
            lambda: read_parties(large),
            lambda: read_parties(small),
            rounds=5,
        )
    people.must_be_below(14)
