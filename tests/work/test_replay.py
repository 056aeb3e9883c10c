"""The journal replayed: all agrees after any work, and what was changed behind the program is named."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable

import pytest

from bench.desk import Desk
from bench.domain.lots import LotUnit
from bench.domain.safety import OPENING, OPENING_ITEMS
from bench.views.unit import read_unit
from bench.work.check import check_file, check_newest
from bench.work.drives import add_drive
from bench.work.lots import buy_lot
from bench.work.moves import hold_unit, move_unit
from bench.work.parts import fit_part
from bench.work.safety import tick, untick
from bench.work.stock import count_stock, restock
from bench.work.timers import finish_task, start_task
from bench.work.undo import redo, undo
from tests.clocks import HandSetClock
from tests.work.sale_steps import sell, stage, stocked
from tests.work.trade_steps import new_unit


@pytest.fixture
def worked(desk: Desk, clock: HandSetClock) -> Desk:
    """A file in which a good many kinds of things were done, undone and redone."""
    unit_id = new_unit(desk, "80", route_id=1)
    tasks = read_unit(desk, unit_id).tasks
    restock(desk, 1, packs_text="1", price_text="9")
    start_task(desk, tasks[0].task_id)
    clock.advance(minutes=7)
    finish_task(desk, tasks[0].task_id, uses={1: 2000})
    undo(desk)
    redo(desk)
    tick(desk, unit_id, OPENING, list(OPENING_ITEMS), screws=8)
    untick(desk, unit_id, OPENING, "strap")
    undo(desk)
    add_drive(desk, unit_id, serial="S-1")
    fit_part(desk, unit_id, name="fan", cost_text="10")
    hold_unit(desk, unit_id, "part on order")
    count_stock(desk, 1, quantity_text="300", reason="shelf")
    sell(desk, stocked(desk))
    undo(desk)
    redo(desk)
    buy_lot(
        desk, name="Three", price_text="100", units=[LotUnit("", "A"), LotUnit("", "B"), LotUnit("", "C")]
    )
    undo(desk)
    return desk


def test_all_agrees_after_all_kinds_of_work(worked: Desk) -> None:
    found = check_file(worked.store)
    assert (found.record.differences, found.record.sums, found.record.rules) == ((), (), ())
    assert found.record.lines == _one(worked, "SELECT COUNT(*) FROM journal")
    assert found.sound
    assert check_newest(worked.store) == ()


def _one(desk: Desk, text: str) -> object:
    with desk.store.read() as connection:
        return connection.execute(text).fetchone()[0]


def behind(desk: Desk, *texts: str) -> None:
    """Change the file as no use case does."""
    connection = sqlite3.connect(desk.store.path)
    for text in texts:
        connection.execute(text)
    connection.commit()
    connection.close()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("UPDATE unit SET model = 'X' WHERE id = 1", ("unit", 1, "model", "M", "X")),
        ("UPDATE unit SET price_minor = NULL WHERE id = 1", ("unit", 1, "price_minor", "8000", "nothing")),
        ("UPDATE sale SET price_minor = 1 WHERE id = 1", ("sale", 1, "price_minor", "70000", "1")),
        (
            "DELETE FROM safety_check WHERE item = 'battery_out'",
            ("safety_check", 3, "", "that it is there", "none"),
        ),
        ("UPDATE lot SET removed = 0", ("lot", 1, "removed", "1", "0")),
        ("UPDATE drive SET serial = 'S-2'", ("drive", 1, "serial", "S-1", "S-2")),
    ],
)
def test_what_was_changed_behind_it_is_named_with_its_line(
    worked: Desk, text: str, said: tuple[str, int, str, str, str]
) -> None:
    behind(worked, text)
    found = check_file(worked.store)
    [one] = [each for each in found.record.differences if each.table == said[0]]
    assert (one.table, one.row_id, one.column, one.recorded, one.found) == said
    assert not found.sound
    line = _one(worked, f"SELECT changes FROM journal WHERE id = {one.journal_id}")
    assert f'"{said[0]}"' in str(line)


def test_a_line_whose_old_values_never_stood_there_is_named(worked: Desk) -> None:
    behind(
        worked,
        "DROP TRIGGER journal_stays",
        'UPDATE journal SET changes = replace(changes, \'"held_reason":null\', \'"held_reason":"x"\')',
    )
    assert any(one.column == "held_reason" for one in check_file(worked.store).record.differences)


def test_a_row_that_the_journal_deleted_and_that_is_there_is_named(worked: Desk) -> None:
    unit_id = new_unit(worked)
    tick(worked, unit_id, OPENING, ["strap"])
    number = _one(worked, "SELECT MAX(id) FROM safety_check")
    untick(worked, unit_id, OPENING, "strap")
    behind(
        worked,
        "INSERT INTO safety_check (id, unit_id, lid_count, list, item, person_id, at_us, note) "
        f"VALUES ({number}, {unit_id}, 0, 'opening', 'strap', 1, 1, '')",
    )
    [one] = check_file(worked.store).record.differences
    assert (one.row_id, one.recorded) == (number, "that it is gone")


BELOW_ZERO = """INSERT INTO movement
(consumable_id, kind, quantity, cost_minor, at_us, person_id, layer_id, supplier, reason)
SELECT consumable_id, 'count', -quantity - 1, 0, 1, 1, id, '', ''
FROM movement WHERE layer_id IS NULL LIMIT 1"""
TAKEN = """INSERT INTO movement
(consumable_id, kind, quantity, cost_minor, at_us, person_id, layer_id, supplier, reason)
SELECT consumable_id, 'count', -1, 0, 1, 1, layer_id, '', '' FROM layer_balance LIMIT 1"""
OVERLAP = """INSERT INTO time_entry (task_id, person_id, started_us, stopped_us, attended, note, boot)
SELECT task_id, person_id, started_us + 1, stopped_us, 1, '', '' FROM time_entry LIMIT 1"""

OUT_UNSOLD = """INSERT INTO way_out (unit_id, way, at_us, note, proceeds_minor, tax_minor, removed)
VALUES (1, 'sold', 1, '', 0, 0, 0)"""


@pytest.mark.parametrize(
    ("trigger", "text", "said"),
    [
        ("movement_not_below_zero", BELOW_ZERO, "movement"),
        ("time_entry_overlap_INSERT", OVERLAP, "time_entry"),
        ("movement_changes_balance", TAKEN, "layer_balance"),
        ("unit_counted_update", "UPDATE unit SET removed = 1 WHERE id = 1", "stage_count"),
        ("way_out_counted_insert", OUT_UNSOLD, "way_count"),
        ("way_out_settles_insert", OUT_UNSOLD, "unsettled_sale"),
    ],
)
def test_sums_that_do_not_add_up_are_named(worked: Desk, trigger: str, text: str, said: str) -> None:
    behind(worked, f"DROP TRIGGER {trigger}", text)
    found = check_file(worked.store)
    assert said in {line.split()[0] for line in found.record.sums}
    assert not found.sound


def test_shares_that_are_not_the_price_of_their_lot_are_named(worked: Desk) -> None:
    lot = buy_lot(worked, name="Two", price_text="100", units=[LotUnit("", "A"), LotUnit("", "B")])
    assert check_file(worked.store).record.sums == ()
    behind(worked, f"UPDATE lot SET price_minor = 9999 WHERE id = {lot.lot_id}")
    assert check_file(worked.store).record.sums == ("lot 2: price 9999, its shares 10000",)


def test_a_state_that_breaks_a_rule_of_the_bench_is_named(worked: Desk) -> None:
    unit_id = new_unit(worked, route_id=1)
    start_task(worked, read_unit(worked, unit_id).tasks[0].task_id)
    wet = f"UPDATE unit SET cell_finding = 'wet' WHERE id = {unit_id}"
    behind(worked, "DROP TRIGGER unit_bad_cell_stops", wet)
    assert any("a wet cell" in line for line in check_file(worked.store).record.rules)


def test_the_short_form_sees_the_newest_lines_only(worked: Desk) -> None:
    behind(worked, "UPDATE unit SET model = 'X' WHERE id = 1", "UPDATE sale SET price_minor = 1 WHERE id = 1")
    assert {one.table for one in check_newest(worked.store, lines=1_000)} == {"unit", "sale"}
    assert check_newest(worked.store, lines=1) == ()
    move_unit(worked, new_unit(worked), stage(worked, "graded"))
    assert check_newest(worked.store, lines=2) == ()


def test_the_number_of_statements_does_not_grow_with_the_journal(worked: Desk) -> None:
    before = _statements(lambda: check_file(worked.store), worked)
    for _ in range(20):
        new_unit(worked, route_id=1)
    assert _statements(lambda: check_file(worked.store), worked) == before


def _statements(act: Callable[[], object], desk: Desk) -> int:
    seen: list[str] = []
    plain = desk.store.read

    class Watched:
        def __enter__(self) -> sqlite3.Connection:
            self.inner = plain()
            connection = self.inner.__enter__()
            connection.set_trace_callback(seen.append)
            return connection

        def __exit__(self, *what: object) -> None:
            self.inner.__exit__(*what)

    desk.store.read = Watched  # type: ignore[method-assign, assignment]
    try:
        act()
    finally:
        desk.store.read = plain  # type: ignore[method-assign]
    return len(seen)
