"""Data files of any size, filled by plain SQL under the file's own rules."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from bench.desk import Desk
from bench.domain.durations import MINUTE_US
from bench.domain.tags import tag_from_number
from bench.work.files import open_or_new
from tests.clocks import WEDNESDAY_MORNING_US, HandSetClock

NOW_US = WEDNESDAY_MORNING_US
ENTRY_MINUTES = 20
PEOPLE = 5


@contextmanager
def file_with(path: Path, *, units: int = 1, sold: int = 0, entries: int = 0) -> Iterator[Desk]:
    """A desk on a file of so many units, two tasks each, spread over the stages of the queue, and sold ones.

    `entries`: hands-on ones of five people without a break, the last ending now; on the sold units if any.
    A unit that is sold was bought from someone of its own, and sold to them.
    """
    store = open_or_new(path, person="Ada", zone="Europe/Berlin")
    try:
        connection = sqlite3.connect(path, isolation_level=None)
        connection.execute("BEGIN IMMEDIATE")
        _fill_units(connection, units, sold)
        _fill_entries(connection, range(units + 1, units + sold + 1) or range(1, units + 1), entries)
        _fill_trade(connection, range(units + 1, units + sold + 1))
        connection.execute("COMMIT")
        connection.execute("ANALYZE")
        connection.close()
        yield Desk(store, HandSetClock(NOW_US), person_id=1)
    finally:
        store.close()


def _fill_units(connection: sqlite3.Connection, units: int, sold: int) -> None:
    stages = [row[0] for row in connection.execute("SELECT id FROM stage WHERE final = 0 ORDER BY position")]
    [(last,)] = connection.execute("SELECT id FROM stage WHERE final = 1").fetchall()
    numbers = range(1, units + sold + 1)
    stage_of = {n: stages[n % len(stages)] if n <= units else last for n in numbers}
    connection.executemany(
        "INSERT INTO unit (id, tag, maker, model, serial, note, stage_id, stage_since_us, added_us, lid_off,"
        " lid_count, removed) VALUES (?, ?, 'Maker', 'Model', '', '', ?, ?, ?, 0, 0, 0)",
        ((n, tag_from_number(n), stage_of[n], NOW_US - n, NOW_US - n) for n in numbers),
    )
    connection.executemany(
        "INSERT INTO task (id, unit_id, stage_id, position, name, estimate_minutes, unattended, lid_off,"
        " state, removed, opens, hazard, test, public)"
        " VALUES (?, ?, ?, ?, ?, 20, 0, 0, 'todo', 0, 0, '', '', 0)",
        (
            (2 * n - 1 + second, n, stage_of[n], second, ("look over", "clean")[second])
            for n in numbers
            for second in (0, 1)
        ),
    )


def _fill_entries(connection: sqlite3.Connection, units: range, entries: int) -> None:
    connection.executemany(
        "INSERT INTO person (id, name, removed) VALUES (?, ?, 0)",
        ((n, f"P{n}") for n in range(2, PEOPLE + 1)),
    )
    length_us = ENTRY_MINUTES * MINUTE_US
    first_us = NOW_US - -(-entries // PEOPLE) * length_us
    connection.executemany(
        "INSERT INTO time_entry (task_id, person_id, started_us, stopped_us, attended, note, boot)"
        " VALUES (?, ?, ?, ?, 1, '', '')",
        (
            (2 * units[n // 2 % len(units)] - n % 2, n % PEOPLE + 1, start_us, start_us + length_us)
            for n in range(entries)
            for start_us in (first_us + n // PEOPLE * length_us,)
        ),
    )


def _fill_trade(connection: sqlite3.Connection, units: range) -> None:
    connection.executemany(
        "INSERT INTO party (id, name, address, contact, identity_seen, private, removed)"
        " VALUES (?, ?, '', '', '', 1, 0)",
        ((unit, f"Party {unit}") for unit in units),
    )
    connection.executemany(
        "INSERT INTO purchase (unit_id, party_id, bought_on, invoice, donor, premium_minor, freight_minor)"
        " VALUES (?, ?, '2025-01-07', '', 0, 0, 0)",
        ((unit, unit) for unit in units),
    )
    connection.executemany(
        "INSERT INTO sale (unit_id, party_id, channel_id, sold_on, sold_us, person_id, price_minor,"
        " fee_minor, shipping_minor, shipping_known, tax_minor, invoice, warranty_until, note, removed)"
        " VALUES (?, ?, 1, '2025-02-04', ?, 1, 20000, 0, 0, 1, 0, '', '2026-02-04', '', 0)",
        ((unit, unit, NOW_US - unit) for unit in units),
    )
