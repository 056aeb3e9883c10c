"""Rules of the movement table that hold whatever writes to the file: tried over the plain driver."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator

import pytest

from bench.desk import Desk
from bench.store.engine import Store
from bench.work.units import add_unit

COLUMNS = {
    "consumable_id": 1,
    "kind": "receipt",
    "quantity": 1_000,
    "cost_minor": 100,
    "at_us": 1,
    "person_id": 1,
    "supplier": "",
    "reason": "",
}


@pytest.fixture
def file(desk: Desk, store: Store) -> Iterator[sqlite3.Connection]:
    add_unit(desk, maker="Invented", model="One", route_id=1)
    connection = sqlite3.connect(store.path, isolation_level=None)
    connection.execute("PRAGMA foreign_keys = ON")
    yield connection
    connection.close()


def book(file: sqlite3.Connection, **more: object) -> int:
    row = {**COLUMNS, **more}
    names, marks = ", ".join(row), ", ".join("?" * len(row))
    booked = file.execute(f"INSERT INTO movement ({names}) VALUES ({marks})", tuple(row.values())).lastrowid
    assert booked is not None
    return booked


def issue(file: sqlite3.Connection, layer_id: int, quantity: int = -1_000, **more: object) -> int:
    return book(
        file, kind="issue", quantity=quantity, cost_minor=0, **{"layer_id": layer_id, "task_id": 1, **more}
    )


def on_hand(file: sqlite3.Connection) -> int:
    return int(file.execute("SELECT COALESCE(SUM(quantity), 0) FROM movement").fetchone()[0])


def test_a_receipt_can_be_drawn_to_nothing_and_no_further(file: sqlite3.Connection) -> None:
    receipt = book(file)
    issue(file, receipt, -400)
    issue(file, receipt, -600)
    assert on_hand(file) == 0
    with pytest.raises(sqlite3.IntegrityError, match="never goes below zero"):
        issue(file, receipt, -1)
    assert on_hand(file) == 0


def test_a_full_layer_does_not_lend_to_an_empty_one(file: sqlite3.Connection) -> None:
    old = book(file)
    book(file, quantity=9_000)
    with pytest.raises(sqlite3.IntegrityError, match="never goes below zero"):
        issue(file, old, -1_001)
    assert on_hand(file) == 10_000


@pytest.mark.parametrize("change", ["quantity = 5", "cost_minor = 0", "reason = 'better'", "at_us = 2"])
def test_a_movement_is_never_changed(file: sqlite3.Connection, change: str) -> None:
    book(file)
    with pytest.raises(sqlite3.IntegrityError, match="never changed"):
        file.execute(f"UPDATE movement SET {change}")


def test_a_movement_is_never_deleted(file: sqlite3.Connection) -> None:
    book(file)
    with pytest.raises(sqlite3.IntegrityError, match="never deleted"):
        file.execute("DELETE FROM movement")
    assert on_hand(file) == 1_000


def test_stock_is_not_drawn_from_another_consumable(file: sqlite3.Connection) -> None:
    receipt = book(file)
    with pytest.raises(sqlite3.IntegrityError, match="receipt of the same consumable"):
        issue(file, receipt, consumable_id=2)


def test_stock_is_not_drawn_from_an_issue_or_from_nowhere(file: sqlite3.Connection) -> None:
    issued = issue(file, book(file), -1)
    for layer in (issued, 404):
        with pytest.raises(sqlite3.IntegrityError, match="receipt of the same consumable"):
            issue(file, layer, -1)


def test_a_movement_is_taken_back_once(file: sqlite3.Connection) -> None:
    receipt = book(file)
    issued = issue(file, receipt)
    back = {"kind": "reversal", "layer_id": receipt, "reverses_id": issued, "cost_minor": 0}
    book(file, **back)
    assert on_hand(file) == 1_000
    with pytest.raises(sqlite3.IntegrityError, match="reverses_id"):
        book(file, **back)


@pytest.mark.parametrize(
    ("rule", "row"),
    [
        ("kind", {"kind": "gift"}),
        ("(quantity|count)", {"kind": "count", "quantity": 0, "cost_minor": 0}),
        ("sign", {"cost_minor": -1}),
        ("receipt", {"quantity": -1, "cost_minor": 0}),
        ("issue", {"kind": "issue"}),
        ("issue", {"kind": "issue", "quantity": -1, "cost_minor": 0, "task_id": 1}),
        ("count", {"kind": "count", "quantity": -1, "cost_minor": 0}),
        ("reversal", {"kind": "reversal"}),
    ],
)
def test_signs_and_kinds_agree(file: sqlite3.Connection, rule: str, row: dict[str, object]) -> None:
    with pytest.raises(sqlite3.IntegrityError, match=f"ck_movement_{rule}"):
        book(file, **row)
    assert on_hand(file) == 0


def test_an_issue_names_its_task(file: sqlite3.Connection) -> None:
    receipt = book(file)
    with pytest.raises(sqlite3.IntegrityError, match="ck_movement_issue"):
        issue(file, receipt, -1, task_id=None)


@pytest.mark.parametrize(
    ("column", "value"), [("consumable_id", 404), ("person_id", 404), ("task_id", 404), ("reverses_id", 404)]
)
def test_a_movement_points_at_what_exists(file: sqlite3.Connection, column: str, value: int) -> None:
    kind = "reversal" if column == "reverses_id" else "receipt"
    with pytest.raises(sqlite3.IntegrityError, match="FOREIGN KEY"):
        book(file, kind=kind, **{column: value})


@pytest.mark.parametrize("value", [1.5, float("nan"), "many", None])
def test_quantities_are_whole_numbers(file: sqlite3.Connection, value: object) -> None:
    with pytest.raises(sqlite3.IntegrityError):
        book(file, quantity=value)
    assert on_hand(file) == 0
