"""Undo tells the truth: nothing on which something later stands is undone, and it says what stands there."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from bench.desk import Desk
from bench.domain.safety import CLOSING, CLOSING_ITEMS, FINDINGS, OPENING, OPENING_ITEMS
from bench.errors import BadInput, CellAlarm, Conflict, NotFound, Refused, TasksOpen, WipeFirst
from bench.views.drives import read_drives
from bench.views.journal import read_journal
from bench.views.parts import read_parts, read_shelf
from bench.views.register import read_register
from bench.views.safety import read_safety
from bench.views.sales import read_sales
from bench.views.stock import read_history
from bench.views.unit import read_unit
from bench.work.check import check_file
from bench.work.comebacks import take_return
from bench.work.consumables import add_consumable, edit_consumable
from bench.work.drive_moves import move_drive
from bench.work.drives import add_drive, edit_drive
from bench.work.files import open_or_new
from bench.work.grades import remove_grade, set_grade
from bench.work.moves import hold_unit, move_unit, release_unit
from bench.work.notes import put_result
from bench.work.parts import fit_from_shelf, fit_part, take_part
from bench.work.purchases import edit_purchase
from bench.work.readings import add_reading
from bench.work.safety import clear_cell, report_cell, tick, untick
from bench.work.shop import add_person, add_stage, remove_stage
from bench.work.stock import count_stock, restock
from bench.work.timers import finish_task, reopen_task, skip_task, start_task, stop_person
from bench.work.trade import add_channel, remove_channel
from bench.work.undo import read_offer_to_undo, read_offers_to_undo, redo, undo
from bench.work.units import add_unit, edit_unit
from bench.work.waivers import no_drive_in_it
from bench.work.wipes import record_wipe, remove_wipe, verify_wipe
from tests.clocks import HandSetClock
from tests.work.looked_into import bare_of_drives
from tests.work.sale_steps import stage
from tests.work.taking_back import changes_nothing, kept
from tests.work.trade_steps import one_value

LEAD = 5  # the shortest route of a new file


@dataclass
class Two:
    """Ada and Bo at one file, and a unit of Ada's."""

    ada: Desk
    bo: Desk
    unit_id: int


@pytest.fixture
def two(desk: Desk) -> Two:
    bo = desk.as_person(add_person(desk, "Bo"))
    return Two(desk, bo, add_unit(desk, maker="", model="One", price_text="100").unit_id)


def newest(desk: Desk) -> int:
    """The number of the newest line."""
    return read_journal(desk, limit=1).lines[0].journal_id


def first_task(desk: Desk, unit_id: int, *, lid_off: bool = False) -> int:
    return next(one.task_id for one in read_unit(desk, unit_id).tasks if one.lid_off == lid_off)


def edit(desk: Desk, unit_id: int, **typed: str) -> None:
    """Set a unit's particulars, those of the fixture but for what is given."""
    wanted = {"maker": "", "model": "One", "serial": "", "note": "", "due_text": "", "price_text": "100"}
    edit_unit(desk, unit_id, **{**wanted, "tag_text": "", **typed})  # type: ignore[arg-type]


def sell(desk: Desk, unit_id: int, price: str = "300") -> int:
    from bench.work.selling import sell_unit

    bare_of_drives(desk, unit_id)
    return sell_unit(desk, unit_id, price_text=price, open_tasks="skip", reason="not needed").sale_id


# What happened in the shop: each of these was done in silence.


def test_a_unit_that_someone_sold_is_not_undone(two: Two) -> None:
    added = newest(two.ada)
    sell(two.bo, two.unit_id)
    before = len(read_register(two.ada).lines)
    changes_nothing(
        two.ada, lambda: undo(two.ada, added), Conflict, "“Sold 10014 .*Bo, line 3.* stands on it"
    )
    assert len(read_register(two.ada).lines) == before


