"""Reading by connections that stay open: each read sees what is in the file now, none outlives the file."""

from __future__ import annotations

import sqlite3
from contextlib import suppress
from pathlib import Path

import pytest

from bench.desk import Desk
from bench.errors import NotFound, StoreError
from bench.store import readers
from bench.store.engine import Store
from bench.work.shop import add_person

COUNT = "SELECT COUNT(*) FROM person"


def people(store: Store) -> int:
    with store.read() as connection:
        return int(connection.execute(COUNT).fetchone()[0])


def handles_on(path: Path) -> list[str]:
    """The open files of this process whose names begin with the data file's."""
    links = [link for link in Path("/proc/self/fd").iterdir() if link.is_symlink()]
    return [str(link.readlink()) for link in links if link.readlink().name.startswith(path.name)]


def test_one_connection_serves_reads_one_after_the_other(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    made: list[Path] = []
    make = readers.reading_connection
    monkeypatch.setattr(readers, "reading_connection", lambda path: (made.append(path), make(path))[1])
    assert {people(store) for _ in range(10)} == {1}
    assert len(made) <= 1


def test_a_refusal_of_our_own_costs_no_connection_and_an_error_of_the_file_does(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    people(store)
    made: list[Path] = []
    make = readers.reading_connection
    monkeypatch.setattr(readers, "reading_connection", lambda path: (made.append(path), make(path))[1])
    with suppress(NotFound), store.read() as connection:
        connection.execute(COUNT)
        raise NotFound("It is not there.", "Look elsewhere.")
    people(store)
    assert made == []
    with pytest.raises(StoreError), store.read() as connection:
        connection.execute("SELECT nothing")
    people(store)
    assert len(made) == 1


def test_each_read_sees_what_was_written_since(store: Store, desk: Desk) -> None:
    assert people(store) == 1
    add_person(desk, "Bo")
    assert people(store) == 2
    with sqlite3.connect(store.path) as other:
        other.execute("INSERT INTO person (name, removed) VALUES ('Cy', 0)")
    other.close()
    assert people(store) == 3


def test_a_read_within_a_read_has_a_snapshot_of_its_own(store: Store, desk: Desk) -> None:
    with store.read() as outer:
        assert outer.execute(COUNT).fetchone()[0] == 1
        add_person(desk, "Bo")
        assert people(store) == 2
        assert outer.execute(COUNT).fetchone()[0] == 1
    assert people(store) == 2


def test_nothing_can_be_written_by_them_the_second_time_either(store: Store) -> None:
    for _ in range(2):
        with pytest.raises(StoreError, match="cannot be read"), store.read() as connection:
            connection.execute("DELETE FROM person")
        assert people(store) == 1


def test_no_snapshot_stays_open_behind_a_read(store: Store, desk: Desk) -> None:
    """One that did would keep the side file from being carried over for good."""
    people(store)
    add_person(desk, "Bo")
    with sqlite3.connect(store.path) as other:
        busy, in_log, carried = other.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    other.close()
    assert (busy, in_log, carried) == (0, 0, 0)


@pytest.mark.skipif(not Path("/proc/self/fd").is_dir(), reason="this system does not list open files")
def test_closing_lets_go_of_all_also_of_one_that_is_read_by(store: Store) -> None:
    people(store)
    with store.read() as connection:
        connection.execute(COUNT)
        assert handles_on(store.path)
        store.close()
    assert handles_on(store.path) == []
