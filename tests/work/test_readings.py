"""Readings are kept whole or not at all; swelling stops work at once; files find their drive."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from bench.desk import Desk
from bench.domain.condition.battery_choice import KEEP, REPLACE, SELL_AS_IS, STOP
from bench.domain.condition.found import ACT, FINE
from bench.domain.condition.readings import ReadingLine
from bench.domain.condition.verdicts import worst
from bench.domain.safety import AFTER_A_BAD_CELL
from bench.errors import BadInput, CellAlarm, NotFound, Refused
from bench.views.condition import ConditionSheet, read_condition, weigh_battery
from bench.views.drives import read_drives
from bench.views.journal import read_journal
from bench.views.unit import read_unit
from bench.work.drive_moves import move_drive
from bench.work.drives import add_drive
from bench.work.readings import add_reading, read_reading_file, remove_reading
from bench.work.safety import clear_cell, report_cell
from bench.work.shop import edit_shop
from bench.work.timers import start_task
from bench.work.undo import undo
from bench.work.units import add_unit
from tests.clocks import HandSetClock
from tests.condition_files import UEVENT, as_bytes, ata_json, nvme_json, nvme_log
from tests.work.time_rows import first_task


@pytest.fixture
def unit_id(desk: Desk) -> int:
    return add_unit(desk, maker="Invented", model="One", route_id=1).unit_id


def lines_of(sheet: ConditionSheet, subject: str) -> tuple[ReadingLine, ...]:
    lines = next(one for one in sheet.subjects if one.subject == subject)
    return (*lines.before, *lines.after)


def test_a_typed_reading_is_read_back(desk: Desk, unit_id: int) -> None:
    added = add_reading(
        desk,
        unit_id,
        moment="before",
        subject="battery",
        fields={"design": "57", "full": "40", "cycles": "412", "fitted": "glued in"},
        note="after a\nfull cycle",
    )
    assert (added.subject, added.moment, added.cell_finding, added.told) == ("battery", "before", None, ())
    sheet = read_condition(desk, unit_id)
    (line,) = lines_of(sheet, "battery")
    assert (line.person, line.source, line.note) == ("Ada", "typed", "after a\nfull cycle")
    assert line.figures == {"design_uwh": 57_000_000, "full_uwh": 40_000_000, "cycles": 412} | {
        "fitted": "glued in"
    }
    assert line.verdicts == added.verdicts
    assert [choice.choice for choice in sheet.batteries] == [SELL_AS_IS]
    assert sheet.not_measured == tuple(one.label for one in sheet.subjects if one.subject not in ("battery",))
    assert read_journal(desk).lines[0].summary == f"Read battery of {sheet.tag} before the work"


def test_what_cannot_be_read_changes_nothing(desk: Desk, unit_id: int) -> None:
    before = read_journal(desk).lines
    for moment, subject, fields in (
        ("during", "battery", {"full": "50"}),
        ("before", "smell", {"full": "50"}),
        ("before", "battery", {}),
        ("before", "battery", {"full": "much"}),
    ):
        with pytest.raises(BadInput):
            add_reading(desk, unit_id, moment=moment, subject=subject, fields=fields)
    with pytest.raises(NotFound):
        add_reading(desk, 99, moment="before", subject="battery", fields={"full": "50"})
    with pytest.raises(NotFound):
        read_condition(desk, 99)
    assert read_journal(desk).lines == before


def test_swelling_seen_stops_the_unit_in_the_same_step(desk: Desk, unit_id: int, clock: HandSetClock) -> None:
    task_id = first_task(desk, unit_id)
    start_task(desk, task_id)
    clock.advance(minutes=5)
    added = add_reading(desk, unit_id, moment="before", subject="battery", fields={"swelling": "yes"})
    assert added.cell_finding == "swollen"
    assert added.told[0] == f"Unit {added.tag} is on hold: a swollen cell."
    assert added.told[1:] == AFTER_A_BAD_CELL
    assert worst(added.verdicts) == ACT
    unit = read_unit(desk, unit_id)
    assert unit.safety.cell_finding == "swollen"
    assert unit.held == "a swollen cell"
    assert not any(task.running for task in unit.tasks)
    with pytest.raises(CellAlarm):
        start_task(desk, task_id)
    sheet = read_condition(desk, unit_id)
    assert sheet.cell_finding == "swollen"
    assert [choice.choice for choice in sheet.batteries] == [STOP]
    with pytest.raises(BadInput, match="reading off the records is empty"):
        undo(desk)
    assert undo(desk, reason="wrong unit").summary.startswith("Read battery")
    assert read_unit(desk, unit_id).held is None
    assert lines_of(read_condition(desk, unit_id), "battery") == ()


def test_a_bad_cell_reported_before_keeps_its_finding(desk: Desk, unit_id: int) -> None:
    report_cell(desk, unit_id, "wet")
    added = add_reading(desk, unit_id, moment="before", subject="battery", fields={"swelling": "yes"})
    assert added.cell_finding == "wet"
    assert "a wet cell" in added.told[0]
    clear_cell(desk, unit_id, "handed to a licensed carrier")
    flat = add_reading(desk, unit_id, moment="after", subject="battery", fields={"swelling": "no"})
    assert flat.cell_finding is None
    assert read_unit(desk, unit_id).safety.cell_finding is None


def test_a_power_supply_file_gives_a_reading_for_each_pack(desk: Desk, unit_id: int, tmp_path: Path) -> None:
    path = tmp_path / "batteries"
    text = UEVENT + UEVENT.replace("BAT0", "BAT1").replace("CYCLE_COUNT=312", "CYCLE_COUNT=99999")
    path.write_text(text)
    first, second = read_reading_file(desk, unit_id, moment="before", path=path)
    assert first.told == ()
    assert second.told == ("Left out of the file: CYCLE_COUNT 99999 cannot be.",)
    sheet = read_condition(desk, unit_id)
    assert {line.part for line in lines_of(sheet, "battery")} == {"BAT0", "BAT1"}
    assert [choice.choice for choice in sheet.batteries] == [KEEP, KEEP]
    assert "CYCLE_COUNT" in next(line.note for line in lines_of(sheet, "battery") if line.part == "BAT1")
    assert read_journal(desk).lines[0].summary == f"Read power supply text of {first.tag} before the work"
    undo(desk, reason="file of another unit")
    assert lines_of(read_condition(desk, unit_id), "battery") == ()


def test_smartctl_records_the_drive_it_names_once(desk: Desk, unit_id: int) -> None:
    (first,) = read_reading_file(desk, unit_id, moment="before", data=as_bytes(nvme_json()))
    assert first.new_drive
    assert first.told == (f"Recorded the drive Invented NV-512 NV512-0001 in {first.tag}.",)
    (second,) = read_reading_file(desk, unit_id, moment="after", data=as_bytes(nvme_json(percentage_used=8)))
    assert (second.new_drive, second.drive_id) == (False, first.drive_id)
    (drive,) = read_drives(desk, unit_id).drives
    assert (drive.serial, drive.size_bytes, drive.media_type) == ("NV512-0001", 512_110_190_592, "NVMe drive")
    before, after = lines_of(read_condition(desk, unit_id), "drive")
    assert before.drive == after.drive == "Invented NV-512 NV512-0001"
    assert worst(first.verdicts) == FINE


def test_a_drive_recorded_elsewhere_is_not_taken_over(desk: Desk, unit_id: int) -> None:
    other = add_unit(desk, maker="", model="Two").unit_id
    drive_id = add_drive(desk, other, serial="HD500-0007")
    with pytest.raises(Refused, match="recorded in unit"):
        read_reading_file(desk, unit_id, moment="before", data=as_bytes(ata_json()))
    move_drive(desk, drive_id, None, cost_text="0")
    with pytest.raises(Refused, match="on the shelf"):
        read_reading_file(desk, unit_id, moment="before", data=as_bytes(ata_json()))
    move_drive(desk, drive_id, unit_id, cost_text="0")
    (added,) = read_reading_file(desk, unit_id, moment="before", data=as_bytes(ata_json()))
    assert added.drive_id == drive_id


def test_a_log_without_a_name_is_of_the_only_drive_or_of_the_one_named(desk: Desk, unit_id: int) -> None:
    def drive_of_log(drive_id: int | None = None) -> int | None:
        return read_reading_file(
            desk, unit_id, moment="before", data=nvme_log(), kind="nvme_log", drive_id=drive_id
        )[0].drive_id

    assert drive_of_log() is None
    first = add_drive(desk, unit_id, model="A")
    assert drive_of_log() == first
    second = add_drive(desk, unit_id, model="B", serial="B-2")
    assert drive_of_log() is None
    assert drive_of_log(second) == second
    shelf = add_drive(desk, None, model="C")
    with pytest.raises(Refused, match="is not in unit"):
        drive_of_log(shelf)
    with pytest.raises(NotFound):
        drive_of_log(99)
    with pytest.raises(Refused, match="The file is of the drive"):
        read_reading_file(desk, unit_id, moment="before", data=as_bytes(ata_json()), drive_id=second)
    typed = add_reading(desk, unit_id, moment="after", subject="drive", fields={"used": "7"}, drive_id=first)
    assert typed.drive_id == first
    with pytest.raises(BadInput, match="is of no drive"):
        add_reading(
            desk, unit_id, moment="after", subject="screws", fields={"screws_missing": "0"}, drive_id=1
        )


def test_a_smartctl_file_without_serial_number_is_kept(desk: Desk, unit_id: int) -> None:
    document = ata_json()
    del document["serial_number"]
    (added,) = read_reading_file(desk, unit_id, moment="before", data=as_bytes(document))
    assert added.drive_id is None
    assert read_drives(desk, unit_id).drives == ()


def test_files_that_cannot_be_read_are_one_sentence(desk: Desk, unit_id: int, tmp_path: Path) -> None:
    before = read_journal(desk).lines
    locked = tmp_path / "locked"
    locked.write_bytes(b"x")
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    long = tmp_path / "long"
    long.write_bytes(b"{" + b" " * 5_000_000)
    for path, words in (
        (tmp_path / "none", "is not a file"),
        (tmp_path, "is not a file"),
        (pipe, "is not a file"),
        (tmp_path / ("n" * 300), "cannot be read"),
        (long, "too many for a reading"),
        (locked, "none of the kinds"),
    ):
        with pytest.raises(BadInput, match=words):
            read_reading_file(desk, unit_id, moment="before", path=path)
    with pytest.raises(BadInput, match="is not when"):
        read_reading_file(desk, unit_id, moment="during", data=UEVENT.encode())
    assert read_journal(desk).lines == before


def test_a_reading_is_taken_off_with_a_reason_and_back(desk: Desk, unit_id: int) -> None:
    reading_id = add_reading(
        desk, unit_id, moment="before", subject="screws", fields={"screws_missing": "2"}
    ).reading_id
    with pytest.raises(BadInput):
        remove_reading(desk, reading_id, " ")
    remove_reading(desk, reading_id, "counted on another unit")
    assert lines_of(read_condition(desk, unit_id), "screws") == ()
    with pytest.raises(NotFound):
        remove_reading(desk, reading_id, "again")
    undo(desk)
    assert len(lines_of(read_condition(desk, unit_id), "screws")) == 1


def test_the_battery_is_weighed_by_cost_and_fit(desk: Desk, unit_id: int) -> None:
    with pytest.raises(NotFound, match="No battery"):
        weigh_battery(desk, unit_id, pack_text="40")
    edit_shop(
        desk,
        name="Invented",
        currency="EUR",
        zone="Europe/Berlin",
        rate_text="30",
        forgotten_times_text="3",
        forgotten_least_text="120",
    )
    add_reading(desk, unit_id, moment="before", subject="battery", fields={"design": "57", "full": "40"})
    # 40.00 pack, 60 min at 30.00, 20 % of 70.00 at risk: 84.00 glued; 40.00 + 10.00 screwed
    (glued,) = weigh_battery(desk, unit_id, pack_text="40", gain_text="60", fitted="Glued in")
    assert (glued.choice, glued.cost_minor, glued.gain_minor) == (SELL_AS_IS, 8400, 6000)
    (screwed,) = weigh_battery(desk, unit_id, pack_text="40", gain_text="60", fitted="screwed in")
    assert (screwed.choice, screwed.cost_minor) == (REPLACE, 5000)
    (unknown,) = weigh_battery(desk, unit_id)
    assert (unknown.costs, unknown.gain_minor) == ((), None)
    with pytest.raises(BadInput):
        weigh_battery(desk, unit_id, pack_text="cheap")
    with pytest.raises(BadInput, match="way a pack is fitted"):
        weigh_battery(desk, unit_id, fitted="welded")
