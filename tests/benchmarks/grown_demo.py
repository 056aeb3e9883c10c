"""The demo workshop with years of history: each sold unit copied many times, with all that belongs to it."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from bench.desk import Clock, Desk
from bench.domain.forecast import DAY_US
from bench.store.triggers.kept_counts import KEPT
from bench.work.demo import make_demo
from bench.work.files import open_or_new
from tests.benchmarks.grown_memory import remember, require_large
from tests.clocks import HandSetClock

APART = 1_000_000  # between the row ids of one copy and of the next
DAYS = 1095
HUNDREDFOLD = 500  # copies of each sold unit, for 20,000 of them

# Which rows go along with the units: by the column that names one of the table before.
BELONGING = (
    ("stage_move", "unit_id", "unit"),
    ("task", "unit_id", "unit"),
    ("time_entry", "task_id", "task"),
    ("task_use", "task_id", "task"),
    ("movement", "task_id", "task"),
    ("safety_check", "unit_id", "unit"),
    ("drive", "unit_id", "unit"),
    ("wipe", "drive_id", "drive"),
    ("reading", "unit_id", "unit"),
    ("grade", "unit_id", "unit"),
    ("specification", "unit_id", "unit"),
    ("part", "to_unit_id", "unit"),
    ("purchase", "unit_id", "unit"),
    ("sale", "unit_id", "unit"),
    ("fault", "unit_id", "unit"),
    ("test_run", "unit_id", "unit"),
    ("way_out", "unit_id", "unit"),
    ("unwiped", "unit_id", "unit"),
    ("repair_job", "unit_id", "unit"),
    ("quote_line", "job_id", "repair_job"),
    ("journal", "unit_id", "unit"),
)


@contextmanager
def grown_demo(path: Path, *, days: int = DAYS, clock: Clock | None = None) -> Iterator[Desk]:
    """A desk on the demo, its sold units hundreds of times besides, spread evenly over three years before.

    `days`: only the copies of so many days before, row for row the same; none at all for 0.
    """
    clock = clock or HandSetClock()
    make_demo(path, clock).close()
    connection = sqlite3.connect(path, isolation_level=None)
    if days:
        _grow(connection, days)
    connection.close()
    store = open_or_new(path)
    try:
        yield Desk(store, clock, person_id=1)
    finally:
        store.close()


def _grow(connection: sqlite3.Connection, days: int) -> None:
    triggers = connection.execute("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'").fetchall()
    connection.execute("PRAGMA foreign_keys = OFF")
    connection.execute("BEGIN IMMEDIATE")
    for name, _ in triggers:
        connection.execute(f'DROP TRIGGER "{name}"')
    connection.execute("CREATE TEMP TABLE one (copy INTEGER PRIMARY KEY, days INTEGER)")
    before = ((n, -(-n * DAYS // HUNDREDFOLD)) for n in range(1, HUNDREDFOLD + 1))
    connection.executemany("INSERT INTO one VALUES (?, ?)", (one for one in before if one[1] <= days))
    _choose(connection)
    for table in ("party", "expense", "unit", "component", *(table for table, _, _ in BELONGING)):
        _copy(connection, table)
    _receive(connection)
    remember(connection)
    if days == DAYS:
        require_large(connection)
    for text in KEPT:
        connection.execute(text)
    for _, text in triggers:
        connection.execute(text)
    connection.execute("COMMIT")
    assert connection.execute("PRAGMA foreign_key_check").fetchall() == []


def _choose(connection: sqlite3.Connection) -> None:
    """Which rows are copied, as temporary tables of ids."""
    connection.execute(
        "CREATE TEMP TABLE chosen_unit AS SELECT unit_id AS id FROM sale"
        " WHERE removed = 0 AND id NOT IN (SELECT sale_id FROM comeback)"
        " UNION SELECT unit_id FROM repair_job WHERE collected_on IS NOT NULL"
    )
    connection.execute("CREATE TEMP TABLE chosen_expense AS SELECT id FROM expense")
    for table, column, of in BELONGING:
        connection.execute(
            f"CREATE TEMP TABLE chosen_{table} AS SELECT id FROM {table}"
            f" WHERE {column} IN (SELECT id FROM chosen_{of})"
        )
    connection.execute(
        "CREATE TEMP TABLE chosen_component AS SELECT component_id AS id FROM part"
        " WHERE id IN (SELECT id FROM chosen_part)"
    )
    connection.execute(
        "CREATE TEMP TABLE chosen_party AS SELECT id FROM party WHERE id IN"
        " (SELECT party_id FROM sale UNION SELECT party_id FROM purchase)"
    )


def _copy(connection: sqlite3.Connection, table: str) -> None:
    names = [row[1] for row in connection.execute(f"PRAGMA table_info({table})")]
    points_to = {row[3]: row[2] for row in connection.execute(f"PRAGMA foreign_key_list({table})")}
    chosen = {row[0][7:] for row in connection.execute("SELECT name FROM temp.sqlite_schema")} - {""}
    values = [_value(table, name, points_to.get(name), chosen) for name in names]
    connection.execute(
        f"INSERT INTO {table} ({', '.join(names)}) SELECT {', '.join(values)}"
        f" FROM {table} AS was, one WHERE was.id IN (SELECT id FROM chosen_{table})"
    )


def _value(table: str, name: str, points_to: str | None, chosen: set[str]) -> str:
    if name == "id":
        return f"was.id + one.copy * {APART}"
    if points_to in chosen:
        return (
            f"CASE WHEN was.{name} IN (SELECT id FROM chosen_{points_to})"
            f" THEN was.{name} + one.copy * {APART} ELSE was.{name} END"
        )
    if (table, name) == ("unit", "tag"):
        return "CAST(was.tag + one.copy * 100000 AS TEXT)"
    if name == "serial":
        return "CASE was.serial WHEN '' THEN '' ELSE was.serial || '-' || one.copy END"
    if (table, name) == ("journal", "via"):
        return "'dashboard'"
    if name.endswith("_us") and name not in ("kept_us", "steady_us", "ran_us"):
        return f"was.{name} - one.days * {DAY_US}"
    if name.endswith(("_on", "_until")) or (table, name) == ("expense", "day"):
        return f"date(was.{name}, '-' || one.days || ' days')"
    return f"was.{name}"


def _receive(connection: sqlite3.Connection) -> None:
    """What the copies took was received for them: each takes from a receipt of its own copy, all of it."""
    connection.execute(
        f"""
        INSERT INTO movement
            (id, consumable_id, kind, quantity, cost_minor, at_us, person_id, supplier, reason)
        SELECT layer.id + taken.id / {APART} * {APART}, layer.consumable_id, layer.kind, -SUM(taken.quantity),
               -SUM(taken.cost_minor), MIN(taken.at_us) - {DAY_US}, layer.person_id, layer.supplier, ''
        FROM movement AS taken JOIN movement AS layer ON layer.id = taken.layer_id
        WHERE taken.id > {APART} GROUP BY layer.id, taken.id / {APART}
        """
    )
    connection.execute(
        f"UPDATE movement SET layer_id = layer_id + id / {APART} * {APART}"
        f" WHERE id > {APART} AND layer_id IS NOT NULL"
    )
