"""No transaction, an undo included, leaves a state that breaks a rule of the bench; racing ones neither."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bench.desk import Desk
from bench.domain.safety import CLOSING, CLOSING_ITEMS, OPENING, OPENING_ITEMS
from bench.errors import BatteryFirst, BenchError, ClosingFirst, Conflict, Refused
from bench.store.engine import plain_connection
from bench.views.queue import read_queue
from bench.views.safety import read_safety
from bench.views.unit import read_unit
from bench.work.change import change
from bench.work.files import open_or_new
from bench.work.invariants import keep
from bench.work.moves import hold_unit, move_unit, release_unit
from bench.work.safety import clear_cell, report_cell, tick, untick
from bench.work.shop import add_person
from bench.work.timers import start_task, stop_person
from bench.work.undo import undo
from bench.work.units import add_unit
from tests.clocks import HandSetClock


@pytest.fixture
def other(desk: Desk) -> Desk:
    return Desk(desk.store, desk.clock, add_person(desk, "Bo"))


@pytest.fixture
def unit_id(desk: Desk) -> int:
    return add_unit(desk, maker="Invented", model="One", route_id=1).unit_id


def inside(desk: Desk, unit_id: int) -> int:
    """The number of the unit's second cover-off task."""
    return [one.task_id for one in read_unit(desk, unit_id).tasks if one.lid_off][1]


def open_up(desk: Desk, unit_id: int) -> None:
    tick(desk, unit_id, OPENING, list(OPENING_ITEMS), screws=8)


def running(desk: Desk) -> int:
    with desk.store.read() as connection:
        count: int = connection.execute(
            "SELECT COUNT(*) FROM time_entry WHERE stopped_us IS NULL"
        ).fetchone()[0]
    return count


def test_the_battery_is_not_put_back_under_a_timer_with_the_cover_off(
    desk: Desk, other: Desk, unit_id: int
) -> None:
    open_up(desk, unit_id)
    start_task(desk, inside(desk, unit_id))
    before = read_safety(desk, unit_id)
    with pytest.raises(BatteryFirst, match="disconnected"):
        untick(other, unit_id, OPENING, "battery_out")
    with pytest.raises(BatteryFirst):
        tick(other, unit_id, CLOSING, list(CLOSING_ITEMS), screws=8)
    assert read_safety(desk, unit_id) == before
    stop_person(desk)
    assert untick(other, unit_id, OPENING, "battery_out").battery_connected


def test_undoing_a_tick_obeys_the_gate_it_opened(desk: Desk, other: Desk, unit_id: int) -> None:
    open_up(desk, unit_id)
    start_task(other, inside(desk, unit_id))
    with pytest.raises(Conflict, match=r"Started .brush out dust.* stands on it"):
        undo(desk)
    assert not read_safety(desk, unit_id).battery_connected
    assert running(desk) == 1


def test_undoing_a_stop_does_not_run_on_under_a_hold(desk: Desk, other: Desk, unit_id: int) -> None:
    start_task(desk, read_unit(desk, unit_id).tasks[0].task_id)
    stop_person(desk)
    hold_unit(other, unit_id, "part on order")
    with pytest.raises(Refused, match="part on order"):
        undo(desk)
    assert running(desk) == 0


def test_undoing_a_stop_does_not_run_on_under_a_bad_cell(desk: Desk, other: Desk, unit_id: int) -> None:
    start_task(desk, read_unit(desk, unit_id).tasks[0].task_id)
    stop_person(desk)
    report_cell(other, unit_id, "swollen")
    with pytest.raises(Refused, match="swollen"):
        undo(desk)
    assert running(desk) == 0


def test_a_unit_that_is_timed_is_not_undone_away(desk: Desk, other: Desk, unit_id: int) -> None:
    start_task(other, read_unit(desk, unit_id).tasks[0].task_id)
    with pytest.raises(BenchError):
        undo(desk)
    assert read_unit(desk, unit_id).tag
    stop_person(other)
    with pytest.raises(Conflict, match="stands on"):
        undo(desk)


def test_the_battery_goes_in_last_and_comes_out_first(desk: Desk, unit_id: int) -> None:
    open_up(desk, unit_id)
    start_task(desk, inside(desk, unit_id))
    stop_person(desk)
    tick(desk, unit_id, CLOSING, list(CLOSING_ITEMS), screws=8)
    with pytest.raises(ClosingFirst, match="last of all"):
        untick(desk, unit_id, CLOSING, "gasket")
    untick(desk, unit_id, CLOSING, "battery_in")
    assert not read_safety(desk, unit_id).battery_connected


def test_what_an_older_program_left_broken_can_be_set_right_step_by_step(desk: Desk, unit_id: int) -> None:
    open_up(desk, unit_id)
    start_task(desk, inside(desk, unit_id))
    with sqlite3.connect(desk.store.path) as connection:
        connection.execute("DROP TRIGGER safety_check_battery_out")
        connection.execute("DELETE FROM safety_check WHERE item IN ('battery_out', 'strap')")
    connection.close()
    tick(desk, unit_id, OPENING, ["strap"])
    with pytest.raises(BatteryFirst):
        start_task(Desk(desk.store, desk.clock, add_person(desk, "Bo")), inside(desk, unit_id))
    stop_person(desk)
    assert running(desk) == 0


