"""The opening checklist in two parts, closing ticks that expire, a bad cell, moving back, the alarm."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from bench.desk import Desk
from bench.domain.safety import (
    BEFORE_THE_COVER,
    CAUTION_CONNECTED,
    CAUTION_SOLVENT,
    CAUTION_STILL_IN,
    CLOSING,
    CLOSING_ITEMS,
    OPENING,
    OPENING_ITEMS,
    WITH_THE_COVER_OFF,
)
from bench.domain.ways_out import HANDED_BACK, KEPT, PARTS, SCRAPPED
from bench.errors import BadInput, BatteryFirst, BenchError, CellAlarm, Refused, TasksDone
from bench.views.next_up import read_ranking
from bench.views.queue import read_queue
from bench.views.routes import read_route, read_routes
from bench.views.safety import read_safety
from bench.views.shop import read_stages
from bench.views.unit import read_unit
from bench.work.drive_moves import move_drive
from bench.work.drives import add_drive
from bench.work.leaving import leave_unit
from bench.work.moves import hold_unit, move_unit
from bench.work.parts import fit_part, take_part
from bench.work.route_tasks import edit_route_task
from bench.work.safety import clear_cell, go_on_without, report_cell, tick, untick
from bench.work.shop import set_stage_lists, set_stage_sells
from bench.work.tasks import add_task
from bench.work.timers import finish_task, start_task, stop_person
from bench.work.undo import undo
from bench.work.units import add_unit
from bench.work.wipes import record_wipe
from tests.clocks import HandSetClock
from tests.work.looked_into import looked_into


@pytest.fixture
def unit_id(desk: Desk) -> int:
    return add_unit(desk, maker="Invented", model="One", route_id=1).unit_id


def stage(desk: Desk, name: str) -> int:
    return next(one.stage_id for one in read_stages(desk) if one.name == name)


def task(desk: Desk, unit_id: int, name: str) -> int:
    return next(one.task_id for one in read_unit(desk, unit_id).tasks if one.name.startswith(name))


def opener(desk: Desk, unit_id: int) -> int:
    return next(one.task_id for one in read_unit(desk, unit_id).tasks if one.opens)


def test_the_opening_task_starts_with_the_first_part_and_ends_with_the_second(
    desk: Desk, unit_id: int
) -> None:
    opening = opener(desk, unit_id)
    with pytest.raises(BatteryFirst, match="Wrist strap on") as asked:
        start_task(desk, opening)
    assert asked.value.items == tuple(BEFORE_THE_COVER)
    tick(desk, unit_id, OPENING, list(BEFORE_THE_COVER))
    start_task(desk, opening)
    assert read_safety(desk, unit_id).lid_off
    with pytest.raises(BatteryFirst, match="No cell swollen"):
        finish_task(desk, opening)
    tick(desk, unit_id, OPENING, list(WITH_THE_COVER_OFF))
    assert finish_task(desk, opening).task_id == opening


def test_any_other_work_inside_needs_both_parts(desk: Desk, unit_id: int) -> None:
    tick(desk, unit_id, OPENING, list(BEFORE_THE_COVER))
    start_task(desk, opener(desk, unit_id))
    inside = next(one.task_id for one in read_unit(desk, unit_id).tasks if one.lid_off and not one.opens)
    with pytest.raises(BatteryFirst) as asked:
        start_task(desk, inside)
    assert asked.value.items == tuple(OPENING_ITEMS)


def test_the_second_part_follows_the_first_and_says_that_the_cover_is_off(desk: Desk, unit_id: int) -> None:
    with pytest.raises(Refused, match="before the cover comes off"):
        tick(desk, unit_id, OPENING, ["battery_out"])
    assert not tick(desk, unit_id, OPENING, list(BEFORE_THE_COVER)).lid_off
    assert tick(desk, unit_id, OPENING, ["battery_out"]).lid_off


def test_where_no_task_opens_the_first_with_the_cover_off_does(desk: Desk) -> None:
    unit_id = add_unit(desk, maker="", model="Bare").unit_id
    for name in ("fit the fan", "clean inside"):
        add_task(
            desk,
            unit_id,
            name=name,
            stage_id=stage(desk, "opened"),
            estimate_text="5",
            unattended=False,
            lid_off=True,
        )
    assert [one.opens for one in read_unit(desk, unit_id).tasks] == [True, False]
    chosen = add_task(
        desk,
        unit_id,
        name="take the cover off",
        stage_id=stage(desk, "inspected"),
        estimate_text="5",
        unattended=False,
        lid_off=True,
        opens=True,
    )
    assert [one.task_id for one in read_unit(desk, unit_id).tasks if one.opens] == [chosen]


def test_closing_ticks_expire_when_the_battery_comes_out_again(desk: Desk, unit_id: int) -> None:
    tick(desk, unit_id, OPENING, list(OPENING_ITEMS), screws=8)
    tick(desk, unit_id, CLOSING, list(CLOSING_ITEMS), screws=8)
    view = untick(desk, unit_id, CLOSING, "battery_in")
    assert not any(one.person for one in view.closing)
    tick(desk, unit_id, CLOSING, list(CLOSING_ITEMS), screws=8)
    view = tick(desk, unit_id, OPENING, ["battery_out"])
    assert not any(one.person for one in view.closing)
    assert not view.battery_connected


def test_closing_is_not_ticked_before_opening(desk: Desk, unit_id: int) -> None:
    with pytest.raises(Refused, match="there is nothing to close"):
        tick(desk, unit_id, CLOSING, ["gasket"])
    go_on_without(desk, unit_id, CLOSING, "typed too soon")
    tick(desk, unit_id, OPENING, list(OPENING_ITEMS))
    assert read_safety(desk, unit_id).without_closing is None


@pytest.mark.parametrize(("out", "back"), [(8, 7), (7, 8), (None, 8)])
def test_screws_that_differ_or_were_never_counted_out_ask_for_a_note(
    desk: Desk, unit_id: int, out: int | None, back: int
) -> None:
    tick(desk, unit_id, OPENING, list(OPENING_ITEMS), screws=out)
    with pytest.raises(BadInput, match="note that says why"):
        tick(desk, unit_id, CLOSING, ["screws_back"], screws=back)
    view = tick(desk, unit_id, CLOSING, ["screws_back"], screws=back, note="counted again")
    assert view.closing[0].note == "counted again"


def test_a_bad_cell_stops_all_that_is_done_with_its_unit(desk: Desk, unit_id: int) -> None:
    first = read_unit(desk, unit_id).tasks[0].task_id
    other = add_unit(desk, maker="", model="Other", price_text="50").unit_id
    drive_id = add_drive(desk, unit_id, model="NV-512", serial="1")
    start_task(desk, first)
    report_cell(desk, unit_id, "swollen")
    acts: tuple[Callable[[], object], ...] = (
        lambda: finish_task(desk, first),
        lambda: move_unit(desk, unit_id, stage(desk, "inspected"), open_tasks="skip", reason="apart"),
        lambda: move_unit(desk, unit_id, stage(desk, "sold"), open_tasks="skip", reason="away"),
        lambda: fit_part(desk, unit_id, name="fan", cost_text="1"),
        lambda: take_part(desk, unit_id, name="fan", cost_text="0"),
        lambda: take_part(desk, other, name="fan", cost_text="0", to_unit_id=unit_id),
        lambda: record_wipe(desk, drive_id, method="clear", technique="overwrite"),
        lambda: move_drive(desk, drive_id, other, cost_text="0"),
    )
    before = read_unit(desk, unit_id)
    for act in acts:
        with pytest.raises(CellAlarm, match="swollen"):
            act()
    assert read_unit(desk, unit_id) == before
    clear_cell(desk, unit_id, "pack handed to the collection point")
    record_wipe(desk, drive_id, method="clear", technique="overwrite")


def test_a_unit_with_a_bad_cell_goes_nowhere_but_out_to_be_scrapped(desk: Desk, unit_id: int) -> None:
    looked_into(desk, unit_id)
    report_cell(desk, unit_id, "punctured")
    for way in (HANDED_BACK, KEPT, PARTS):
        with pytest.raises(BenchError):
            leave_unit(desk, unit_id, way=way, reason="away with it")
    for one in read_stages(desk):
        with pytest.raises(BenchError):
            move_unit(desk, unit_id, one.stage_id, open_tasks="skip", reason="to the shelf")
    assert read_unit(desk, unit_id).stage == "received"
    leave_unit(desk, unit_id, way=SCRAPPED, reason="handed to the collection point")
    assert read_unit(desk, unit_id).stage == "sold"


def test_undoing_what_cleared_a_cell_is_no_way_to_start_and_none_clears_it_unsaid(
    desk: Desk, unit_id: int
) -> None:
    report_cell(desk, unit_id, "wet")
    with pytest.raises(BadInput, match=r"What was done about the cell is empty.*same reason"):
        undo(desk)
    assert read_safety(desk, unit_id).cell_finding == "wet"


def test_moving_back_reopens_what_was_gone_back_over(desk: Desk, unit_id: int) -> None:
    tick(desk, unit_id, OPENING, list(OPENING_ITEMS))
    move_unit(desk, unit_id, stage(desk, "opened"), open_tasks="skip", reason="seen")
    with pytest.raises(TasksDone) as asked:
        move_unit(desk, unit_id, stage(desk, "inspected"), done_tasks="ask")
    assert asked.value.tasks
    assert read_unit(desk, unit_id).stage == "opened"
    tick(desk, unit_id, CLOSING, list(CLOSING_ITEMS), screws=0, note="none came out")
    moved = move_unit(desk, unit_id, stage(desk, "received"))
    earlier = [one for one in read_unit(desk, unit_id).tasks if one.stage in ("received", "inspected")]
    assert moved.reopened == len(earlier) > 1
    assert all(one.state == "todo" for one in read_unit(desk, unit_id).tasks)


def test_done_tasks_are_kept_where_that_is_said(desk: Desk, unit_id: int) -> None:
    move_unit(desk, unit_id, stage(desk, "inspected"), open_tasks="skip", reason="seen")
    assert move_unit(desk, unit_id, stage(desk, "received"), done_tasks="keep").reopened == 0
    assert read_unit(desk, unit_id).tasks[0].state == "skipped"


def test_the_next_task_never_needs_the_cover_on_while_it_is_off(desk: Desk, unit_id: int) -> None:
    first = read_unit(desk, unit_id).tasks[0]
    row = read_queue(desk).row(unit_id)
    assert row is not None
    assert row.next_task == first.name
    tick(desk, unit_id, OPENING, list(OPENING_ITEMS))
    row = read_queue(desk).row(unit_id)
    assert row is not None
    assert row.next_task == "cover off, disconnect the battery"
    for one in read_unit(desk, unit_id).tasks:
        if one.lid_off:
            finish_task(desk, one.task_id, uses={})
    row = read_queue(desk).row(unit_id)
    assert row is not None
    assert (row.next_task, row.next_task_id) == ("closing checklist", None)


def alarm(desk: Desk, unit_id: int) -> bool:
    row = read_queue(desk).row(unit_id)
    assert row is not None
    assert row.battery_alarm == read_safety(desk, unit_id).alarm
    return row.battery_alarm


def test_the_alarm_sounds_only_where_record_and_work_contradict_each_other(
    desk: Desk, unit_id: int, clock: HandSetClock
) -> None:
    assert not alarm(desk, unit_id)  # closed, its battery in
    tick(desk, unit_id, OPENING, list(BEFORE_THE_COVER))
    start_task(desk, opener(desk, unit_id))
    assert not alarm(desk, unit_id)  # being opened
    assert read_safety(desk, unit_id).caution == CAUTION_STILL_IN
    clock.advance(minutes=5)
    stop_person(desk)
    assert alarm(desk, unit_id)  # left open with its battery in
    assert read_safety(desk, unit_id).caution == CAUTION_CONNECTED
    tick(desk, unit_id, OPENING, list(WITH_THE_COVER_OFF))
    assert not alarm(desk, unit_id)
    tick(desk, unit_id, CLOSING, list(CLOSING_ITEMS), screws=0, note="none came out")
    assert read_safety(desk, unit_id).battery_connected
    assert not alarm(desk, unit_id)  # put back by the closing checklist


def test_moving_to_a_cover_off_stage_sounds_no_alarm(desk: Desk) -> None:
    unit_id = add_unit(desk, maker="", model="Bare").unit_id
    tick(desk, unit_id, OPENING, list(BEFORE_THE_COVER))
    move_unit(desk, unit_id, stage(desk, "opened"))
    assert not alarm(desk, unit_id)


def test_cautions_come_from_hazards_and_not_from_names(desk: Desk) -> None:
    unit_id = add_unit(desk, maker="", model="Bare").unit_id
    plain = {"stage_id": stage(desk, "received"), "estimate_text": "5", "unattended": False, "lid_off": False}
    named = add_task(desk, unit_id, name="paste the label, clean text", **plain)  # type: ignore[arg-type]
    assert "vapour" not in read_safety(desk, unit_id).caution
    finish_task(desk, named)
    add_task(desk, unit_id, name="reinigen", hazard="solvent", **plain)  # type: ignore[arg-type]
    assert read_safety(desk, unit_id).caution == CAUTION_SOLVENT
    with pytest.raises(BadInput, match="kind of hazard"):
        add_task(desk, unit_id, name="x", hazard="lasers", **plain)  # type: ignore[arg-type]


def test_a_routes_task_keeps_its_hazard_until_it_is_given_another(desk: Desk) -> None:
    route = next(one for one in read_routes(desk) if one.name == "full refurbish")
    paste = next(one for one in read_route(desk, route.route_id).tasks if one.hazard == "solvent")
    given = {
        "name": "neu pasten",
        "stage_id": paste.stage_id,
        "estimate_text": "20",
        "unattended": False,
        "lid_off": True,
    }
    edit_route_task(desk, paste.route_task_id, **given)  # type: ignore[arg-type]
    kept = {one.route_task_id: one.hazard for one in read_route(desk, route.route_id).tasks}
    assert kept[paste.route_task_id] == "solvent"
    edit_route_task(desk, paste.route_task_id, hazard="hot_air", **given)  # type: ignore[arg-type]
    kept = {one.route_task_id: one.hazard for one in read_route(desk, route.route_id).tasks}
    assert kept[paste.route_task_id] == "hot_air"


def test_stage_flags_are_set_and_undone(desk: Desk) -> None:
    sold, graded = stage(desk, "sold"), stage(desk, "graded")
    with pytest.raises(Refused):
        set_stage_sells(desk, graded, sells=True)
    with pytest.raises(Refused):
        set_stage_lists(desk, sold, lists=True)
    set_stage_lists(desk, graded, lists=True)
    set_stage_sells(desk, sold, sells=False)
    assert [(one.name, one.lists, one.sells) for one in read_stages(desk)][-3:] == [
        ("graded", True, False),
        ("listed", True, False),
        ("sold", False, False),
    ]
    undo(desk)
    undo(desk)
    assert [(one.lists, one.sells) for one in read_stages(desk)][-3:] == [
        (False, False),
        (True, False),
        (False, True),
    ]


def test_what_next_puts_alarms_first(desk: Desk, unit_id: int, clock: HandSetClock) -> None:
    quiet = add_unit(desk, maker="", model="Quiet", due_text="yesterday").unit_id
    bad = add_unit(desk, maker="", model="Bad").unit_id
    hold = add_unit(desk, maker="", model="Held").unit_id
    hold_unit(desk, hold, "part on order")
    report_cell(desk, bad, "wet")
    tick(desk, unit_id, OPENING, list(BEFORE_THE_COVER))
    start_task(desk, opener(desk, unit_id))
    clock.advance(minutes=1)
    stop_person(desk)
    found = read_ranking(desk)
    assert [one.unit_id for one in found.lines][:2] == [unit_id, quiet]
    assert "battery" in found.lines[0].reason.casefold()
    assert [one.unit_id for one in found.waiting] == [bad, hold]
