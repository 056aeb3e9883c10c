"""A part is in one place at a time and leaves the shop from the shelf: past the program too."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator

import pytest

from bench.desk import Desk
from bench.store.engine import Store
from bench.work.units import add_unit

MOVE = """INSERT INTO part (name, serial, cost_minor, at_us, person_id, supplier, note, from_unit_id,
        to_unit_id, component_id, removed)
    VALUES ('fan', '', 0, 1, 1, '', '', {from_id}, {to_id}, 1, 0)"""


@pytest.fixture
def file(desk: Desk, store: Store) -> Iterator[sqlite3.Connection]:
    """Two units, and a part that was bought for the first."""
    for model in ("One", "Two"):
        add_unit(desk, maker="Invented", model=model)
    connection = sqlite3.connect(store.path, isolation_level=None)
    connection.execute("PRAGMA foreign_keys = ON")
    connection.execute(
        "INSERT INTO component (name, maker_number, serial, place, gone, note, price_minor, removed)"
        " VALUES ('fan', '', '', '', '', '', 0, 0)"
    )
    connection.execute(move("NULL", "1"))
    yield connection
    connection.close()


def move(from_id: str, to_id: str) -> str:
    return MOVE.replace("{from_id}", from_id).replace("{to_id}", to_id)


def refused(file: sqlite3.Connection, words: str, text: str) -> None:
    before = list(file.iterdump())
    with pytest.raises(sqlite3.IntegrityError, match=words):
        file.execute(text)
    assert list(file.iterdump()) == before


@pytest.mark.parametrize(("from_id", "to_id"), [("NULL", "2"), ("2", "1"), ("NULL", "NULL"), ("2", "NULL")])
def test_a_move_begins_where_the_one_before_led(file: sqlite3.Connection, from_id: str, to_id: str) -> None:
    refused(file, "in one place", move(from_id, to_id))
    file.execute(move("1", "2"))
    refused(file, "in one place", "UPDATE part SET to_unit_id = NULL WHERE id = 1")


def test_a_move_off_the_shelf_goes_on_and_back(file: sqlite3.Connection) -> None:
    file.execute(move("1", "NULL"))
    file.execute("UPDATE part SET to_unit_id = 2 WHERE id = 2")
    file.execute("UPDATE part SET to_unit_id = NULL WHERE id = 2")
    file.execute("UPDATE part SET removed = 1 WHERE id = 2")
    file.execute(move("1", "2"))
    refused(file, "in one place", "UPDATE part SET removed = 0 WHERE id = 2")


def test_a_part_leaves_from_the_shelf_and_moves_no_more(file: sqlite3.Connection) -> None:
    gone = "UPDATE component SET gone = 'scrapped', gone_us = 5"
    refused(file, "from the shelf", gone)
    file.execute(move("1", "NULL"))
    file.execute(gone)
    refused(file, "does not move", "UPDATE part SET to_unit_id = 2 WHERE id = 2")
    refused(file, "does not move", move("NULL", "2"))
    file.execute("UPDATE component SET gone = '', gone_us = NULL")
    file.execute("UPDATE part SET to_unit_id = 2 WHERE id = 2")
