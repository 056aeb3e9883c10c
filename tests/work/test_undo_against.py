"""Undo tried as one who wants it to lie: others went on from an act, or the act itself would be refused."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from bench.desk import Desk
from bench.domain.lots import LotUnit
from bench.domain.safety import BEFORE_THE_COVER, OPENING, OPENING_ITEMS
from bench.errors import BenchError, Conflict, ListingFirst, Refused, WipeFirst
from bench.views.grades import read_scale
from bench.views.journal import read_journal
from bench.views.lots import read_lot
from bench.views.sales import read_sales
from bench.views.stock import read_stock
from bench.views.trade import read_channels
from bench.views.unit import read_unit
from bench.work.arrivals import take_in
from bench.work.check import check_record
from bench.work.comebacks import correct_return, take_return
from bench.work.consumables import edit_consumable, remove_consumable, set_code
from bench.work.drive_moves import move_drive
from bench.work.drives import add_drive, edit_drive, remove_drive
from bench.work.grades import set_grade
from bench.work.leaving import leave_unit
from bench.work.lots import buy_lot, reshare_lot
from bench.work.moves import hold_unit, move_unit, release_unit
from bench.work.orders import order_part
from bench.work.outcomes import end_test
from bench.work.parts import fit_part
from bench.work.readings import add_reading
from bench.work.safety import clear_cell, report_cell, tick
from bench.work.selling import sell_unit, set_shipping
from bench.work.shop import add_person, set_stage_lists
from bench.work.stock import restock
from bench.work.tasks import set_task_use
from bench.work.timers import finish_task, start_task
from bench.work.trade import add_channel, remove_channel
from bench.work.undo import redo, undo
from bench.work.units import add_unit
from bench.work.waivers import list_without, no_drive_in_it
from bench.work.wipes import record_wipe, remove_wipe, verify_wipe
from tests.clocks import HandSetClock
from tests.work.sale_steps import stage
from tests.work.taking_back import changes_nothing

ROUTE = 1


@dataclass
class Two:
    """Two people at one file, and a unit of the shop's."""

    ada: Desk
    bo: Desk
    unit_id: int
    clock: HandSetClock


@pytest.fixture
def two(desk: Desk, clock: HandSetClock) -> Two:
    bo = Desk(desk.store, clock, add_person(desk, "Bo"))
    unit_id = add_unit(desk, maker="Invented", model="One", price_text="80").unit_id
    return Two(desk, bo, unit_id, clock)


def newest(desk: Desk) -> int:
    return read_journal(desk, limit=1).lines[0].journal_id


def wiped_drive(desk: Desk, unit_id: int | None, serial: str) -> int:
    drive_id = add_drive(desk, unit_id, serial=serial)
    wipe(desk, drive_id)
    return drive_id


def wipe(desk: Desk, drive_id: int) -> None:
    wipe_id = record_wipe(desk, drive_id, method="clear", technique="overwrite").wipe_id
    verify_wipe(desk, wipe_id, result="passed", verification="read back")


def sold_and_back(two: Two, refund: str = "") -> int:
    """Sold by Bo, taken back by Ada; answers the line of the return."""
    wiped_drive(two.bo, two.unit_id, "S-1")
    sell_unit(two.bo, two.unit_id, price_text="300", open_tasks="skip", reason="sold as it is")
    two.clock.advance(5)
    take_return(
        two.ada, two.unit_id, reason="too slow", refund_text=refund, stage_id=stage(two.ada, "inspected")
    )
    two.clock.advance(5)
    return newest(two.ada)


def refused(two: Two, line: int, error: type[BenchError] = Conflict, match: str = "stands on it") -> None:
    changes_nothing(two.ada, lambda: undo(two.ada, line, reason="slip"), error, match)
    with two.ada.store.read() as connection:
        assert check_record(connection).rules == ()


# A unit that came back and was worked on was not with its buyer.


