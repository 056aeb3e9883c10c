"""Take back: step by step, by compensating rows, also after a restart, never over another's change."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from bench.desk import Desk
from bench.domain.safety import OPENING, OPENING_ITEMS
from bench.errors import Conflict, NotFound
from bench.views.journal import read_journal
from bench.views.queue import read_queue
from bench.views.stock import read_history, read_stock
from bench.views.unit import read_unit
from bench.work.files import open_or_new
from bench.work.moves import hold_unit, move_unit, release_unit
from bench.work.safety import tick, untick
from bench.work.shop import add_person
from bench.work.stock import count_stock, restock
from bench.work.timers import finish_task, skip_task, start_task, stop_person
from bench.work.undo import undo
from bench.work.units import add_unit, edit_unit
from tests.clocks import HandSetClock

KEPT_APART = (
    *("journal", "journal_row", "sqlite_sequence", "file_identity"),
    *("movement", "unit", "task", "consumable", "stage_move"),
)


def contents(desk: Desk) -> dict[str, list[tuple[object, ...]]]:
    """Every row that counts: removed ones left out, movements as the level they make."""
    with desk.store.read() as connection:
        tables = [
            row[0]
            for row in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
            if row[0] not in KEPT_APART
        ]
        rows = {
            table: [tuple(row) for row in connection.execute(f"SELECT * FROM {table} ORDER BY 1")]
            for table in tables
        }
        rows["shop"] = [row[:-1] for row in rows["shop"]]  # the last column counts tags, and only goes on
        for table in ("unit", "task", "consumable", "stage_move"):
            kept = connection.execute(f"SELECT * FROM {table} WHERE removed = 0 ORDER BY id")
            rows[table] = [tuple(row) for row in kept]
        levels = connection.execute(
            "SELECT consumable_id, COALESCE(layer_id, id), SUM(quantity), SUM(cost_minor) FROM movement "
            "GROUP BY 1, 2 HAVING SUM(quantity) <> 0"
        )
        rows["levels"] = sorted(tuple(row) for row in levels)
    live = {row[0] for row in rows["task"]}
    rows["task_use"] = [row for row in rows["task_use"] if row[1] in live]
    return rows


def test_a_days_work_is_taken_back_step_by_step(desk: Desk, clock: HandSetClock) -> None:
    states = [contents(desk)]
    done: list[str] = []

    def step(name: str, work: object) -> None:
        clock.advance(minutes=3)
        work()  # type: ignore[operator]
        states.append(contents(desk))
        done.append(name)

    step("add", lambda: add_unit(desk, maker="", model="Full", route_id=1))
    unit_id = 1
    tasks = read_unit(desk, unit_id).tasks
    for line in read_stock(desk).lines:
        step("restock", lambda line=line: restock(desk, line.consumable_id, packs_text="1", price_text="9"))
    step("start", lambda: start_task(desk, tasks[0].task_id))
    step("tick before", lambda: tick(desk, unit_id, OPENING, list(OPENING_ITEMS), screws=9))
    step("switch", lambda: start_task(desk, tasks[2].task_id))
    step("stop", lambda: stop_person(desk))
    step("skip", lambda: skip_task(desk, tasks[0].task_id, "seen"))
    step("move", lambda: move_unit(desk, unit_id, tasks[3].stage_id, open_tasks="done"))
    step("start cover-off", lambda: start_task(desk, tasks[4].task_id))
    step("finish", lambda: finish_task(desk, tasks[4].task_id))
    step("count", lambda: count_stock(desk, 1, quantity_text="100", reason="shelf"))
    step("untick", lambda: untick(desk, unit_id, OPENING, "strap"))
    step("hold", lambda: hold_unit(desk, unit_id, "part on order"))
    step("release", lambda: release_unit(desk, unit_id))
    step(
        "edit",
        lambda: edit_unit(
            desk, unit_id, maker="X", model="Y", serial="", note="", due_text="", price_text="", tag_text=""
        ),
    )
    while done:
        states.pop()
        undo(desk)
        assert contents(desk) == states[-1], done[-1]
        done.pop()
    assert len(states) == 1


def test_it_goes_on_after_a_restart(desk: Desk, clock: HandSetClock, tmp_path: Path) -> None:
    first = add_unit(desk, maker="", model="First")
    add_unit(desk, maker="", model="Second")
    assert "Second" in undo(desk).summary
    desk.store.close()
    again = open_or_new(tmp_path / "workshop.bench")
    reopened = Desk(again, clock, 1)
    assert undo(reopened).unit_id == first.unit_id
    with pytest.raises(NotFound):
        undo(reopened)
    again.close()


def test_a_tag_taken_back_is_not_given_again_unless_typed(desk: Desk) -> None:
    tag = add_unit(desk, maker="", model="First").tag
    undo(desk)
    assert add_unit(desk, maker="", model="Second").tag != tag
    assert add_unit(desk, maker="", model="Third", tag_text=tag).tag == tag


def test_only_ones_own_changes(desk: Desk) -> None:
    other = desk.as_person(add_person(desk, "Bo"))
    add_unit(desk, maker="", model="Ada's")
    add_unit(other, maker="", model="Bo's")
    assert "Ada's" in undo(desk).summary
    assert [row.model for stage in read_queue(desk).stages for row in stage.rows] == ["Bo's"]


def test_a_later_change_by_another_stands_in_the_way(desk: Desk) -> None:
    other = desk.as_person(add_person(desk, "Bo"))
    unit_id = add_unit(desk, maker="", model="One").unit_id
    hold_unit(desk, unit_id, "part on order")
    release_unit(other, unit_id)
    before = contents(desk)
    with pytest.raises(Conflict):
        undo(desk)
    assert contents(desk) == before


def test_a_receipt_already_used_is_not_taken_back(desk: Desk) -> None:
    other = desk.as_person(add_person(desk, "Bo"))
    restock(desk, 1, packs_text="1")
    count_stock(other, 1, quantity_text="1", reason="spilt")
    before = read_history(desk, 1)
    with pytest.raises(Conflict):
        undo(desk)
    assert read_history(desk, 1) == before


def test_movements_are_reversed_never_deleted(desk: Desk) -> None:
    restock(desk, 1, packs_text="2", price_text="20")
    undo(desk)
    kinds = [movement.kind for movement in read_history(desk, 1).movements]
    assert sorted(kinds) == ["receipt", "reversal"]
    assert read_history(desk, 1).line.on_hand == 0


def test_the_journal_tells_what_was_taken_back(desk: Desk) -> None:
    add_unit(desk, maker="", model="One")
    undo(desk)
    newest, older = read_journal(desk).lines[:2]
    assert newest.undoes == older.journal_id
    assert older.undone
    assert json.loads(newest.changes)
