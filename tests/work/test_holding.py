"""What is found holds for the condition it was found in: a return or the cover off again ends it."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.domain.safety import BEFORE_THE_COVER, CLOSING, OPENING
from bench.errors import ListingFirst, Refused, WipeFirst
from bench.reports.listing import listing_text
from bench.views.buyer_sheet import read_buyer_sheet
from bench.views.certificate import read_certificate
from bench.views.drives import read_drive, read_drives
from bench.views.grades import read_scale
from bench.views.journal import read_journal
from bench.views.listing import read_listing
from bench.views.shop import read_stages
from bench.views.unit import read_unit
from bench.work.comebacks import take_return
from bench.work.drives import add_drive
from bench.work.grades import set_grade
from bench.work.moves import move_unit
from bench.work.purchases import edit_purchase
from bench.work.readings import add_reading
from bench.work.safety import go_on_without, tick
from bench.work.selling import sell_unit
from bench.work.tasks import add_task
from bench.work.timers import finish_task, reopen_task
from bench.work.undo import undo
from bench.work.units import add_unit
from bench.work.waivers import list_without, no_drive_in_it
from bench.work.wipes import record_wipe, verify_wipe
from tests.clocks import HandSetClock
from tests.work.taking_back import changes_nothing
from tests.work.trade_steps import set_trade

DAY = 24 * 60


@pytest.fixture
def unit_id(desk: Desk) -> int:
    return add_unit(desk, maker="Invented", model="One").unit_id


@pytest.fixture
def drive_id(desk: Desk, unit_id: int) -> int:
    return add_drive(desk, unit_id, model="NV-512", serial="NV512-0001")


def stage(desk: Desk, name: str) -> int:
    return next(one.stage_id for one in read_stages(desk) if one.name == name)


def move_to(desk: Desk, unit_id: int, name: str) -> None:
    move_unit(desk, unit_id, stage(desk, name))


def wiped(desk: Desk, drive_id: int, at_text: str = "") -> int:
    kept = record_wipe(desk, drive_id, method="purge", technique="NVMe sanitize", at_text=at_text)
    verify_wipe(desk, kept.wipe_id, result="passed", verification="read back in full")
    return kept.wipe_id


def bought(desk: Desk, unit_id: int, day: str) -> None:
    edit_purchase(desk, unit_id, expected_text="", bought_on_text=day, invoice="")


def test_a_return_ends_the_wipe_for_the_buyer_had_the_drive(
    desk: Desk, unit_id: int, drive_id: int, clock: HandSetClock
) -> None:
    wipe_id = wiped(desk, drive_id)
    move_to(desk, unit_id, "listed")
    sell_unit(desk, unit_id, price_text="100")
    clock.advance(minutes=DAY)
    take_return(desk, unit_id, reason="too slow", refund_text="100", stage_id=stage(desk, "received"))
    assert not read_drive(desk, drive_id).wiped
    assert read_drive(desk, drive_id).standing == "wiped before its last owner had it"
    with pytest.raises(WipeFirst, match="NV512-0001"):
        move_to(desk, unit_id, "listed")
    with pytest.raises(Refused, match="certifies nothing any more"):
        read_certificate(desk, wipe_id)
    clock.advance(minutes=1)
    wiped(desk, drive_id)
    move_to(desk, unit_id, "listed")


def test_a_return_taken_back_ends_nothing(
    desk: Desk, unit_id: int, drive_id: int, clock: HandSetClock
) -> None:
    wiped(desk, drive_id)
    sell_unit(desk, unit_id, price_text="100")
    clock.advance(minutes=1)
    take_return(desk, unit_id, reason="wrong unit", refund_text="", stage_id=stage(desk, "received"))
    undo(desk)
    assert read_drive(desk, drive_id).wiped


def test_a_unit_moved_back_from_outside_without_a_return_is_no_way_round(
    desk: Desk, unit_id: int, drive_id: int, clock: HandSetClock
) -> None:
    wiped(desk, drive_id)
    sell_unit(desk, unit_id, price_text="100")
    clock.advance(minutes=1)
    move_to(desk, unit_id, "received")
    assert not read_drive(desk, drive_id).wiped
    clock.advance(minutes=1)
    wiped(desk, drive_id)
    clock.advance(minutes=1)  # the return is recorded late: the wipe was made after the unit was back
    take_return(desk, unit_id, reason="too slow", refund_text="", stage_id=stage(desk, "received"))
    assert read_drive(desk, drive_id).wiped


def test_the_cover_off_again_does_not_end_a_wipe(
    desk: Desk, unit_id: int, drive_id: int, clock: HandSetClock
) -> None:
    wiped(desk, drive_id)
    clock.advance(minutes=1)
    tick(desk, unit_id, OPENING, list(BEFORE_THE_COVER))
    move_to(desk, unit_id, "opened")
    assert read_drive(desk, drive_id).wiped


def test_a_drive_recorded_after_a_return_was_with_the_buyer_too(
    desk: Desk, unit_id: int, drive_id: int, clock: HandSetClock
) -> None:
    wiped(desk, drive_id)
    sell_unit(desk, unit_id, price_text="100")
    clock.advance(minutes=DAY)
    move_to(desk, unit_id, "received")
    found = add_drive(desk, unit_id, model="HD-500")
    wiped(desk, found, at_text="yesterday 20:00")
    assert not read_drive(desk, found).wiped


def test_a_wipe_dated_before_the_purchase_does_not_count(desk: Desk, unit_id: int, drive_id: int) -> None:
    bought(desk, unit_id, "2026-11-23")
    wipe_id = wiped(desk, drive_id, at_text="2026-11-22 18:00")
    assert not read_drive(desk, drive_id).wiped
    (told,) = read_drives(desk, unit_id).not_wiped
    assert told.wipes[0].wipe_id == wipe_id
    with pytest.raises(WipeFirst):
        move_to(desk, unit_id, "listed")
    kept = record_wipe(desk, drive_id, method="purge", technique="x", at_text="2026-11-23 00:30")
    assert verify_wipe(desk, kept.wipe_id, result="passed", verification="read back").counts
    move_to(desk, unit_id, "listed")


def test_where_no_purchase_is_known_the_day_it_was_taken_in_counts(desk: Desk, drive_id: int) -> None:
    wiped(desk, drive_id, at_text="yesterday 18:00")
    assert not read_drive(desk, drive_id).wiped


def test_a_purchase_dated_later_ends_what_counted_before(desk: Desk, unit_id: int, drive_id: int) -> None:
    bought(desk, unit_id, "2026-11-20")
    wiped(desk, drive_id, at_text="2026-11-22 18:00")
    assert read_drive(desk, drive_id).wiped
    bought(desk, unit_id, "2026-11-23")
    assert not read_drive(desk, drive_id).wiped


def test_no_wipe_is_recorded_as_done_within_the_waiting_period(
    desk: Desk, unit_id: int, drive_id: int, clock: HandSetClock
) -> None:
    set_trade(desk, hold_days_text="14")
    bought(desk, unit_id, "2026-11-21")
    sentence = "in its waiting period until 2026-12-05"
    changes_nothing(
        desk, lambda: record_wipe(desk, drive_id, method="purge", technique="x"), Refused, sentence
    )
    clock.advance(minutes=14 * DAY)
    changes_nothing(
        desk,
        lambda: record_wipe(desk, drive_id, method="purge", technique="x", at_text="2026-12-01 10:00"),
        Refused,
        sentence,
    )
    wiped(desk, drive_id)
    assert read_drive(desk, drive_id).wiped


def put_to_the_test(desk: Desk, unit_id: int) -> int:
    """A soak test after the cover is on, done; answers its task's number."""
    task_id = add_task(
        desk,
        unit_id,
        name="soak test",
        stage_id=stage(desk, "closed"),
        estimate_text="60",
        unattended=True,
        lid_off=False,
        public=True,
    )
    finish_task(desk, task_id, uses={})
    return task_id