@pytest.mark.parametrize(
    "work",
    [*("cover", "wipe", "reading", "grade", "drive"), *("looked", "reason", "listed", "test", "order")],
)
def test_a_return_is_not_undone_over_work_on_what_came_back(two: Two, work: str) -> None:
    line = sold_and_back(two)
    bo, unit_id = two.bo, two.unit_id
    if work == "cover":
        tick(bo, unit_id, OPENING, list(OPENING_ITEMS), screws=4)
    elif work == "wipe":
        wipe(bo, 1)
    elif work == "reading":
        add_reading(bo, unit_id, moment="after", subject="battery", fields={"design": "57", "full": "40"})
    elif work == "grade":
        step = next(one.step_id for one in read_scale(bo) if one.name == "no visible wear")
        set_grade(bo, unit_id, "lid", looks_step_id=step)
    elif work == "drive":
        add_drive(bo, unit_id, serial="S-2")
    elif work == "looked":
        remove_drive(bo, 1, "taken out")
        no_drive_in_it(bo, unit_id)
    elif work == "reason":
        list_without(bo, unit_id, "the buyer wipes it")
    elif work == "test":
        end_test(bo, unit_id, kind="sound", outcome="passed")
    elif work == "order":
        order_part(bo, unit_id, what="fan")
    else:
        list_without(bo, unit_id, "the buyer wipes it")
        move_unit(bo, unit_id, stage(bo, "listed"))
    refused(two, line)


def test_ticks_before_the_cover_count_as_work_too(two: Two) -> None:
    line = sold_and_back(two)
    tick(two.bo, two.unit_id, OPENING, list(BEFORE_THE_COVER))
    refused(two, line)


def test_a_return_corrected_by_someone_is_not_undone(two: Two) -> None:
    line = sold_and_back(two)
    correct_return(two.bo, two.unit_id, reason="repair failed", refund_text="300")
    refused(two, line)


def test_a_correction_is_not_undone_once_the_unit_was_sold_anew(two: Two) -> None:
    sold_and_back(two)
    correct_return(two.ada, two.unit_id, reason="repair failed", refund_text="300")
    line = newest(two.ada)
    list_without(two.bo, two.unit_id, "the buyer wipes it")
    sell_unit(two.bo, two.unit_id, price_text="250", open_tasks="skip", reason="sold as it is")
    refused(two, line)
    assert len(read_sales(two.ada, two.unit_id).sales) == 2


def test_a_sale_is_not_undone_over_what_was_typed_of_it(two: Two) -> None:
    wiped_drive(two.ada, two.unit_id, "S-1")
    sell_unit(two.ada, two.unit_id, price_text="300", open_tasks="skip", reason="sold as it is")
    line = newest(two.ada)
    set_shipping(two.bo, two.unit_id, "7")
    refused(two, line)


def test_what_was_kept_and_then_sold_was_not_kept_in_vain(two: Two) -> None:
    wiped_drive(two.ada, two.unit_id, "S-1")
    leave_unit(two.ada, two.unit_id, way="kept", reason="for the counter")
    line = newest(two.ada)
    sell_unit(two.bo, two.unit_id, price_text="300")
    refused(two, line)
    undo(two.bo)
    undo(two.ada, line)
    changes_nothing(two.bo, lambda: redo(two.bo), Conflict, "stands on it")


def test_what_was_set_anew_and_set_back_was_set_all_the_same(two: Two) -> None:
    hold_unit(two.ada, two.unit_id, "part on order")
    release_unit(two.ada, two.unit_id)
    line = newest(two.ada)
    hold_unit(two.bo, two.unit_id, "owner asks")
    release_unit(two.bo, two.unit_id)
    refused(two, line)
    undo(two.bo)
    undo(two.bo)
    undo(two.ada, line)


# A cell dealt with: what was done since was done because it was.


@pytest.mark.parametrize("work", ["part", "wipe", "task", "drive", "test"])
def test_a_cell_dealt_with_is_not_bad_again_over_what_was_done_since(two: Two, work: str) -> None:
    unit_id = add_unit(two.ada, maker="", model="Two", route_id=ROUTE, price_text="50").unit_id
    drive_id = add_drive(two.ada, unit_id, serial="S-1")
    report_cell(two.bo, unit_id, "swollen")
    clear_cell(two.ada, unit_id, "pack replaced")
    line = newest(two.ada)
    if work == "part":
        fit_part(two.bo, unit_id, name="pack", cost_text="20")
    elif work == "wipe":
        wipe(two.bo, drive_id)
    elif work == "task":
        finish_task(two.bo, read_unit(two.bo, unit_id).tasks[0].task_id, uses={})
    elif work == "test":
        end_test(two.bo, unit_id, outcome="broken off", kind="screen")
    else:
        move_drive(two.bo, drive_id, None, cost_text="0")
    refused(two, line)


