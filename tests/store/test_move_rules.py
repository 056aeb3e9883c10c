"""Moves between stages are rows that stay, and a unit changes its stage along one: past the program too."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator

import pytest

from bench.desk import Desk
from bench.store.engine import Store
from bench.work.moves import move_unit
from bench.work.undo import redo, undo
from bench.work.units import add_unit
from tests.clocks import HandSetClock

RECEIVED, INSPECTED, CLOSED, LISTED = 1, 2, 6, 9
MOVE = """INSERT INTO stage_move
        (unit_id, from_stage_id, from_since_us, to_stage_id, at_us, person_id, removed)
    VALUES (1, :from_id, :since, :to_id, :at, 1, 0)"""


@pytest.fixture
def file(desk: Desk, store: Store) -> Iterator[sqlite3.Connection]:
    """One unit that stands at the first stage."""
    add_unit(desk, maker="Invented", model="One")
    connection = sqlite3.connect(store.path, isolation_level=None)
    connection.execute("PRAGMA foreign_keys = ON")
    yield connection
    connection.close()


def refused(file: sqlite3.Connection, words: str, text: str, **values: object) -> None:
    before = list(file.iterdump())
    with pytest.raises(sqlite3.IntegrityError, match=words):
        file.execute(text, values)
    assert list(file.iterdump()) == before


def test_a_unit_changes_its_stage_along_a_move_alone(file: sqlite3.Connection, clock: HandSetClock) -> None:
    now = clock.now_us()
    go = f"UPDATE unit SET stage_id = {INSPECTED}, stage_since_us = {now + 5}"
    refused(file, "a row of the move", go)
    refused(file, "a row of the move", f"UPDATE unit SET stage_since_us = {now + 5}")
    file.execute(MOVE, {"from_id": RECEIVED, "since": now, "to_id": INSPECTED, "at": now + 5})
    refused(file, "a row of the move", f"UPDATE unit SET stage_id = {INSPECTED}")
    file.execute(go)
    file.execute("UPDATE unit SET note = 'else', stage_id = stage_id")


def test_a_move_begins_where_its_unit_stands_and_leads_elsewhere(
    file: sqlite3.Connection, clock: HandSetClock
) -> None:
    now = clock.now_us()
    file.execute(MOVE, {"from_id": RECEIVED, "since": now, "to_id": INSPECTED, "at": now + 5})
    refused(
        file, "begins where its unit stands", MOVE, from_id=LISTED, since=now, to_id=INSPECTED, at=now + 9
    )
    refused(
        file, "begins where its unit stands", MOVE, from_id=INSPECTED, since=now, to_id=LISTED, at=now + 9
    )
    refused(file, "CHECK constraint failed", MOVE, from_id=RECEIVED, since=now, to_id=RECEIVED, at=now + 9)


def test_a_move_is_never_changed_or_deleted(desk: Desk, file: sqlite3.Connection) -> None:
    move_unit(desk, 1, INSPECTED)
    columns = [row[1] for row in file.execute("PRAGMA table_info(stage_move)")]
    for column in set(columns) - {"removed"}:
        refused(file, "never changed", f"UPDATE stage_move SET {column} = {column} + 1")
    refused(file, "never deleted", "DELETE FROM stage_move")
    refused(file, "CHECK constraint failed", "UPDATE stage_move SET removed = 2")


def test_a_move_is_undone_when_its_unit_is_back_and_redone_from_there(
    desk: Desk, file: sqlite3.Connection, clock: HandSetClock
) -> None:
    clock.advance(minutes=5)
    move_unit(desk, 1, INSPECTED)
    refused(file, "stands where this move led", "UPDATE stage_move SET removed = 1")
    undo(desk)
    assert file.execute("SELECT removed FROM stage_move").fetchall() == [(1,)]
    redo(desk)
    assert file.execute("SELECT removed FROM stage_move").fetchall() == [(0,)]
    undo(desk)
    move_unit(desk, 1, CLOSED)
    refused(file, "begins where its unit stands", "UPDATE stage_move SET removed = 0 WHERE id = 1")