def test_a_wipe_that_someone_verified_is_not_undone(two: Two) -> None:
    drive_id = add_drive(two.ada, two.unit_id, serial="S-1")
    wipe_id = record_wipe(two.ada, drive_id, method="clear", technique="overwrite").wipe_id
    verify_wipe(two.bo, wipe_id, result="failed", verification="read back")
    changes_nothing(
        two.ada, lambda: undo(two.ada, reason="slip"), Conflict, "“Verified the wipe of S-1: failed” .Bo"
    )
    assert [wipe.result for wipe in read_drives(two.ada, two.unit_id).drives[0].wipes] == ["failed"]


def test_a_unit_that_someone_is_timing_is_not_undone(two: Two) -> None:
    timed = add_unit(two.ada, maker="", model="Timed", route_id=LEAD).unit_id
    start_task(two.bo, first_task(two.bo, timed))
    changes_nothing(two.ada, lambda: undo(two.ada), Conflict, "“Started .look over .*Bo, line 4. stands")
    assert stop_person(two.bo).unit_id == timed


def test_a_part_fitted_elsewhere_is_not_undone(two: Two) -> None:
    other = add_unit(two.ada, maker="", model="Other", price_text="50").unit_id
    part_id = take_part(two.ada, two.unit_id, name="fan", cost_text="10").part_id
    fit_from_shelf(two.bo, part_id, other)
    changes_nothing(two.ada, lambda: undo(two.ada), Conflict, "“Fitted fan out of 10014 into 10022")
    assert [line.name for line in read_parts(two.ada, other).lines] == ["fan"]
    assert read_shelf(two.ada).lines == ()


def test_a_bad_cell_that_comes_back_holds_its_unit_whatever_held_it_before(two: Two) -> None:
    """Hold by hand, bad cell, cell dealt with; the hold undone, then what was done about the cell."""
    hold_unit(two.ada, two.unit_id, "waits for a part")
    report_cell(two.bo, two.unit_id, "wet")
    clear_cell(two.ada, two.unit_id, "dried out, looked at again")
    held, _, cleared = (line.journal_id for line in reversed(read_journal(two.ada).lines[:3]))
    undo(two.ada, held)
    assert read_unit(two.ada, two.unit_id).held is None
    undo(two.ada, cleared)
    unit = read_unit(two.ada, two.unit_id)
    assert (unit.safety.cell_finding, unit.held) == ("wet", FINDINGS["wet"])
    redo(two.ada)
    unit = read_unit(two.ada, two.unit_id)
    assert (unit.safety.cell_finding, unit.held) == (None, None)
    assert check_file(two.ada.store).sound


def test_a_bad_cell_is_undone_for_a_reason_only(two: Two) -> None:
    report_cell(two.ada, two.unit_id, "swollen")
    changes_nothing(two.ada, lambda: undo(two.ada), BadInput, "What was done about the cell is empty")
    undo(two.ada, reason="the wrong unit was scanned")
    assert read_unit(two.ada, two.unit_id).held is None
    assert read_journal(two.ada, limit=1).lines[0].reason == "the wrong unit was scanned"


# What stands on what: someone does something, someone else goes on from there.


def open_up(desk: Desk, unit_id: int) -> None:
    """Tick what comes before the cover, and move to where it is off."""
    tick(desk, unit_id, OPENING, ["shut_down", "strap"])
    move_unit(desk, unit_id, stage(desk, "opened"))


def moved_then_ticked(two: Two) -> None:
    tick(two.bo, two.unit_id, OPENING, ["shut_down", "strap"])
    move_unit(two.ada, two.unit_id, stage(two.ada, "opened"))
    tick(two.bo, two.unit_id, OPENING, ["battery_out", "cells_flat"])


def ticked_then_worked(two: Two) -> None:
    unit_id = add_unit(two.ada, maker="", model="Full", route_id=1).unit_id
    tick(two.ada, unit_id, OPENING, list(OPENING_ITEMS))
    start_task(two.bo, first_task(two.bo, unit_id, lid_off=True))


