"""Shipping of sales in a file of the second revision: above 0 it was typed, of a 0 nobody can tell."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from pathlib import Path

import pytest

from bench.desk import Desk
from bench.store.engine import Store
from bench.store.files import made_whole
from bench.store.upgrade import make_tables, upgrade
from bench.views.unit_money import read_unit_money
from bench.work.selling import set_shipping, set_shipping_through
from tests.clocks import HandSetClock
from tests.work.taking_back import is_taken_back

COUNTER, POST = 11, 12
NUMBERS = {"forgotten_times": 3, "forgotten_least_minutes": 60, "next_tag_number": 1001}


def insert(connection: sqlite3.Connection, table: str, **values: object) -> None:
    """A row with these values, and 0 or nothing where the table asks for one."""
    row = dict(values)
    for _, name, kind, must, default, key in connection.execute(f"PRAGMA table_info({table})"):
        if must and default is None and not key and name not in row:
            row[name] = 0 if kind == "INTEGER" else ""
    names, marks = ", ".join(row), ", ".join("?" * len(row))
    connection.execute(f"INSERT INTO {table} ({names}) VALUES ({marks})", tuple(row.values()))


@pytest.fixture
def old(tmp_path: Path, clock: HandSetClock) -> Iterator[Desk]:
    """Two units sold over the counter at a shipping of 0, one by post at 0, one by post at 6.90; upgraded."""
    path = tmp_path / "old.bench"
    with made_whole(path) as scratch:
        make_tables(scratch, to="0002")
    connection = sqlite3.connect(path)
    with connection:
        insert(connection, "shop", name="s", currency="EUR", zone="Europe/Berlin", **NUMBERS)
        insert(connection, "person", id=1, name="Ada")
        insert(connection, "stage", id=1, name="sold", position=1, final=1)
        insert(connection, "channel", id=COUNTER, name="counter")
        insert(connection, "channel", id=POST, name="post")
        for number, (channel, sent) in enumerate(((COUNTER, 0), (COUNTER, 0), (POST, 0), (POST, 690)), 1):
            insert(connection, "unit", id=number, tag=f"1000{number}", model="M", stage_id=1, price_minor=100)
            insert(
                connection,
                "sale",
                unit_id=number,
                channel_id=channel,
                person_id=1,
                sold_on="2026-10-01",
                sold_us=number,
                price_minor=5_000,
                shipping_minor=sent,
            )
    connection.close()
    assert upgrade(path) is not None
    store = Store(path)
    yield Desk(store, clock, 1)
    store.close()


def missing(desk: Desk) -> list[tuple[str, ...]]:
    return [read_unit_money(desk, number).missing for number in (1, 2, 3, 4)]


def test_above_0_it_was_typed_and_a_0_is_not_known(old: Desk) -> None:
    unknown = ("shipping",)
    assert missing(old) == [unknown, unknown, unknown, ()]
    known = read_unit_money(old, 4)
    assert {line.words: line.amount_minor for line in known.brought}["shipping"] == -690


def test_a_0_that_is_said_to_be_one_counts(old: Desk) -> None:
    is_taken_back(old, lambda: set_shipping(old, 3, "0"))
    assert missing(old)[2] == ()
    assert is_taken_back(old, lambda: set_shipping_through(old, COUNTER, "0")) == 2
    assert missing(old) == [(), (), (), ()]
    assert read_unit_money(old, 1).margin_minor == 4_900
