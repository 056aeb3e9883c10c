"""Drives, wipes and their verification, and the gate before listing."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.errors import BadInput, ListingFirst, NotFound, Refused, WipeFirst
from bench.views.certificate import read_certificate
from bench.views.drives import read_drives
from bench.views.journal import read_journal
from bench.views.shop import read_stages
from bench.views.unit import read_unit
from bench.work.drive_moves import move_drive
from bench.work.drives import add_drive, edit_drive, remove_drive
from bench.work.moves import move_unit
from bench.work.shop import add_person, add_stage, rename_stage, set_stage_lists
from bench.work.undo import undo
from bench.work.units import add_unit
from bench.work.waivers import list_without, no_drive_in_it
from bench.work.wipes import record_wipe, remove_wipe, verify_wipe
from tests.clocks import HandSetClock


@pytest.fixture
def unit_id(desk: Desk) -> int:
    return add_unit(desk, maker="Invented", model="One").unit_id


@pytest.fixture
def drive_id(desk: Desk, unit_id: int) -> int:
    return add_drive(desk, unit_id, maker="Invented", model="NV-512", serial="NV512-0001", size_text="512 GB")


def stage(desk: Desk, name: str) -> int:
    return next(one.stage_id for one in read_stages(desk) if one.name == name)


def wipe(desk: Desk, drive_id: int, result: str = "") -> int:
    wipe_id = record_wipe(desk, drive_id, method="Purge", technique="NVMe sanitize, block erase").wipe_id
    if result:
        verify_wipe(desk, wipe_id, result=result, verification="read back in full")
    return wipe_id


def move_to(desk: Desk, unit_id: int, name: str) -> None:
    move_unit(desk, unit_id, stage(desk, name))


def test_a_wipe_and_its_verification_are_kept_with_who_and_when(
    desk: Desk, unit_id: int, drive_id: int, clock: HandSetClock
) -> None:
    bo = desk.as_person(add_person(desk, "Bo"))
    kept = record_wipe(
        desk,
        drive_id,
        method=" Purge ",
        technique="NVMe sanitize, crypto erase",
        tool="a tool",
        tool_version="2.1",
        at_text="09:10",
        title="technician",
        location="Bench 2",
        contact="12",
        confidentiality_before="personal",
        confidentiality_after="none",
        destination="sold in the unit",
        note="took\ntwo minutes",
    )
    assert (kept.result, kept.counts, kept.unit_id) == ("not verified", False, unit_id)
    clock.advance(minutes=30)
    verified = verify_wipe(
        bo,
        kept.wipe_id,
        result="Passed",
        verification="read back in full",
        title="foreman",
        location="Office",
        contact="13",
    )
    assert (verified.result, verified.counts) == ("passed", True)
    (drive,) = read_drives(desk, unit_id).drives
    (line,) = drive.wipes
    assert (line.method, line.person, line.title, line.location) == ("purge", "Ada", "technician", "Bench 2")
    assert (line.verifier, line.verifier_title, line.verifier_location) == ("Bo", "foreman", "Office")
    assert (line.contact, line.verifier_contact, line.note) == ("12", "13", "took\ntwo minutes")
    assert line.verified_us == clock.now_us()
    # 09:10 by the clock of Europe/Berlin, fifty minutes before the test's clock began
    assert clock.now_us() - line.wiped_us == 80 * 60_000_000
    certificate = read_certificate(desk, kept.wipe_id)
    assert certificate.wipe == line
    assert (certificate.drive.drive_id, certificate.shop) == (drive_id, "My workshop")
    summaries = [one.summary for one in read_journal(desk, unit_id=unit_id).lines]
    assert summaries[0] == "Verified the wipe of Invented NV-512 NV512-0001: passed"
    assert "not verified yet" in summaries[1]


@pytest.mark.parametrize("result", ["", "failed"])
def test_only_a_passed_wipe_is_certified(desk: Desk, drive_id: int, result: str) -> None:
    wipe_id = wipe(desk, drive_id, result)
    with pytest.raises(Refused, match="nothing to certify"):
        read_certificate(desk, wipe_id)
    with pytest.raises(NotFound):
        read_certificate(desk, 99)


def test_what_cannot_be_recorded_changes_nothing(desk: Desk, drive_id: int) -> None:
    before = read_journal(desk).lines
    for method, technique, at_text in (
        ("format", "x", ""),
        ("", "x", ""),
        ("clear", " ", ""),
        ("clear", "overwrite", "tomorrow"),
        ("clear", "overwrite", "2030-01-01 10:00"),
    ):
        with pytest.raises(BadInput):
            record_wipe(desk, drive_id, method=method, technique=technique, at_text=at_text)
    with pytest.raises(NotFound):
        record_wipe(desk, 99, method="clear", technique="overwrite")
    assert read_journal(desk).lines == before


def test_a_verification_is_said_once_and_after_the_wipe(desk: Desk, drive_id: int) -> None:
    wipe_id = wipe(desk, drive_id)
    for result, verification, at_text in (
        ("maybe", "read back", ""),
        ("not verified", "read back", ""),
        ("passed", "", ""),
        ("passed", "read back", "2026-11-20 09:00"),
    ):
        with pytest.raises(BadInput):
            verify_wipe(desk, wipe_id, result=result, verification=verification, at_text=at_text)
    verify_wipe(desk, wipe_id, result="failed", verification="read back")
    with pytest.raises(Refused, match="verified already: failed"):
        verify_wipe(desk, wipe_id, result="passed", verification="read back")
    with pytest.raises(BadInput, match="verification off the records is empty"):
        undo(desk)
    undo(desk, reason="read the wrong drive")
    verify_wipe(desk, wipe_id, result="passed", verification="read back")
    assert read_certificate(desk, wipe_id).wipe.result == "passed"


@pytest.mark.parametrize("target", ["listed", "sold"])
def test_no_unit_is_listed_or_sold_before_its_drives_are_wiped(
    desk: Desk, unit_id: int, drive_id: int, target: str
) -> None:
    move_to(desk, unit_id, "graded")
    for result in (None, "", "failed"):
        if result is not None:
            wipe(desk, drive_id, result)
        with pytest.raises(WipeFirst, match="NV-512 NV512-0001") as refusal:
            move_to(desk, unit_id, target)
        assert refusal.value.unit_id == unit_id
        assert (refusal.value.title, refusal.value.exit_code) == ("Wipe first", 4)
        assert read_unit(desk, unit_id).stage == "graded"
    assert not read_drives(desk, unit_id).may_be_listed
    wipe(desk, drive_id, "passed")
    assert read_drives(desk, unit_id).may_be_listed
    move_to(desk, unit_id, target)
    assert read_unit(desk, unit_id).stage == target


def test_every_drive_in_the_unit_needs_its_own(desk: Desk, unit_id: int, drive_id: int) -> None:
    second = add_drive(desk, unit_id, model="HD-500")
    wipe(desk, drive_id, "passed")
    with pytest.raises(WipeFirst, match="for: HD-500"):
        move_to(desk, unit_id, "listed")
    remove_drive(desk, second, "taken out and shredded")
    move_to(desk, unit_id, "listed")


def test_a_later_failure_undoes_an_earlier_pass(desk: Desk, unit_id: int, drive_id: int) -> None:
    wipe(desk, drive_id, "passed")
    failed = wipe(desk, drive_id, "failed")
    with pytest.raises(WipeFirst):
        move_to(desk, unit_id, "listed")
    with pytest.raises(Refused, match="stays on record"):
        remove_wipe(desk, failed, "by mistake")
    wipe(desk, drive_id, "passed")
    move_to(desk, unit_id, "listed")
    wipe(desk, drive_id)
    with pytest.raises(WipeFirst):  # sold is beyond, and it asks again
        move_to(desk, unit_id, "sold")


def test_a_wipe_before_the_drive_moved_in_counts(desk: Desk, unit_id: int) -> None:
    drive_id = add_drive(desk, None, model="NV-512")
    wipe(desk, drive_id, "passed")
    move_drive(desk, drive_id, unit_id, cost_text="0")
    move_to(desk, unit_id, "listed")


def test_an_unwiped_drive_does_not_move_into_a_listed_unit(desk: Desk, unit_id: int, drive_id: int) -> None:
    wipe(desk, drive_id, "passed")
    move_to(desk, unit_id, "listed")
    other = add_drive(desk, None, model="HD-500")
    with pytest.raises(WipeFirst, match="is listed and the drive HD-500"):
        move_drive(desk, other, unit_id, cost_text="0")
    wipe(desk, other, "passed")
    move_drive(desk, other, unit_id, cost_text="0")
    assert len(read_drives(desk, unit_id).drives) == 2
    # what turns out to be in a listed unit is recorded all the same, and its sale asks
    add_drive(desk, unit_id, model="found behind the keyboard")
    with pytest.raises(WipeFirst):
        move_to(desk, unit_id, "sold")


def test_a_typed_reason_lets_it_pass_for_the_drives_that_are_there(
    desk: Desk, unit_id: int, drive_id: int
) -> None:
    with pytest.raises(BadInput):
        list_without(desk, unit_id, " ")
    list_without(desk, unit_id, "the buyer wipes it")
    list_without(desk, unit_id, "the buyer wipes it himself")
    sheet = read_drives(desk, unit_id)
    assert sheet.unwiped is not None
    assert (sheet.unwiped.reason, sheet.unwiped.person) == ("the buyer wipes it himself", "Ada")
    assert sheet.may_be_listed
    move_to(desk, unit_id, "listed")
    move_to(desk, unit_id, "graded")
    add_drive(desk, unit_id, model="another")
    assert read_drives(desk, unit_id).unwiped is None
    with pytest.raises(WipeFirst):
        move_to(desk, unit_id, "listed")
    assert read_journal(desk, unit_id=unit_id).lines[-1].summary.startswith("Added")


def test_a_wiped_drive_leaves_the_reason_standing(desk: Desk, unit_id: int, drive_id: int) -> None:
    list_without(desk, unit_id, "the buyer wipes it")
    clean = add_drive(desk, None, model="NV-256")
    wipe(desk, clean, "passed")
    move_drive(desk, clean, unit_id, cost_text="0")
    assert read_drives(desk, unit_id).may_be_listed


def test_no_reason_is_kept_where_nothing_is_in_the_way(desk: Desk, unit_id: int, drive_id: int) -> None:
    wipe(desk, drive_id, "passed")
    with pytest.raises(Refused, match="Nothing that a reason could answer for"):
        list_without(desk, unit_id, "in haste")


def test_a_unit_without_a_drive_is_asked_about_before_it_is_listed(desk: Desk, unit_id: int) -> None:
    with pytest.raises(ListingFirst, match="no drive is recorded in it") as refusal:
        move_to(desk, unit_id, "listed")
    assert refusal.value.matters == ("drive",)
    with pytest.raises(Refused, match="Record its drive, or say that none is in it"):
        list_without(desk, unit_id, "in haste")
    no_drive_in_it(desk, unit_id)
    looked = read_drives(desk, unit_id).looked
    assert looked is not None
    assert (looked.person, looked.reason) == ("Ada", "looked: no drive in it")
    move_to(desk, unit_id, "listed")


def test_that_none_was_in_it_is_past_once_one_is_recorded(desk: Desk, unit_id: int) -> None:
    no_drive_in_it(desk, unit_id)
    drive_id = add_drive(desk, unit_id, model="HD-500")
    with pytest.raises(Refused, match="A drive is recorded in"):
        no_drive_in_it(desk, unit_id)
    remove_drive(desk, drive_id, "it was another unit's")
    assert read_drives(desk, unit_id).looked is None
    with pytest.raises(ListingFirst):
        move_to(desk, unit_id, "listed")


def test_the_listing_stage_is_the_one_so_marked_whatever_its_name(
    desk: Desk, unit_id: int, drive_id: int
) -> None:
    rename_stage(desk, stage(desk, "listed"), "On show")
    move_to(desk, unit_id, "graded")
    with pytest.raises(WipeFirst):
        move_to(desk, unit_id, "On show")
    add_stage(desk, "packed", after_stage_id=stage(desk, "On show"), lid_off=False)
    with pytest.raises(WipeFirst):
        move_to(desk, unit_id, "packed")
    set_stage_lists(desk, stage(desk, "packed"), lists=True)
    set_stage_lists(desk, stage(desk, "On show"), lists=False)
    move_to(desk, unit_id, "On show")
    with pytest.raises(WipeFirst):
        move_to(desk, unit_id, "packed")
    undo(desk)
    undo(desk)
    with pytest.raises(WipeFirst):
        move_to(desk, unit_id, "On show")
    rename_stage(desk, stage(desk, "inspected"), "Listed")
    move_to(desk, unit_id, "Listed")


def test_a_wipe_recorded_by_mistake_is_taken_off(desk: Desk, drive_id: int, unit_id: int) -> None:
    wipe_id = wipe(desk, drive_id, "passed")
    remove_wipe(desk, wipe_id, "it was another drive")
    assert read_drives(desk, unit_id).drives[0].standing == "no wipe record"
    with pytest.raises(NotFound):
        read_certificate(desk, wipe_id)


def test_drives_are_set_right_and_keep_their_own_serial_number(
    desk: Desk, unit_id: int, drive_id: int
) -> None:
    facts = {"maker": "", "media_type": "NVMe", "media_number": "M-7", "came_from": "a clearance"}
    edit_drive(desk, drive_id, model="NV-1024", serial="NV512-0001", size_text="1.024 TB", **facts)
    (drive,) = read_drives(desk, unit_id).drives
    assert (drive.size_bytes, drive.media_number, drive.tag) == (1_024_000_000_000, "M-7", "10014")
    edit_drive(desk, drive_id, model="NV-1024", serial="", size_text="", **facts)
    assert read_drives(desk, unit_id).drives[0].size_bytes is None
    second = add_drive(desk, None, serial="X-1")
    with pytest.raises(BadInput, match="another drive's already"):
        edit_drive(desk, drive_id, model="", serial="X-1", size_text="", **facts)
    with pytest.raises(BadInput, match="another drive's already"):
        add_drive(desk, unit_id, serial="X-1")
    with pytest.raises(BadInput, match="neither model nor serial"):
        add_drive(desk, unit_id)
    with pytest.raises(BadInput):
        add_drive(desk, unit_id, model="x", size_text="big")
    remove_drive(desk, second, "sold on its own")
    add_drive(desk, unit_id, serial="X-1")
    with pytest.raises(NotFound):
        move_drive(desk, second, unit_id, cost_text="0")


def test_drives_move_between_units_and_the_shelf(desk: Desk, unit_id: int, drive_id: int) -> None:
    with pytest.raises(Refused, match="is there already"):
        move_drive(desk, drive_id, unit_id, cost_text="0")
    move_drive(desk, drive_id, None, cost_text="0")
    assert read_drives(desk, unit_id).drives == ()
    shelf = read_drives(desk, None)
    assert [(drive.drive_id, drive.tag) for drive in shelf.drives] == [(drive_id, "")]
    assert (shelf.tag, shelf.unwiped) == ("", None)
    undo(desk)
    assert len(read_drives(desk, unit_id).drives) == 1
    for missing in (99, 0):
        with pytest.raises(NotFound):
            read_drives(desk, missing)
    assert read_journal(desk).lines[1].summary.endswith("to the shelf, 0.00 EUR")


def test_a_technique_that_does_nothing_to_that_media_is_refused(desk: Desk, unit_id: int) -> None:
    ssd = add_drive(desk, unit_id, model="Nothing", serial="X1", media_type="SSD, NVMe")
    with pytest.raises(
        BadInput, match=r"degauss does not purge this drive .* flash holds no magnetism"
    ) as caught:
        record_wipe(desk, ssd, method="purge", technique="degauss")
    assert caught.value.field == "technique"
    assert "NVMe sanitize" in caught.value.remedy
    assert not read_drives(desk, unit_id).drives[0].wipes
    with pytest.raises(BadInput, match="on flash it clears"):
        record_wipe(desk, ssd, method="Purge", technique="overwrite, three passes")
    assert record_wipe(desk, ssd, method="clear", technique="overwrite, one pass").method == "clear"