def ticked_then_closed(two: Two) -> None:
    open_up(two.ada, two.unit_id)
    tick(two.ada, two.unit_id, OPENING, ["battery_out", "cells_flat"], screws=0)
    tick(two.ada, two.unit_id, CLOSING, list(CLOSING_ITEMS), screws=0)
    move_unit(two.bo, two.unit_id, stage(two.bo, "graded"))


def part_ticked_then_the_battery(two: Two) -> None:
    open_up(two.ada, two.unit_id)
    tick(two.ada, two.unit_id, OPENING, ["battery_out", "cells_flat"], screws=0)
    rest = [item for item in CLOSING_ITEMS if item != "battery_in"]
    tick(two.ada, two.unit_id, CLOSING, rest, screws=0)
    tick(two.bo, two.unit_id, CLOSING, ["battery_in"])


def priced_then_sold(two: Two) -> None:
    edit(two.ada, two.unit_id, price_text="120")
    sell(two.bo, two.unit_id)


def bought_then_sold(two: Two) -> None:
    edit_purchase(two.ada, two.unit_id, expected_text="200", bought_on_text="2026-11-01", invoice="7")
    sell(two.bo, two.unit_id)


def graded_then_sold(two: Two) -> None:
    set_grade(two.ada, two.unit_id, "case", function_step_id=1, looks_step_id=4)
    sell(two.bo, two.unit_id)


def fitted_then_sold(two: Two) -> None:
    fit_part(two.ada, two.unit_id, name="fan", cost_text="10")
    sell(two.bo, two.unit_id)


def fitted_then_taken_out(two: Two) -> None:
    fit_part(two.ada, two.unit_id, name="fan", cost_text="10")
    take_part(two.bo, two.unit_id, name="Fan", cost_text="10")


def moved_out_then_recorded_as_sold(two: Two) -> None:
    bare_of_drives(two.ada, two.unit_id)
    move_unit(two.ada, two.unit_id, stage(two.ada, "sold"))
    sell(two.bo, two.unit_id)


def sold_then_returned(two: Two) -> None:
    sell(two.ada, two.unit_id)
    take_return(two.bo, two.unit_id, reason="loud", refund_text="", stage_id=stage(two.bo, "graded"))


def moved_back_then_returned(two: Two) -> None:
    sell(two.bo, two.unit_id)
    move_unit(two.ada, two.unit_id, stage(two.ada, "graded"))
    take_return(two.bo, two.unit_id, reason="loud", refund_text="", stage_id=stage(two.bo, "graded"))


def returned_then_taken_apart(two: Two) -> None:
    sell(two.bo, two.unit_id)
    take_return(two.ada, two.unit_id, reason="loud", refund_text="", stage_id=stage(two.ada, "graded"))
    take_part(two.bo, two.unit_id, name="fan", cost_text="5")


def returned_then_timed(two: Two) -> None:
    unit_id = add_unit(two.bo, maker="", model="Full", route_id=1).unit_id
    sell(two.bo, unit_id)
    take_return(two.ada, unit_id, reason="loud", refund_text="", stage_id=stage(two.ada, "graded"))
    task_id = first_task(two.bo, unit_id)
    reopen_task(two.bo, task_id)
    start_task(two.bo, task_id)


def released_then_moved(two: Two) -> None:
    hold_unit(two.bo, two.unit_id, "part on order")
    release_unit(two.ada, two.unit_id)
    move_unit(two.bo, two.unit_id, stage(two.bo, "graded"))


def cleared_then_timed(two: Two) -> None:
    unit_id = add_unit(two.ada, maker="", model="Full", route_id=1).unit_id
    report_cell(two.bo, unit_id, "wet")
    clear_cell(two.ada, unit_id, "pack handed to the collection point")
    start_task(two.bo, first_task(two.bo, unit_id))


def finished_then_moved_on(two: Two) -> None:
    unit_id = add_unit(two.ada, maker="", model="Lead", route_id=LEAD).unit_id
    task = read_unit(two.ada, unit_id).tasks[0]
    finish_task(two.ada, task.task_id, uses={})
    bare_of_drives(two.bo, unit_id)
    move_unit(two.bo, unit_id, stage(two.bo, "sold"), open_tasks="skip", reason="not needed")


