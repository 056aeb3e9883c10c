"""No transaction leaves a unit listed or sold with an unwiped drive; what turns out is kept."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from bench.desk import Desk
from bench.domain.holding import NO_DRIVE
from bench.errors import BenchError, Conflict, ListingFirst, WipeFirst
from bench.store.tables import Drive, Unit, Unwiped
from bench.views.drives import read_drives
from bench.views.journal import read_journal
from bench.views.unit import read_unit
from bench.work.change import change
from bench.work.check import check_record
from bench.work.comebacks import take_return
from bench.work.drive_moves import move_drive
from bench.work.drives import add_drive, remove_drive
from bench.work.leaving import leave_unit
from bench.work.moves import hold_unit, move_unit, release_unit
from bench.work.outcomes import end_test
from bench.work.purchases import edit_purchase
from bench.work.selling import sell_unit
from bench.work.shop import set_stage_lists
from bench.work.undo import redo, undo
from bench.work.units import add_unit
from bench.work.waivers import list_without, no_drive_in_it
from bench.work.wipes import record_wipe, remove_wipe, verify_wipe
from tests.clocks import HandSetClock
from tests.work.sale_steps import stage, stocked, trading

WAITS = "a drive in it has no passed wipe"


@pytest.fixture
def unit_id(desk: Desk) -> int:
    trading(desk)
    return stocked(desk)


def wipe(desk: Desk, drive_id: int, result: str = "passed") -> int:
    wipe_id = record_wipe(desk, drive_id, method="clear", technique="overwrite").wipe_id
    if result:
        verify_wipe(desk, wipe_id, result=result, verification="read back")
    return wipe_id


def listed(desk: Desk, unit_id: int) -> int:
    """The unit listed with a wiped drive; answers the wipe."""
    wipe_id = wipe(desk, add_drive(desk, unit_id, serial="S-1"))
    move_unit(desk, unit_id, stage(desk, "listed"))
    return wipe_id


def newest(desk: Desk) -> int:
    return read_journal(desk).lines[0].journal_id


def drive_of(desk: Desk, unit_id: int) -> int:
    return read_drives(desk, unit_id).drives[0].drive_id


def held(desk: Desk, unit_id: int) -> str:
    with desk.store.read() as connection:
        row = connection.execute("SELECT held_reason FROM unit WHERE id = ?", (unit_id,)).fetchone()
    return row[0] or ""


def broken(desk: Desk) -> tuple[str, ...]:
    with desk.store.read() as connection:
        return check_record(connection).rules


def refused(desk: Desk, act: Callable[[], object], error: type[BenchError]) -> str:
    before = len(read_journal(desk).lines)
    with pytest.raises(error) as refusal:
        act()
    assert len(read_journal(desk).lines) == before
    assert broken(desk) == ()
    return refusal.value.what


def test_a_unit_kept_for_the_shop_is_not_sold_with_its_drive_unwiped(desk: Desk, unit_id: int) -> None:
    add_drive(desk, unit_id, serial="S-1")
    leave_unit(desk, unit_id, way="kept", reason="for the counter")
    said = refused(desk, lambda: sell_unit(desk, unit_id, price_text="700"), WipeFirst)
    assert "S-1" in said
    list_without(desk, unit_id, "the buyer wipes it")
    sell_unit(desk, unit_id, price_text="700")
    assert broken(desk) == ()


def test_a_unit_kept_for_the_shop_is_looked_into_before_it_is_sold(desk: Desk) -> None:
    unit_id = add_unit(desk, maker="Invented", model="One", price_text="300").unit_id
    leave_unit(desk, unit_id, way="kept", reason="for the counter")
    refused(desk, lambda: sell_unit(desk, unit_id, price_text="700"), ListingFirst)
    no_drive_in_it(desk, unit_id)
    sell_unit(desk, unit_id, price_text="700")


def test_no_stage_begins_to_list_under_a_unit_with_a_drive_unwiped(desk: Desk, unit_id: int) -> None:
    add_drive(desk, unit_id, serial="S-1")
    move_unit(desk, unit_id, stage(desk, "graded"))
    passed = stage(desk, "inspected")  # its own must be empty to be set at all
    refused(desk, lambda: set_stage_lists(desk, passed, lists=True), WipeFirst)
    list_without(desk, unit_id, "the buyer wipes it")
    set_stage_lists(desk, passed, lists=True)


def test_a_rule_of_the_state_stops_what_goes_round_every_use_case(desk: Desk, unit_id: int) -> None:
    listed(desk, unit_id)
    other = add_drive(desk, None, serial="S-2")
    with pytest.raises(WipeFirst, match="S-2"), change(desk, "slip") as made:
        made.get(Drive, other, "drive").unit_id = unit_id
    with pytest.raises(ListingFirst, match="no drive is recorded"), change(desk, "slip") as made:
        made.get(Drive, drive_of(desk, unit_id), "drive").unit_id = None
    assert broken(desk) == ()


def test_no_reason_is_taken_from_under_a_unit_that_stands_on_it(desk: Desk, unit_id: int) -> None:
    add_drive(desk, unit_id, serial="S-1")
    list_without(desk, unit_id, "the buyer wipes it")
    line = read_journal(desk).lines[0].journal_id
    move_unit(desk, unit_id, stage(desk, "listed"))
    refused(desk, lambda: undo(desk, line), WipeFirst)
    with pytest.raises(WipeFirst), change(desk, "slip") as made:
        made.get(Unwiped, 2, "reason").removed = 1
    sell_unit(desk, unit_id, price_text="700")
    refused(desk, lambda: undo(desk, line), BenchError)


def test_a_failed_wipe_of_a_listed_unit_is_recorded_and_the_unit_waits(desk: Desk, unit_id: int) -> None:
    listed(desk, unit_id)
    drive_id = drive_of(desk, unit_id)
    wipe_id = wipe(desk, drive_id, "")
    assert held(desk, unit_id) == WAITS
    verify_wipe(desk, wipe_id, result="failed", verification="read back: data left")
    refused(desk, lambda: release_unit(desk, unit_id), WipeFirst)
    refused(desk, lambda: sell_unit(desk, unit_id, price_text="700"), WipeFirst)
    wipe(desk, drive_id)
    assert held(desk, unit_id) == ""
    assert read_journal(desk).lines[0].summary.endswith(f"{read_unit(desk, unit_id).tag} goes on")
    sell_unit(desk, unit_id, price_text="700")


def test_a_reason_or_moving_back_ends_the_waiting(desk: Desk, unit_id: int) -> None:
    listed(desk, unit_id)
    add_drive(desk, unit_id, serial="S-2")
    assert held(desk, unit_id) == WAITS
    move_unit(desk, unit_id, stage(desk, "graded"))
    assert held(desk, unit_id) == ""
    wipe(desk, read_drives(desk, unit_id).drives[1].drive_id)
    move_unit(desk, unit_id, stage(desk, "listed"))
    add_drive(desk, unit_id, serial="S-3")
    list_without(desk, unit_id, "the buyer wipes it")
    assert held(desk, unit_id) == ""


def test_undoing_what_turned_out_ends_the_waiting_with_it_and_redo_brings_it_back(
    desk: Desk, unit_id: int
) -> None:
    listed(desk, unit_id)
    add_drive(desk, unit_id, serial="S-2")
    line = read_journal(desk).lines[0].journal_id
    undo(desk, line, reason="another unit's")
    assert held(desk, unit_id) == ""
    assert broken(desk) == ()


def test_a_wipe_taken_off_the_records_of_a_listed_unit_makes_it_wait(desk: Desk, unit_id: int) -> None:
    wipe_id = listed(desk, unit_id)
    remove_wipe(desk, wipe_id, "it was another drive")
    assert held(desk, unit_id) == WAITS
    assert broken(desk) == ()


def test_what_turns_out_after_a_sale_is_recorded_said_and_named_until_answered(
    desk: Desk, unit_id: int
) -> None:
    wipe_id = listed(desk, unit_id)
    tag = read_unit(desk, unit_id).tag
    sell_unit(desk, unit_id, price_text="700")
    remove_wipe(desk, wipe_id, "it was another drive")
    assert read_journal(desk).lines[0].summary.endswith(f"; {tag} has left with it")
    assert held(desk, unit_id) == ""
    assert broken(desk) == (
        f"Unit {tag} has left the shop and no passed wipe is recorded for its drive S-1.",
    )
    list_without(desk, unit_id, "the buyer was told and wiped it")
    assert broken(desk) == ()


def test_whoever_takes_the_last_drive_out_has_said_that_none_is_in_it(desk: Desk, unit_id: int) -> None:
    listed(desk, unit_id)
    drive_id = drive_of(desk, unit_id)
    move_drive(desk, drive_id, None, cost_text="0")
    looked = read_drives(desk, unit_id).looked
    assert looked is not None
    assert (looked.reason, looked.person, looked.covers) == ("S-1 was taken out", "Ada", (NO_DRIVE,))
    assert broken(desk) == ()
    undo(desk)
    assert [one.drive_id for one in read_drives(desk, unit_id).drives] == [drive_id]
    assert read_drives(desk, unit_id).looked is None
    redo(desk)
    assert broken(desk) == ()


def test_a_drive_taken_off_the_records_of_a_sold_unit_leaves_its_reason(desk: Desk, unit_id: int) -> None:
    listed(desk, unit_id)
    sell_unit(desk, unit_id, price_text="700")
    remove_drive(desk, drive_of(desk, unit_id), "never was in it")
    looked = read_drives(desk, unit_id).looked
    assert looked is not None
    assert looked.reason == "S-1 off the records: never was in it"


def test_a_day_of_purchase_set_later_than_the_wipe_makes_the_listed_unit_wait(
    desk: Desk, unit_id: int, clock: HandSetClock
) -> None:
    listed(desk, unit_id)
    clock.advance(minutes=3 * 24 * 60)
    edit_purchase(desk, unit_id, expected_text="", bought_on_text="today", invoice="")
    assert held(desk, unit_id) == WAITS
    edit_purchase(desk, unit_id, expected_text="", bought_on_text="", invoice="")
    assert held(desk, unit_id) == ""


def test_a_test_that_failed_while_it_waited_for_its_drive_holds_it_on(desk: Desk, unit_id: int) -> None:
    listed(desk, unit_id)
    drive_id = add_drive(desk, unit_id, serial="S-2")
    end_test(desk, unit_id, kind="sound", outcome="failed")
    assert held(desk, unit_id) == WAITS
    wipe(desk, drive_id)
    assert held(desk, unit_id) == "sound test failed"


def test_a_listed_unit_goes_on_once_the_drive_it_waited_for_is_taken_out(desk: Desk, unit_id: int) -> None:
    no_drive_in_it(desk, unit_id)
    move_unit(desk, unit_id, stage(desk, "listed"))
    drive_id = add_drive(desk, unit_id, serial="S-2")
    assert held(desk, unit_id) == WAITS
    move_drive(desk, drive_id, None, cost_text="0")
    assert read_unit(desk, unit_id).held is None


@pytest.mark.parametrize("found", ["drive", "test"])
def test_a_listing_is_not_undone_while_the_unit_waits_for_what_turned_out(
    desk: Desk, unit_id: int, found: str
) -> None:
    listed(desk, unit_id)
    move = newest(desk)
    if found == "drive":
        add_drive(desk, unit_id, serial="S-2")
    else:
        end_test(desk, unit_id, kind="sound", outcome="failed")
    with pytest.raises(Conflict, match="stands on it"):
        undo(desk, move)
    undo(desk, reason="a slip")
    undo(desk, move)
    assert read_unit(desk, unit_id).held is None


@pytest.mark.parametrize("found", ["drive", "test"])
def test_a_unit_does_not_wait_again_once_its_listing_is_undone(desk: Desk, unit_id: int, found: str) -> None:
    no_drive_in_it(desk, unit_id)
    move_unit(desk, unit_id, stage(desk, "listed"))
    move = newest(desk)
    if found == "drive":
        move_drive(desk, add_drive(desk, unit_id, serial="S-2"), None, cost_text="0")
    else:
        end_test(desk, unit_id, kind="sound", outcome="failed")
        release_unit(desk, unit_id)
    went_on = newest(desk)
    undo(desk, move)
    with pytest.raises(Conflict, match="Undid: Moved"):
        undo(desk, went_on)
    assert read_unit(desk, unit_id).held is None


def test_a_hold_by_hand_is_not_undone_over_a_test_that_failed_while_it_was_listed(
    desk: Desk, unit_id: int
) -> None:
    listed(desk, unit_id)
    hold_unit(desk, unit_id, "a buyer looks at it")
    line = newest(desk)
    end_test(desk, unit_id, kind="sound", outcome="failed")
    with pytest.raises(Conflict, match="stands on it"):
        undo(desk, line)
    assert held(desk, unit_id) == "a buyer looks at it"
    undo(desk, reason="a slip")
    undo(desk, line)
    assert read_unit(desk, unit_id).held is None


def test_a_unit_back_from_its_buyer_is_not_listed_until_it_is_listed_again(
    desk: Desk, unit_id: int, clock: HandSetClock
) -> None:
    listed(desk, unit_id)
    sell_unit(desk, unit_id, price_text="700")
    clock.advance(minutes=5)
    take_return(desk, unit_id, reason="too slow", refund_text="700", stage_id=stage(desk, "graded"))
    assert (held(desk, unit_id), broken(desk)) == ("", ())
    refused(desk, lambda: move_unit(desk, unit_id, stage(desk, "listed")), WipeFirst)


def test_what_was_listed_before_the_rule_may_go_on_but_is_named(desk: Desk, unit_id: int) -> None:
    listed(desk, unit_id)
    with desk.store.write() as session:
        session.add(Drive(unit_id=unit_id, serial="S-9"))
    assert len(broken(desk)) == 1
    with change(desk, "note") as made:
        made.get(Unit, unit_id, "unit").note = "came with a bag"
    assert (len(broken(desk)), held(desk, unit_id)) == (1, "")
    with pytest.raises(WipeFirst, match="S-9"):
        sell_unit(desk, unit_id, price_text="700")
    list_without(desk, unit_id, "the buyer wipes it")
    sell_unit(desk, unit_id, price_text="700")
    assert broken(desk) == ()