# What is one thing's alone.


def test_a_cell_is_not_bad_again_over_a_wipe_that_was_taken_off_the_records(two: Two) -> None:
    drive_id = add_drive(two.bo, two.unit_id, serial="S-1")
    report_cell(two.ada, two.unit_id, "wet")
    line = newest(two.ada)
    undo(two.ada, line, reason="slip")
    wipe_id = record_wipe(two.bo, drive_id, method="clear", technique="overwrite").wipe_id
    remove_wipe(two.bo, wipe_id, "another drive")
    with pytest.raises(Conflict, match="stands on it"):
        redo(two.ada, line)


def test_no_two_drives_come_to_one_serial_number(two: Two) -> None:
    drive_id = add_drive(two.ada, two.unit_id, serial="S-1")
    named = {"maker": "", "model": "", "media_type": "", "media_number": "", "size_text": "", "came_from": ""}
    edit_drive(two.ada, drive_id, serial="S-2", **named)
    line = newest(two.ada)
    add_drive(two.bo, None, serial="S-1")
    refused(two, line)
    remove_drive(two.ada, drive_id, "shredded")
    line = newest(two.ada)
    add_drive(two.bo, None, serial="S-2")
    refused(two, line)


def test_no_two_consumables_come_to_one_code(two: Two) -> None:
    set_code(two.ada, 1, "K-1")
    set_code(two.ada, 1, "")
    line = newest(two.ada)
    set_code(two.bo, 2, "k-1")
    refused(two, line)


def test_no_two_channels_come_to_one_name(two: Two) -> None:
    add_channel(two.ada, "by post")
    channel_id = next(one.channel_id for one in read_channels(two.ada) if one.name == "by post")
    remove_channel(two.ada, channel_id)
    line = newest(two.ada)
    add_channel(two.bo, "by post")
    refused(two, line)


def test_a_drive_whose_wipe_was_taken_off_the_records_was_wiped_all_the_same(two: Two) -> None:
    drive_id = add_drive(two.ada, two.unit_id, serial="S-1")
    line = newest(two.ada)
    wipe_id = record_wipe(two.bo, drive_id, method="clear", technique="overwrite").wipe_id
    remove_wipe(two.bo, wipe_id, "it was another drive")
    refused(two, line)
    undo(two.bo)
    undo(two.bo, reason="slip")
    undo(two.ada, line, reason="slip")


def test_a_drive_that_a_typed_reason_is_about_is_not_undone(two: Two) -> None:
    drive_id = add_drive(two.ada, two.unit_id, serial="S-1")
    added = newest(two.ada)
    list_without(two.bo, two.unit_id, "the buyer wipes it")
    refused(two, added)
    move_drive(two.ada, drive_id, None, cost_text="0")
    undo(two.ada)
    undo(two.bo)
    undo(two.ada, added, reason="slip")


# Gates of the act itself.


def test_what_a_finished_task_takes_stays_as_it_was_booked(two: Two) -> None:
    unit_id = add_unit(two.ada, maker="", model="Two", route_id=ROUTE).unit_id
    task_id = read_unit(two.ada, unit_id).tasks[0].task_id
    restock(two.ada, 1, quantity_text="100", price_text="10")
    set_task_use(two.ada, task_id, 1, "5")
    line = newest(two.ada)
    finish_task(two.bo, task_id)
    refused(two, line, Refused, "is done already")


def test_that_none_was_seen_in_it_is_not_undone_under_a_listed_unit(two: Two) -> None:
    no_drive_in_it(two.ada, two.unit_id)
    line = newest(two.ada)
    move_unit(two.bo, two.unit_id, stage(two.bo, "listed"))
    refused(two, line, ListingFirst, "no drive is recorded")