def reopened_then_timed(two: Two) -> None:
    unit_id = add_unit(two.ada, maker="", model="Lead", route_id=LEAD).unit_id
    task_id = first_task(two.ada, unit_id)
    skip_task(two.bo, task_id, "seen")
    reopen_task(two.ada, task_id)
    start_task(two.bo, task_id)


def restocked_then_counted(two: Two) -> None:
    restock(two.ada, 1, packs_text="1")
    count_stock(two.bo, 1, quantity_text="90", reason="shelf")


def restocked_then_counted_as_booked(two: Two) -> None:
    restock(two.ada, 1, packs_text="1")
    booked = read_history(two.ada, 1).line.on_hand // 1000
    count_stock(two.bo, 1, quantity_text=str(booked), reason="shelf")


def unit_of_stock_then_restocked(two: Two) -> None:
    number = add_consumable(two.bo, name="wipes", base_unit="ml", pack_text="10", lead_days_text="1")
    edit_consumable(two.ada, number, name="wipes", base_unit="piece", pack_text="10", lead_days_text="1")
    restock(two.bo, number, packs_text="1")


def drive_renamed_then_wiped(two: Two) -> None:
    drive_id = add_drive(two.bo, two.unit_id, serial="S-1")
    facts = {"maker": "", "model": "", "media_type": "", "media_number": "", "size_text": "", "came_from": ""}
    edit_drive(two.ada, drive_id, serial="S-2", **facts)
    record_wipe(two.bo, drive_id, method="clear", technique="overwrite")


def grade_removed_then_given(two: Two) -> None:
    set_grade(two.bo, two.unit_id, "case", function_step_id=1, looks_step_id=4)
    remove_grade(two.ada, two.unit_id, "case")
    set_grade(two.bo, two.unit_id, "case", function_step_id=1, looks_step_id=4)


def stage_left_then_removed(two: Two) -> None:
    added = add_stage(two.bo, "aired", after_stage_id=stage(two.bo, "received"), lid_off=False)
    move_unit(two.bo, two.unit_id, added)
    move_unit(two.ada, two.unit_id, stage(two.ada, "graded"))
    remove_stage(two.bo, added)


def person_added_who_worked(two: Two) -> None:
    number = add_person(two.ada, "Cy")
    put_result(two.ada.as_person(number), two.unit_id, None, "all well")


def renamed_and_the_name_taken(two: Two) -> None:
    edit(two.ada, two.unit_id, tag_text="20010")
    add_unit(two.bo, maker="", model="Two", tag_text="10014")


def unticked_then_ticked_anew(two: Two) -> None:
    tick(two.bo, two.unit_id, OPENING, ["strap"])
    untick(two.ada, two.unit_id, OPENING, "strap")
    tick(two.bo, two.unit_id, OPENING, ["strap"])


def read_then_wiped(two: Two) -> None:
    drive_id = add_drive(two.ada, two.unit_id, serial="S-1")
    record_wipe(two.bo, drive_id, method="clear", technique="overwrite")


def cell_cleared_then_released(two: Two) -> None:
    """Held by hand before the cell was found, so that clearing it released nothing."""
    hold_unit(two.bo, two.unit_id, "part on order")
    report_cell(two.bo, two.unit_id, "wet")
    clear_cell(two.ada, two.unit_id, "pack handed to the collection point")
    release_unit(two.bo, two.unit_id)


CHAINS: list[Callable[[Two], None]] = [
    moved_then_ticked,
    ticked_then_worked,
    ticked_then_closed,
    part_ticked_then_the_battery,
    priced_then_sold,
    bought_then_sold,
    graded_then_sold,
    fitted_then_sold,
    fitted_then_taken_out,
    moved_out_then_recorded_as_sold,
    sold_then_returned,
    moved_back_then_returned,
    returned_then_taken_apart,
    returned_then_timed,
    released_then_moved,
    cleared_then_timed,
    finished_then_moved_on,
    reopened_then_timed,
    restocked_then_counted,
    restocked_then_counted_as_booked,
    unit_of_stock_then_restocked,
    drive_renamed_then_wiped,
    grade_removed_then_given,
    stage_left_then_removed,
    person_added_who_worked,
    renamed_and_the_name_taken,
    unticked_then_ticked_anew,
    read_then_wiped,
    cell_cleared_then_released,
]