def read_after(desk: Desk, unit_id: int) -> None:
    add_reading(desk, unit_id, moment="after", subject="memory", fields={"passes": "2", "errors": "0"})


def graded(desk: Desk, unit_id: int, part: str, *, function: bool) -> None:
    best = {step.side: step.step_id for step in read_scale(desk) if step.position == 1}
    set_grade(
        desk,
        unit_id,
        part,
        function_step_id=best["function"] if function else None,
        looks_step_id=best["looks"],
        tested=function,
    )


def opened_again(desk: Desk, unit_id: int, clock: HandSetClock) -> None:
    clock.advance(minutes=60)
    tick(desk, unit_id, OPENING, tuple(BEFORE_THE_COVER))
    move_unit(desk, unit_id, stage(desk, "opened"), done_tasks="keep")
    go_on_without(desk, unit_id, CLOSING, "nothing was touched")
    clock.advance(minutes=5)
    move_to(desk, unit_id, "closed")


@pytest.fixture
def ready(desk: Desk, unit_id: int) -> int:
    """Tested, read after the work and graded; no drive in it."""
    no_drive_in_it(desk, unit_id)
    put_to_the_test(desk, unit_id)
    read_after(desk, unit_id)
    graded(desk, unit_id, "keyboard", function=True)
    graded(desk, unit_id, "lid", function=False)
    return unit_id