def test_what_a_listing_stood_on_is_not_undone_once_the_unit_is_taken_down(two: Two) -> None:
    no_drive_in_it(two.ada, two.unit_id)
    line = newest(two.ada)
    move_unit(two.bo, two.unit_id, stage(two.bo, "listed"))
    move_unit(two.bo, two.unit_id, stage(two.bo, "received"), done_tasks="keep")
    refused(two, line)


def test_a_part_did_not_arrive_in_vain_for_a_task_that_began_since(two: Two) -> None:
    unit_id = add_unit(two.ada, maker="Invented", model="One", route_id=1).unit_id
    task_id = read_unit(two.ada, unit_id).tasks[0].task_id
    order_id = order_part(two.ada, unit_id, what="fan", price_text="7", task_ids=[task_id]).order_id
    take_in(two.ada, order_id)
    line = newest(two.ada)
    start_task(two.bo, task_id)
    refused(two, line)


def test_which_stage_lists_is_not_undone_over_a_unit_with_a_drive_unwiped(two: Two) -> None:
    set_stage_lists(two.ada, stage(two.ada, "inspected"), lists=True)
    set_stage_lists(two.ada, stage(two.ada, "inspected"), lists=False)
    line = newest(two.ada)
    add_drive(two.bo, two.unit_id, serial="S-1")
    move_unit(two.bo, two.unit_id, stage(two.bo, "closed"))
    changes_nothing(two.ada, lambda: undo(two.ada, line), WipeFirst, "S-1")


def test_a_drive_taken_out_does_not_come_back_unwiped_under_a_sale(two: Two) -> None:
    drive_id = add_drive(two.ada, two.unit_id, serial="S-1")
    move_drive(two.ada, drive_id, None, cost_text="0")
    line = newest(two.ada)
    no_drive_in_it(two.bo, two.unit_id)
    sell_unit(two.bo, two.unit_id, price_text="300", open_tasks="skip", reason="sold as it is")
    refused(two, line)


def test_a_wipe_is_not_undone_where_its_drive_went_on_into_a_listed_unit(two: Two) -> None:
    drive_id = add_drive(two.ada, two.unit_id, serial="S-1")
    wipe_id = record_wipe(two.ada, drive_id, method="clear", technique="overwrite").wipe_id
    verify_wipe(two.ada, wipe_id, result="passed", verification="read back")
    line = newest(two.ada)
    other = add_unit(two.bo, maker="", model="Other", price_text="50").unit_id
    no_drive_in_it(two.bo, other)
    move_unit(two.bo, other, stage(two.bo, "listed"))
    move_drive(two.bo, drive_id, other, cost_text="0")
    refused(two, line, WipeFirst, "S-1")


def test_shares_are_not_undone_once_a_unit_of_the_lot_was_sold(two: Two) -> None:
    lot = buy_lot(
        two.bo,
        name="Pair",
        price_text="100",
        units=[LotUnit("", "A", expected_text="90"), LotUnit("", "B", expected_text="90")],
    )
    units = [one.unit_id for one in read_lot(two.bo, lot.lot_id).lines]
    reshare_lot(two.ada, lot.lot_id, expected={units[0]: "300", units[1]: "90"})
    line = newest(two.ada)
    no_drive_in_it(two.bo, units[0])
    sell_unit(two.bo, units[0], price_text="300", open_tasks="skip", reason="sold as it is")
    refused(two, line)


def test_a_consumable_does_not_come_back_onto_a_name_that_was_taken(two: Two) -> None:
    line_of = {one.consumable_id: one for one in read_stock(two.ada).lines}
    first = line_of[1]
    remove_consumable(two.ada, 1)
    line = newest(two.ada)
    second = line_of[2]
    edit_consumable(
        two.bo,
        2,
        name=first.name,
        base_unit=second.base_unit,
        pack_text="1",
        lead_days_text=str(second.lead_days),
        shelf_life_text="",
        reorder_text="",
    )
    refused(two, line)


def test_each_undoes_only_what_is_their_own(two: Two) -> None:
    no_drive_in_it(two.bo, two.unit_id)
    changes_nothing(two.ada, lambda: undo(two.ada, newest(two.bo)), Refused, "Bo's")