@pytest.mark.parametrize("chain", CHAINS, ids=lambda chain: chain.__name__)
def test_what_something_later_stands_on_is_not_undone(two: Two, chain: Callable[[Two], None]) -> None:
    chain(two)
    later = read_journal(two.ada, limit=1).lines[0]
    changes_nothing(
        two.ada,
        lambda: undo(two.ada, reason="slip"),
        Conflict,
        rf"\({later.person}, line {later.journal_id}\) stands on it",
    )


@pytest.mark.parametrize("chain", CHAINS, ids=lambda chain: chain.__name__)
def test_and_it_is_undone_once_the_later_is(two: Two, chain: Callable[[Two], None]) -> None:
    chain(two)
    later = read_journal(two.ada, limit=1).lines[0]
    people = {line.name: line.person_id for line in _people(two.ada)}
    undo(two.ada.as_person(people[later.person]), later.journal_id, reason="slip")
    assert undo(two.ada, reason="slip").journal_id < later.journal_id


def _people(desk: Desk) -> tuple[object, ...]:
    from bench.views.shop import read_people

    return read_people(desk)


# Gates.


def test_undo_passes_no_gate_that_the_act_would_not(two: Two) -> None:
    """A timer that would run again, on a unit that is held since."""
    unit_id = add_unit(two.ada, maker="", model="Lead", route_id=LEAD).unit_id
    start_task(two.ada, first_task(two.ada, unit_id))
    stop_person(two.ada)
    hold_unit(two.bo, unit_id, "part on order")
    changes_nothing(two.ada, lambda: undo(two.ada), Refused, "part on order")
    release_unit(two.bo, unit_id)
    report_cell(two.bo, unit_id, "wet")
    changes_nothing(two.ada, lambda: undo(two.ada), CellAlarm, "a wet cell")


def test_no_undo_moves_or_finishes_on_a_bad_cell(two: Two) -> None:
    unit_id = add_unit(two.ada, maker="", model="Lead", route_id=LEAD).unit_id
    finish_task(two.ada, first_task(two.ada, unit_id))
    reopen_task(two.ada, first_task(two.ada, unit_id))
    reopened = newest(two.ada)
    move_unit(two.ada, two.unit_id, stage(two.ada, "inspected"))
    for one in (unit_id, two.unit_id):
        report_cell(two.bo, one, "swollen")
    changes_nothing(two.ada, lambda: undo(two.ada), CellAlarm, "a swollen cell")
    changes_nothing(two.ada, lambda: undo(two.ada, reopened), CellAlarm, "a swollen cell")


def test_a_hold_is_not_undone_over_a_bad_cell(two: Two) -> None:
    hold_unit(two.ada, two.unit_id, "part on order")
    report_cell(two.bo, two.unit_id, "wet")
    changes_nothing(two.ada, lambda: undo(two.ada), Refused, "on hold for its cell")


def test_a_stop_is_not_undone_into_other_work(two: Two) -> None:
    lead = add_unit(two.ada, maker="", model="Lead", route_id=LEAD).unit_id
    full = add_unit(two.ada, maker="", model="Full", route_id=1).unit_id
    start_task(two.ada, first_task(two.ada, lead))
    stop_person(two.ada)
    stopped = newest(two.ada)
    start_task(two.ada, first_task(two.ada, full))
    changes_nothing(two.ada, lambda: undo(two.ada, stopped), Refused, "overlaps")