def test_the_rules_cost_the_same_for_one_unit_and_for_fifty(desk: Desk) -> None:
    units = [add_unit(desk, maker="", model="many", route_id=1).unit_id for _ in range(50)]
    counts = []
    for few in (units[:1], units):
        asked: list[str] = []
        with change(desk, "look") as made:
            connection = plain_connection(made.session)
            connection.set_trace_callback(asked.append)
            noted = [{"table": "unit", "id": one, "before": {}, "after": {"note": ""}} for one in few]
            keep(made.session, desk.store, noted)
            connection.set_trace_callback(None)
        counts.append(len(asked))
    assert counts[0] == counts[1] > 0


def test_start_and_putting_the_battery_back_race_to_one_winner(
    desk: Desk, unit_id: int, clock: HandSetClock
) -> None:
    other = Desk(open_or_new(desk.store.path), clock, add_person(desk, "Bo"))
    task_id = inside(desk, unit_id)
    acts: tuple[Callable[[], object], ...] = (
        lambda: untick(other, unit_id, OPENING, "battery_out"),
        lambda: tick(other, unit_id, CLOSING, list(CLOSING_ITEMS), screws=8),
        lambda: report_cell(other, unit_id, "wet"),
    )
    for number in range(12):
        open_up(desk, unit_id)
        together = threading.Barrier(2)
        both = [
            threading.Thread(target=_try, args=(together, act))
            for act in (lambda: start_task(desk, task_id), acts[number % 3])
        ]
        for one in both:
            one.start()
        for one in both:
            one.join()
        assert not _battery_in_under_a_timer(desk.store.path), f"round {number}"
        _set_back(desk, unit_id)
    other.store.close()


def _try(together: threading.Barrier, act: Callable[[], object]) -> None:
    together.wait()
    try:
        act()
    except Refused:
        return


def _set_back(desk: Desk, unit_id: int) -> None:
    if running(desk):
        stop_person(desk)
    if read_safety(desk, unit_id).cell_finding:
        clear_cell(desk, unit_id, "pack replaced")
    with sqlite3.connect(desk.store.path) as connection:
        connection.execute("DELETE FROM safety_check")
    connection.close()


def _battery_in_under_a_timer(path: Path) -> bool:
    """An oracle of its own: the file's rows read plainly, and the rule said again in Python."""
    with sqlite3.connect(path) as connection:
        timed = connection.execute(
            "SELECT unit.id, unit.lid_count, cell_finding, held_reason, entry.attended, task.lid_off"
            " FROM time_entry AS entry JOIN task ON task.id = task_id JOIN unit ON unit.id = unit_id"
            " WHERE entry.stopped_us IS NULL"
        ).fetchall()
        ticks = set(connection.execute("SELECT unit_id, lid_count, list, item FROM safety_check"))
    connection.close()
    for unit, opening, cell, held, attended, cover_off in timed:
        ticked = {(name, item) for number, count, name, item in ticks if (number, count) == (unit, opening)}
        out = all((OPENING, item) in ticked for item in OPENING_ITEMS) or (OPENING, "without") in ticked
        back = (CLOSING, "battery_in") in ticked
        if cell or (held and attended) or (cover_off and (back or not out)):
            return True
    return False


ACTS = ("open", "start", "stop", "close", "untick", "cell", "clear", "hold", "release", "move", "undo")


@settings(max_examples=15, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(story=st.lists(st.tuples(st.booleans(), st.sampled_from(ACTS), st.integers(0, 9)), max_size=25))
def test_two_people_never_come_to_a_broken_state(
    fresh_file: Path, tmp_path_factory: pytest.TempPathFactory, story: list[tuple[bool, str, int]]
) -> None:
    path = tmp_path_factory.mktemp("story") / "workshop.bench"
    path.write_bytes(fresh_file.read_bytes())
    store = open_or_new(path)
    clock = HandSetClock()
    ada = Desk(store, clock, 1)
    bo = Desk(store, clock, add_person(ada, "Bo"))
    unit_id = add_unit(ada, maker="", model="One", route_id=1).unit_id
    for is_bo, act, number in story:
        clock.advance(1)
        try:
            _act(bo if is_bo else ada, unit_id, act, number)
        except BenchError:
            continue
        finally:
            assert not _battery_in_under_a_timer(path), (act, number)
    store.close()


def _act(desk: Desk, unit_id: int, act: str, number: int) -> None:
    tasks = read_unit(desk, unit_id).tasks
    stages = [group.stage_id for group in read_queue(desk).stages]
    acts: dict[str, Callable[[], object]] = {
        "open": lambda: tick(desk, unit_id, OPENING, list(OPENING_ITEMS), screws=8),
        "start": lambda: start_task(desk, tasks[number % len(tasks)].task_id),
        "stop": lambda: stop_person(desk),
        "close": lambda: tick(desk, unit_id, CLOSING, list(CLOSING_ITEMS), screws=8),
        "untick": lambda: untick(desk, unit_id, OPENING, list(OPENING_ITEMS)[number % len(OPENING_ITEMS)]),
        "cell": lambda: report_cell(desk, unit_id, "swollen"),
        "clear": lambda: clear_cell(desk, unit_id, "pack replaced"),
        "hold": lambda: hold_unit(desk, unit_id, "waits"),
        "release": lambda: release_unit(desk, unit_id),
        "move": lambda: move_unit(
            desk, unit_id, stages[number % len(stages)], open_tasks="skip", reason="not needed"
        ),
        "undo": lambda: undo(desk),
    }
    acts[act]()
