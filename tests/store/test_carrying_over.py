"""A file of an earlier revision: every row and number kept, its moves given rows, sound."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from bench.desk import Desk
from bench.errors import Refused
from bench.store.engine import Store
from bench.store.files import revision_of
from bench.store.revision import HEAD
from bench.views.faults import read_faults
from bench.views.forecast import read_forecast
from bench.views.orders import read_orders
from bench.views.parts import read_shelf
from bench.views.shop import read_stages
from bench.work.check import check_file
from bench.work.faults import edit_fault
from bench.work.files import open_existing
from bench.work.moves import move_unit
from bench.work.timers import stop_person
from bench.work.undo import redo, undo
from tests.clocks import HandSetClock
from tests.store.old_files import BEFORE_COMPONENTS, OLDER, old_file, schema_of
from tests.work.taking_back import changes_nothing, is_taken_back
from tests.work.told_moves import rows_are_what_the_journal_tells

MADE_US = 1_796_089_140_000_000  # when the old file was written
MOVED, STARTED = 40, 41
UNDONE, REDONE, SOLD = 33, 37, 26  # lines of its journal


@pytest.fixture(params=OLDER)
def old(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    return old_file(tmp_path / "old.bench", request.param)


@pytest.fixture
def carried(old: Path) -> Iterator[Desk]:
    """A desk on the file after it was opened."""
    store = open_existing(old)
    yield Desk(store, HandSetClock(wall_us=MADE_US + 60_000_000, boot_name="another"), person_id=1)
    store.close()


def rows_of(path: Path) -> dict[str, list[dict[str, object]]]:
    with closing(sqlite3.connect(path)) as file:
        file.row_factory = sqlite3.Row
        tables = [row[0] for row in file.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")]
        rows = {table: map(dict, file.execute(f"SELECT * FROM {table}")) for table in tables}
        return {table: sorted(of_table, key=repr) for table, of_table in rows.items()}


def test_it_is_made_of_what_a_new_file_is_made_of(old: Path, fresh_file: Path) -> None:
    open_existing(old).close()
    assert schema_of(old) == schema_of(fresh_file)
    assert revision_of(old) == HEAD


def test_every_row_and_every_number_given_is_kept(old: Path) -> None:
    before = rows_of(old)
    open_existing(old).close()
    after = rows_of(old)
    assert sum(len(rows) for rows in before.values()) > 200
    for table in before.keys() - {"alembic_version", "file_identity", "journal_row"}:
        names = before[table][0].keys() if before[table] else ()
        kept = [{name: row[name] for name in names} for row in after[table]]
        assert sorted(kept, key=repr) == before[table], table
    told = {row["table_name"] for row in before["journal_row"]}
    assert [row for row in after["journal_row"] if row["table_name"] in told] == before["journal_row"]
    assert [row for row in after["sqlite_sequence"] if row in before["sqlite_sequence"]] == before[
        "sqlite_sequence"
    ]
    assert after["file_identity"][0]["identity"] == before["file_identity"][0]["identity"]


def test_its_moves_have_rows_and_it_is_sound(carried: Desk) -> None:
    assert rows_are_what_the_journal_tells(carried) == 21
    with carried.store.read() as connection:
        undone = connection.execute("SELECT id FROM stage_move WHERE removed = 1").fetchall()
        told = connection.execute(
            "SELECT journal_id FROM journal_row WHERE table_name = 'stage_move' AND row_id = ?", (REDONE,)
        ).fetchall()
    assert [row[0] for row in undone] == [UNDONE]
    assert [row[0] for row in told] == [REDONE, REDONE + 1, REDONE + 2]
    found = check_file(carried.store)
    assert found.sound
    assert found.record.rules == ()
    # Two units went the whole way; at the first stage the hours of it are 1 and 2, and two more moved on.
    received = read_forecast(carried).stages[0]
    assert (received.stays, received.standing) == (4, 0)


def test_what_moved_a_unit_before_is_not_undone_but_all_else_is(carried: Desk) -> None:
    changes_nothing(carried, lambda: redo(carried, UNDONE), Refused, "of shape 0")
    undo(carried, STARTED)
    changes_nothing(carried, lambda: undo(carried, MOVED), Refused, "of shape 0")
    assert check_file(carried.store).sound


def test_work_goes_on(carried: Desk) -> None:
    stop_person(carried)
    stages = {one.name: one.stage_id for one in read_stages(carried)}
    is_taken_back(carried, lambda: move_unit(carried, 2, stages["inspected"]))
    assert rows_are_what_the_journal_tells(carried) == 22
    assert check_file(carried.store).sound


def test_a_store_of_it_is_open(carried: Desk) -> None:
    assert isinstance(carried.store, Store)
    assert "was brought up to date" in carried.store.notices[0]


OLD_PART = """INSERT INTO part
    (name, serial, from_unit_id, to_unit_id, cost_minor, at_us, person_id, supplier, note, removed)
    VALUES (?, ?, ?, ?, 100, 1, 1, '', '', ?)"""


@pytest.mark.parametrize("revision", BEFORE_COMPONENTS)
def test_each_part_has_an_identity_that_its_moves_follow(tmp_path: Path, revision: str) -> None:
    """By its serial number, else by its name: what left a unit is what came into it before."""
    old = old_file(tmp_path / "old.bench", revision)
    with closing(sqlite3.connect(old)) as file:
        for row in (
            ("fan", "", None, 1, 0),
            ("fan", "", None, 1, 1),  # taken back
            ("Fan", "", 1, 2, 0),
            ("memory", "M-1", None, 1, 0),
            ("memory", "M-2", 1, None, 0),  # another one, with which the unit came
            ("fan", "", 2, None, 0),
        ):
            file.execute(OLD_PART, row)
        file.commit()
    open_existing(old).close()
    with closing(sqlite3.connect(old)) as file:
        which = [row[0] for row in file.execute("SELECT component_id FROM part ORDER BY id")]
        kept = [row[0] for row in file.execute("SELECT id FROM component WHERE removed = 0 ORDER BY id")]
    assert which == [1, 2, 1, 4, 5, 1]
    assert kept == [1, 2, 4, 5]
    with closing(Store(old)) as store:
        assert check_file(store).sound


def test_what_the_shop_remembers_is_carried_on(tmp_path: Path) -> None:
    """Faults with their tests, parts on the shelf and in units, orders and what they cost."""
    store = open_existing(old_file(tmp_path / "old.bench", "0006"))
    desk = Desk(store, HandSetClock(wall_us=MADE_US + 86_400_000_000, boot_name="another"), person_id=2)
    faults = {one.symptom: one for one in read_faults(desk, closed=True).faults}
    assert faults["fan rattles"].closing_test == "soak"
    assert {name for name, one in faults.items() if one.state == "open"} == {
        *("hinge loose", "stops after a minute"),
    }
    assert [one.name for one in read_shelf(desk).lines] == ["memory 4 GB"]
    orders = [(one.what, one.state) for one in read_orders(desk).lines]
    assert (*orders, *((one.what, one.state) for one in read_orders(desk, settled=True).lines)) == (
        ("lead end", "ordered"),
        ("screen", "refunded"),
    )
    is_taken_back(desk, lambda: edit_fault(desk, faults["hinge loose"].fault_id, place="case"))
    undo(desk)  # the step on a model's page, of a line of the older file
    assert check_file(store).sound
    store.close()