def test_the_cover_off_again_ends_test_reading_and_grade_of_function(
    desk: Desk, ready: int, clock: HandSetClock
) -> None:
    move_to(desk, ready, "listed")
    opened_again(desk, ready, clock)
    with pytest.raises(ListingFirst) as refusal:
        move_to(desk, ready, "listed")
    assert refusal.value.matters == ("test", "reading", "grade")
    assert "do again: soak test; read again: memory test; grade again: keyboard." in str(refusal.value)


def test_a_return_ends_the_grade_of_looks_too_and_whether_a_drive_is_in_it(
    desk: Desk, ready: int, clock: HandSetClock
) -> None:
    sell_unit(desk, ready, price_text="100")
    clock.advance(minutes=DAY)
    take_return(desk, ready, reason="too slow", refund_text="100", stage_id=stage(desk, "closed"))
    with pytest.raises(ListingFirst) as refusal:
        sell_unit(desk, ready, price_text="100")
    assert refusal.value.matters == ("drive", "test", "reading", "grade")
    assert "grade again: keyboard, lid" in str(refusal.value) or "lid, keyboard" in str(refusal.value)


def test_done_again_it_holds_again(desk: Desk, unit_id: int, clock: HandSetClock) -> None:
    no_drive_in_it(desk, unit_id)
    task_id = put_to_the_test(desk, unit_id)
    read_after(desk, unit_id)
    graded(desk, unit_id, "keyboard", function=True)
    opened_again(desk, unit_id, clock)
    reopen_task(desk, task_id)
    finish_task(desk, task_id, uses={})
    read_after(desk, unit_id)
    graded(desk, unit_id, "keyboard", function=True)
    move_to(desk, unit_id, "listed")


def test_one_reason_goes_on_without_all_of_it_until_it_is_opened_again(
    desk: Desk, ready: int, clock: HandSetClock
) -> None:
    opened_again(desk, ready, clock)
    without = list_without(desk, ready, "only a screw was tightened")
    assert without == ("do again: soak test", "read again: memory test", "grade again: keyboard")
    line = read_journal(desk, unit_id=ready).lines[0]
    assert (line.reason, "soak test" in line.summary) == ("only a screw was tightened", True)
    (kept, _) = read_unit(desk, ready).without
    assert (kept.reason, kept.person) == ("only a screw was tightened", "Ada")
    assert kept.covers == ("test", "reading", "grade")
    move_to(desk, ready, "listed")
    opened_again(desk, ready, clock)
    assert [one.covers for one in read_unit(desk, ready).without] == [("drive",)]
    with pytest.raises(ListingFirst):
        move_to(desk, ready, "listed")


def test_a_reason_for_the_wipe_outlives_the_cover_and_not_a_return(
    desk: Desk, unit_id: int, drive_id: int, clock: HandSetClock
) -> None:
    list_without(desk, unit_id, "the buyer wipes it")
    opened_again(desk, unit_id, clock)
    move_to(desk, unit_id, "listed")
    sell_unit(desk, unit_id, price_text="100")
    clock.advance(minutes=1)
    take_return(desk, unit_id, reason="too slow", refund_text="", stage_id=stage(desk, "closed"))
    with pytest.raises(WipeFirst):
        move_to(desk, unit_id, "listed")


def test_papers_do_not_tell_what_has_ended_as_if_it_held(desk: Desk, ready: int, clock: HandSetClock) -> None:
    before = read_buyer_sheet(desk, ready)
    assert [line.part for line in before.graded] == ["lid", "keyboard"]
    assert before.before_after
    opened_again(desk, ready, clock)
    sheet = read_buyer_sheet(desk, ready)
    assert [line.part for line in sheet.graded] == ["lid"]
    assert not sheet.before_after
    assert "Keyboard: graded before it was opened or came back; to be graded again" in sheet.not_tested
    assert "Memory test: measured before it was opened or came back; to be measured again" in sheet.not_tested
    listing = listing_text(read_listing(desk, ready))
    assert "soak test" not in listing.split("Still to be done")[0]
    assert "soak test, again" in listing