def test_no_drive_comes_back_unwiped_into_a_listed_unit(two: Two) -> None:
    drive_id = add_drive(two.ada, two.unit_id, serial="S-1")
    move_drive(two.ada, drive_id, None, cost_text="0")
    bare_of_drives(two.bo, two.unit_id)
    move_unit(two.bo, two.unit_id, stage(two.bo, "listed"))
    changes_nothing(two.ada, lambda: undo(two.ada), WipeFirst, "S-1")


def test_no_wipe_goes_off_the_records_of_a_listed_unit(two: Two) -> None:
    drive_id = add_drive(two.ada, two.unit_id, serial="S-1")
    wipe_id = record_wipe(two.ada, drive_id, method="clear", technique="overwrite").wipe_id
    verify_wipe(two.ada, wipe_id, result="passed", verification="read back")
    move_unit(two.bo, two.unit_id, stage(two.bo, "listed"))
    changes_nothing(two.ada, lambda: undo(two.ada, reason="slip"), WipeFirst, "S-1")


def test_the_only_channel_stays(two: Two) -> None:
    add_channel(two.ada, "by post")
    remove_channel(two.bo, 1)
    changes_nothing(two.ada, lambda: undo(two.ada), Refused, "without a channel")


def test_redo_asks_the_gates_of_today(two: Two) -> None:
    sell(two.ada, two.unit_id)
    undo(two.ada)
    hold_unit(two.bo, two.unit_id, "part on order")
    changes_nothing(two.ada, lambda: redo(two.ada), Refused, "part on order")
    release_unit(two.bo, two.unit_id)
    add_drive(two.bo, two.unit_id, serial="S-1")
    changes_nothing(two.ada, lambda: redo(two.ada), Conflict, "Recorded the drive S-1")


def test_redo_of_a_move_does_not_pass_open_tasks(two: Two) -> None:
    unit_id = add_unit(two.ada, maker="", model="Lead", route_id=LEAD).unit_id
    task = read_unit(two.ada, unit_id).tasks[0]
    skip_task(two.bo, task.task_id, "seen")
    move_unit(two.ada, unit_id, stage(two.ada, "inspected"))
    undo(two.ada)
    reopen_task(two.bo, task.task_id)
    changes_nothing(two.ada, lambda: redo(two.ada), (TasksOpen, Conflict), task.name)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("act", "asks"),
    [
        (lambda desk, unit: add_drive(desk, unit, serial="S-1"), "drive off the records"),
        (
            lambda desk, unit: add_reading(
                desk, unit, moment="before", subject="screws", fields={"screws_missing": "1"}
            ),
            "reading off the records",
        ),
    ],
)
def test_what_asks_for_a_reason_to_take_it_off_asks_undo_too(
    two: Two, act: Callable[[Desk, int], object], asks: str
) -> None:
    act(two.ada, two.unit_id)
    changes_nothing(two.ada, lambda: undo(two.ada, reason=" "), BadInput, f"{asks} is empty")
    undo(two.ada, reason="wrong unit")


# Choosing a line, redo, and numbers.


def test_one_refused_line_does_not_lock_what_came_before(two: Two) -> None:
    edit(two.ada, two.unit_id, note="scratch on the lid")
    edited = newest(two.ada)
    other = add_unit(two.ada, maker="", model="Other").unit_id
    sell(two.bo, other)
    with pytest.raises(Conflict):
        undo(two.ada)
    assert undo(two.ada, edited).journal_id == edited
    assert read_unit(two.ada, two.unit_id).note == ""


def test_a_line_of_someone_elses_an_undone_one_and_none_are_refused(two: Two) -> None:
    hold_unit(two.bo, two.unit_id, "waits")
    with pytest.raises(Refused, match="Bo's"):
        undo(two.ada, newest(two.ada))
    with pytest.raises(NotFound, match="no line 99"):
        undo(two.ada, 99)
    line = newest(two.ada)
    undo(two.bo, line)
    with pytest.raises(Refused, match="undone already"):
        undo(two.bo, line)
    redo(two.bo, line)
    with pytest.raises(Refused, match="is not undone"):
        redo(two.bo, line)
    with pytest.raises(NotFound, match="left to redo"):
        redo(two.ada)


