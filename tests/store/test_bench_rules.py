"""Rules of the bench that hold whatever writes to the file: tried over the plain driver, past the program."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator

import pytest

from bench.desk import Desk
from bench.domain.safety import OPENING, OPENING_ITEMS
from bench.store.engine import Store
from bench.views.unit import read_unit
from bench.work.drives import add_drive
from bench.work.safety import tick
from bench.work.timers import start_task, stop_person
from bench.work.units import add_unit
from bench.work.wipes import record_wipe, verify_wipe

FIT = """INSERT INTO part
        (name, serial, cost_minor, at_us, person_id, supplier, note, to_unit_id, component_id, removed)
    VALUES ('fan', '', 0, 1, 1, '', '', 1, 1, 0)"""
WIPE = """INSERT INTO wipe (
        drive_id, method, technique, tool, tool_version, confidentiality_before, confidentiality_after,
        destination, location, title, contact, person_id, wiped_us, verification, result, verifier_title,
        verifier_location, verifier_contact, note, removed)
    VALUES (1, 'clear', 'overwrite', '', '', '', '', '', '', '', '', 1, 1, '', 'not verified',
        '', '', '', '', 0)"""
# A move to every stage, so that no rule but the one that is tried stops the unit on its way there.
WAYS = """INSERT INTO stage_move
        (unit_id, from_stage_id, from_since_us, to_stage_id, at_us, person_id, removed)
    SELECT unit.id, stage_id, stage_since_us, stage.id, stage_since_us, 1, 0
    FROM unit JOIN stage ON stage.id <> unit.stage_id"""
DAY_US = 24 * 60 * 60 * 1_000_000


@pytest.fixture
def unit_id(desk: Desk) -> int:
    return add_unit(desk, maker="Invented", model="One", route_id=1).unit_id


@pytest.fixture
def file(desk: Desk, store: Store, unit_id: int) -> Iterator[sqlite3.Connection]:
    connection = sqlite3.connect(store.path, isolation_level=None)
    connection.execute("PRAGMA foreign_keys = ON")
    connection.execute(WAYS)
    connection.execute(
        "INSERT INTO component (name, maker_number, serial, place, gone, note, price_minor, removed)"
        " VALUES ('fan', '', '', '', '', '', 0, 0)"
    )
    yield connection
    connection.close()


def task(desk: Desk, unit_id: int, *, inside: bool) -> int:
    """A task of the unit that opens nothing."""
    return next(
        one.task_id for one in read_unit(desk, unit_id).tasks if one.lid_off == inside and not one.opens
    )


def run(file: sqlite3.Connection, task_id: int) -> None:
    file.execute(
        "INSERT INTO time_entry (task_id, person_id, started_us, attended, note) VALUES (?, 1, 9, 1, '')",
        (task_id,),
    )


def bad_cell(file: sqlite3.Connection) -> None:
    file.execute("UPDATE unit SET cell_finding = 'wet', held_reason = 'its cell', held_us = 1")


def refused(file: sqlite3.Connection, words: str, text: str, *values: object) -> None:
    before = list(file.iterdump())
    with pytest.raises(sqlite3.IntegrityError, match=words):
        file.execute(text, values)
    assert list(file.iterdump()) == before


def test_no_timer_starts_or_runs_again_on_a_bad_cell(
    file: sqlite3.Connection, desk: Desk, unit_id: int
) -> None:
    start_task(desk, task(desk, unit_id, inside=False))
    stop_person(desk)
    bad_cell(file)
    with pytest.raises(sqlite3.IntegrityError, match="stops all work"):
        run(file, task(desk, unit_id, inside=False))
    refused(file, "stops all work", "UPDATE time_entry SET stopped_us = NULL")
    file.execute("UPDATE unit SET cell_finding = NULL")
    file.execute("UPDATE time_entry SET stopped_us = NULL")


def test_no_timer_starts_or_runs_again_inside_with_the_battery_not_out(
    file: sqlite3.Connection, desk: Desk, unit_id: int
) -> None:
    inside = task(desk, unit_id, inside=True)
    with pytest.raises(sqlite3.IntegrityError, match="battery stays out"):
        run(file, inside)
    tick(desk, unit_id, OPENING, list(OPENING_ITEMS), screws=8)
    start_task(desk, inside)
    stop_person(desk)
    file.execute("DELETE FROM safety_check WHERE item = 'battery_out'")
    refused(file, "battery stays out", "UPDATE time_entry SET stopped_us = NULL")


def test_the_battery_stays_out_under_a_timer(file: sqlite3.Connection, desk: Desk, unit_id: int) -> None:
    tick(desk, unit_id, OPENING, list(OPENING_ITEMS), screws=8)
    start_task(desk, task(desk, unit_id, inside=True))
    refused(file, "runs inside", "DELETE FROM safety_check WHERE item = 'battery_out'")
    back = """INSERT INTO safety_check (unit_id, lid_count, list, item, person_id, at_us, note)
        SELECT id, lid_count, 'close_up', 'battery_in', 1, 1, '' FROM unit"""
    refused(file, "runs inside", back)
    stop_person(desk)
    file.execute(back)
    file.execute("DELETE FROM safety_check WHERE item = 'battery_out'")


def test_timers_stop_before_a_cell_is_bad(file: sqlite3.Connection, desk: Desk, unit_id: int) -> None:
    start_task(desk, task(desk, unit_id, inside=False))
    refused(file, "stops all work", "UPDATE unit SET cell_finding = 'wet'")
    stop_person(desk)
    bad_cell(file)


@pytest.mark.parametrize(
    ("words", "text"),
    [
        ("stays where it is", "UPDATE unit SET stage_id = 3"),
        ("stops all work", "UPDATE task SET state = 'done', ended_us = 1"),
        ("stops all work", FIT),
        ("stops all work", WIPE),
    ],
)
def test_nothing_on_a_bad_cell_moves_or_is_done(
    file: sqlite3.Connection, desk: Desk, unit_id: int, words: str, text: str
) -> None:
    add_drive(desk, unit_id, serial="S-1")
    bad_cell(file)
    refused(file, words, text)
    file.execute("UPDATE unit SET cell_finding = NULL")
    file.execute(text)


def test_a_unit_with_a_bad_cell_can_leave(file: sqlite3.Connection, unit_id: int) -> None:
    bad_cell(file)
    file.execute("UPDATE unit SET stage_id = (SELECT id FROM stage WHERE final = 1)")


LIST = "UPDATE unit SET stage_id = (SELECT id FROM stage WHERE lists = 1)"
SELL = """INSERT INTO sale (unit_id, sold_on, sold_us, person_id, price_minor, fee_minor, shipping_minor,
    shipping_known, tax_minor, invoice, note, removed)
    VALUES (1, '2026-11-23', 1, 1, 1, 0, 0, 1, 0, '', '', 0)"""


@pytest.mark.parametrize("text", [LIST, SELL])
def test_a_wipe_counts_only_after_a_buyer_had_the_drive_or_its_unit_was_bought(
    file: sqlite3.Connection, desk: Desk, unit_id: int, text: str
) -> None:
    words = "has its drives wiped, or a reason"
    drive_id = add_drive(desk, unit_id, serial="S-1")
    refused(file, words, text)
    wipe_id = record_wipe(desk, drive_id, method="clear", technique="overwrite").wipe_id
    refused(file, words, text)
    verify_wipe(desk, wipe_id, result="passed", verification="read back")
    wiped_us: int = file.execute("SELECT wiped_us FROM wipe").fetchone()[0]
    file.execute("UPDATE drive SET outside_us = ?", (wiped_us + 1,))
    refused(file, words, text)
    file.execute("UPDATE drive SET outside_us = NULL")
    bought = """INSERT INTO purchase (unit_id, invoice, donor, premium_minor, freight_minor, bought_on)
        VALUES (1, '', 0, 0, 0, ?)"""
    file.execute(
        bought, (file.execute("SELECT date(?, 'unixepoch')", _seconds(wiped_us + 2 * DAY_US)).fetchone())
    )
    refused(file, words, text)
    file.execute("UPDATE purchase SET bought_on = date(?, 'unixepoch')", _seconds(wiped_us))
    file.execute(text)


def _seconds(instant_us: int) -> tuple[int]:
    return (instant_us // 1_000_000,)


@pytest.mark.parametrize("text", [LIST, SELL])
def test_a_typed_reason_answers_for_a_drive_not_wiped(
    file: sqlite3.Connection, desk: Desk, unit_id: int, text: str
) -> None:
    add_drive(desk, unit_id, serial="S-1")
    said = """INSERT INTO unwiped (unit_id, person_id, at_us, reason, covers, removed)
        VALUES (1, 1, 1, 'so', ?, 0)"""
    file.execute(said, ("test drive",))
    refused(file, "or a reason", text)
    file.execute(said, ("wipe",))
    file.execute(text)
