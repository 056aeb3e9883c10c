"""Looking the file over: what is sound, what is not, and which SQLite has the fault of several writers."""

from __future__ import annotations

import sqlite3

import pytest

from bench.store.engine import Store
from bench.work.check import check_file, wal_note


def test_a_fresh_file_is_sound(store: Store) -> None:
    found = check_file(store)
    assert found.sound
    assert (found.integrity, found.references) == ("ok", "ok")
    assert found.path == str(store.path)
    assert found.size_bytes >= store.path.stat().st_size > 0
    assert found.versions["SQLite"] == sqlite3.sqlite_version


def test_a_row_that_points_nowhere_is_found(store: Store) -> None:
    with sqlite3.connect(store.path) as other_tool:  # does not switch foreign keys on
        other_tool.execute(
            "INSERT INTO time_entry (task_id, person_id, started_us, attended, note, boot)"
            " VALUES (9, 1, 5, 1, '', '')"
        )
    other_tool.close()
    found = check_file(store)
    assert not found.sound
    assert found.references == "time_entry"


@pytest.mark.parametrize(
    ("version", "noted"),
    [
        ((3, 6, 23), False),
        ((3, 7, 0), True),
        ((3, 40, 1), True),
        ((3, 44, 5), True),
        ((3, 44, 6), False),
        ((3, 50, 6), True),
        ((3, 50, 7), False),
        ((3, 51, 0), True),
        ((3, 51, 2), True),
        ((3, 51, 3), False),
        ((3, 53, 0), False),
    ],
)
def test_the_fault_of_several_writers_is_noted_for_the_versions_that_have_it(
    version: tuple[int, int, int], noted: bool
) -> None:
    """Source: sqlite.org/wal.html, WAL-reset bug: in 3.7.0 to 3.51.2, but for 3.44.6 and 3.50.7."""
    assert bool(wal_note(version)) is noted