def test_undo_and_redo_go_back_and_forth_also_after_a_restart(two: Two, tmp_path: Path) -> None:
    bare_of_drives(two.ada, two.unit_id)
    before = kept(two.ada)
    sell(two.ada, two.unit_id)
    after = kept(two.ada)
    line = newest(two.ada)
    for _ in range(3):
        assert undo(two.ada).journal_id == line
        assert kept(two.ada) == before
        again = open_or_new(tmp_path / "workshop.bench")
        assert redo(Desk(again, two.ada.clock, 1)).again
        again.close()
        assert kept(two.ada) == after
    lines = [one for one in read_journal(two.ada).lines if one.journal_id >= line]
    assert [one.undone for one in lines] == [False, True, False, True, False, True, False]
    assert read_sales(two.ada, two.unit_id).sales[0].price_minor == 30_000


def test_what_was_taken_off_and_is_back_goes_over_nothing_made_of_it_since(two: Two) -> None:
    drive_id = add_drive(two.ada, two.unit_id, serial="S-1")
    wipe_id = record_wipe(two.ada, drive_id, method="clear", technique="overwrite").wipe_id
    remove_wipe(two.ada, wipe_id, "the wrong drive")
    undo(two.ada)
    verify_wipe(two.bo, wipe_id, result="passed", verification="read back in full")
    changes_nothing(
        two.ada, lambda: redo(two.ada, reason="slip"), Conflict, "Verified the wipe .* stands on it"
    )


def test_a_drive_does_not_come_back_to_where_none_was_seen_meanwhile(two: Two) -> None:
    drive_id = add_drive(two.ada, two.unit_id, serial="S-1")
    move_drive(two.ada, drive_id, None, cost_text="0")
    no_drive_in_it(two.bo, two.unit_id)
    add_drive(two.bo, two.unit_id, serial="S-2")
    moved = read_journal(two.ada, limit=3).lines[-1].journal_id
    stands = "Recorded the drive S-2 .* stands on it"  # the newest that does; under it, the look
    changes_nothing(two.ada, lambda: undo(two.ada, moved, reason="slip"), Conflict, stands)


def test_none_was_seen_is_not_true_again_where_another_drive_came_in(two: Two) -> None:
    no_drive_in_it(two.ada, two.unit_id)
    add_drive(two.ada, two.unit_id, serial="S-1")  # ends what was seen
    recorded = read_journal(two.ada, limit=1).lines[0].journal_id
    other_id = add_unit(two.bo, maker="", model="Other").unit_id
    elsewhere = add_drive(two.bo, other_id, serial="S-2")
    move_drive(two.bo, elsewhere, two.unit_id, cost_text="0")
    stands = "Moved the drive S-2 .* stands on it"
    changes_nothing(two.ada, lambda: undo(two.ada, recorded, reason="slip"), Conflict, stands)
    undo(two.bo, reason="slip")
    undo(two.ada, recorded, reason="slip")
    assert one_value(two.ada, "SELECT COUNT(*) FROM unwiped WHERE removed = 0") == 1


# What is booked again after an undo is another movement, and so another receipt.
RENUMBERED = ("movement", "layer_balance")


def test_every_kind_of_row_comes_back_by_redo(two: Two, clock: HandSetClock) -> None:
    unit_id = add_unit(two.ada, maker="", model="Lead", route_id=LEAD).unit_id
    task_id = first_task(two.ada, unit_id)
    restock(two.ada, 1, packs_text="1", price_text="9")
    start_task(two.ada, task_id)
    clock.advance(minutes=5)
    finish_task(two.ada, task_id, uses={1: 5000})
    tick(two.ada, unit_id, OPENING, list(OPENING_ITEMS), screws=8)
    untick(two.ada, unit_id, OPENING, "strap")
    levels = _levels(two.ada)
    state = {name: rows for name, rows in kept(two.ada).items() if name not in RENUMBERED}
    for _ in range(6):
        undo(two.ada)
    for _ in range(6):
        redo(two.ada)
    assert {name: rows for name, rows in kept(two.ada).items() if name not in RENUMBERED} == state
    assert _levels(two.ada) == levels


def _levels(desk: Desk) -> tuple[int, int | None]:
    line = read_history(desk, 1).line
    return line.on_hand, one_value(desk, "SELECT SUM(cost_minor) FROM movement WHERE consumable_id = 1")  # type: ignore[return-value]


def test_redo_takes_no_more_than_there_is(two: Two) -> None:
    unit_id = add_unit(two.ada, maker="", model="Lead", route_id=LEAD).unit_id
    task_id = first_task(two.ada, unit_id)
    count_stock(two.bo, 1, quantity_text="0", reason="begin bare")
    restock(two.bo, 1, quantity_text="5")
    finish_task(two.ada, task_id, uses={1: 4000})
    undo(two.ada)
    other = add_unit(two.bo, maker="", model="Lead", route_id=LEAD).unit_id
    finish_task(two.bo, first_task(two.bo, other), uses={1: 4000})
    changes_nothing(two.ada, lambda: redo(two.ada), Refused, "4 ml asked for, 1 ml left")


def test_a_buyer_who_bought_again_stays(two: Two) -> None:
    from bench.work.selling import sell_unit

    other = add_unit(two.bo, maker="", model="Other").unit_id
    bare_of_drives(two.ada, two.unit_id)
    bare_of_drives(two.bo, other)
    sell_unit(two.ada, two.unit_id, price_text="300", buyer_name="Quendolin")
    sell_unit(two.bo, other, price_text="200", buyer_name="Quendolin")
    undo(two.ada)
    assert one_value(two.ada, "SELECT SUM(removed) FROM party") == 0
    redo(two.ada)


def test_no_number_is_ever_given_twice(two: Two) -> None:
    unit_id = add_unit(two.ada, maker="", model="Lead", route_id=LEAD).unit_id
    task_id = first_task(two.ada, unit_id)
    first = start_task(two.ada, task_id).entry_id
    undo(two.ada)
    second = start_task(two.ada, task_id).entry_id
    assert second != first
    tick(two.ada, unit_id, OPENING, ["strap"])
    ticked = one_value(two.ada, "SELECT MAX(id) FROM safety_check")
    untick(two.ada, unit_id, OPENING, "strap")
    tick(two.ada, unit_id, OPENING, ["strap"])
    assert one_value(two.ada, "SELECT MAX(id) FROM safety_check") != ticked


def test_what_undo_would_do_is_said_beforehand(two: Two) -> None:
    edit(two.ada, two.unit_id, note="scratch")
    report_cell(two.ada, two.unit_id, "wet")
    hold_unit(two.bo, add_unit(two.bo, maker="", model="Bo's").unit_id, "waits")
    offers = read_offers_to_undo(two.ada)
    assert [(one.summary.split(" on ")[0], one.again, one.needs_reason) for one in offers[:2]] == [
        ("Stopped work", False, "What was done about the cell"),
        ("Edited 10014", False, ""),
    ]
    assert "stands on it" in offers[2].refusal
    theirs = read_offer_to_undo(two.ada, newest(two.ada))
    assert theirs is not None
    assert "only they can" in theirs.refusal
    undo(two.ada, offers[1].journal_id)
    undone = read_offer_to_undo(two.ada, offers[1].journal_id)
    assert undone is not None
    assert (undone.again, undone.refusal) == (True, "")
    assert read_offers_to_undo(two.ada, again=True) == (undone,)


def test_the_unit_is_safe_to_open_after_undo_of_a_report(two: Two) -> None:
    """Nothing of the lists is changed by a report that was a slip."""
    tick(two.ada, two.unit_id, OPENING, list(OPENING_ITEMS))
    before = read_safety(two.ada, two.unit_id)
    report_cell(two.ada, two.unit_id, "wet")
    undo(two.ada, reason="wrong unit")
    assert read_safety(two.ada, two.unit_id) == before
