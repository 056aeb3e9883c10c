"""A machine's own file makes a unit or fills it, whole or not at all; the collector runs on this machine."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
from contextlib import suppress
from functools import partial
from importlib.resources import files
from pathlib import Path

import pytest

from bench.desk import Desk
from bench.domain.machine.machine_file import read_machine_file
from bench.domain.tags import tag_from_number
from bench.domain.ways_out import SCRAPPED
from bench.errors import BadInput, Conflict, KnownAlready, NotFound, Refused
from bench.views.buyer_sheet import read_buyer_sheet
from bench.views.condition import read_condition
from bench.views.drives import read_drives
from bench.views.journal import read_journal
from bench.views.specification import read_specification
from bench.views.unit import read_unit
from bench.work.check import check_file
from bench.work.drive_moves import move_drive
from bench.work.drives import add_drive
from bench.work.intake import MODEL_NOT_TOLD, TakenIn, take_in
from bench.work.leaving import leave_unit
from bench.work.safety import report_cell
from bench.work.specification import set_specification
from bench.work.undo import redo, undo
from bench.work.units import add_unit
from bench.work.waivers import no_drive_in_it
from tests.clocks import HandSetClock
from tests.condition_files import ata_json
from tests.machine_files import SAID, drive, lsblk_json, machine_file
from tests.work.taking_back import changes_nothing, kept

SCRIPT = Path(str(files("bench").joinpath("collector", "collect.sh")))
REST = "8 GB soldered, 1 of 1 slot filled, DDR4"
AGAIN = "2026-11-28T08:00:00Z"
SHELLS = [shell for shell in ("dash", "sh", "bash", "busybox") if shutil.which(shell)]


def taken(desk: Desk, **named: str | None) -> TakenIn:
    return take_in(desk, data=machine_file(named))


def test_a_file_makes_a_unit_with_all_that_it_tells(desk: Desk) -> None:
    one = take_in(desk, data=machine_file(), route_id=1)
    assert (one.new_unit, one.first, one.told) == (True, True, ("Recorded the drive Quern Q2 Q7001.",))
    unit = read_unit(desk, one.unit_id)
    assert (unit.maker, unit.model, unit.serial) == ("Pell", "Wren 14", "PL900001")
    assert unit.tasks
    assert unit.specification is not None
    assert unit.specification.machine == one.machine
    assert [reading.subject for reading in one.readings] == ["battery", "drive"]
    (known,) = read_drives(desk, one.unit_id).drives
    assert (known.serial, known.media_type, known.size_bytes) == ("Q7001", "SSD, NVMe", 512_110_190_592)
    assert not {"Battery", "Drive"} & set(read_condition(desk, one.unit_id).not_measured)
    assert read_journal(desk).lines[0].summary == f"Added {one.tag} Pell Wren 14 from its own file"
    assert check_file(desk.store).sound


def test_the_same_machine_is_found_again_by_its_serial_number(desk: Desk, clock: HandSetClock) -> None:
    first = take_in(desk, data=machine_file())
    set_specification(desk, first.unit_id, {"colour": "silver"})
    clock.advance(60)
    said = {"dmidecode": SAID["dmidecode"].replace("8192 MB", "16384 MB"), "lspci": None}
    second = take_in(desk, data=machine_file(said, AGAIN))
    assert (second.unit_id, second.new_unit, second.first) == (first.unit_id, False, False)
    assert [one.words for one in second.changes] == [f"Memory: 16 GB, {REST} → 24 GB, {REST}"]
    assert (second.machine.colour, second.machine.graphics) == ("silver", "Quern Graphics 20")
    assert second.new_drives == ()
    sheet = read_specification(desk, first.unit_id)
    assert [one.source for one in sheet.kept] == ["collector", "typed", "collector"]
    assert sheet.kept[0].told == ("Not there when it was collected: lspci.",)


def test_the_same_file_is_taken_once(desk: Desk) -> None:
    one = taken(desk)
    changes_nothing(desk, lambda: taken(desk), Refused, f"taken in already, for unit {one.tag}")
    undo(desk, reason="wrong stick")
    assert taken(desk).new_unit


def test_a_tag_says_which_unit_and_what_was_missing_is_filled(desk: Desk) -> None:
    here = add_unit(desk, maker="", model="Old words")
    one = take_in(desk, data=machine_file(), tag_text=here.tag)
    unit = read_unit(desk, here.unit_id)
    assert (unit.maker, unit.model, unit.serial) == ("Pell", "Old words", "PL900001")
    assert "The machine calls itself “Wren 14”; it is kept as “Old words”." in one.told


def test_another_machines_file_is_refused_by_its_serial_number(desk: Desk) -> None:
    here = add_unit(desk, maker="Pell", model="Wren 14", serial="PL111111")
    data = machine_file()
    changes_nothing(
        desk, lambda: take_in(desk, data=data, tag_text=here.tag), Refused, "is of machine “PL900001”"
    )
    with pytest.raises(NotFound, match="No unit bears"):
        take_in(desk, data=machine_file(), tag_text=tag_from_number(9999))
    with pytest.raises(BadInput):
        take_in(desk, data=machine_file(), tag_text="99994")


def test_two_units_of_one_serial_number_are_told_apart_by_tag(desk: Desk) -> None:
    first = add_unit(desk, maker="Pell", model="Wren 14", serial="pl900001")
    second = add_unit(desk, maker="Pell", model="Wren 14", serial="PL 900001", again="label misread")
    changes_nothing(desk, lambda: taken(desk), Refused, f"{first.tag}, {second.tag} have the serial")
    assert take_in(desk, data=machine_file(), tag_text=second.tag).unit_id == second.unit_id


def test_one_that_has_left_is_asked_about(desk: Desk) -> None:
    gone = add_unit(desk, maker="Pell", model="Wren 14", serial="PL900001")
    no_drive_in_it(desk, gone.unit_id)
    leave_unit(desk, gone.unit_id, way=SCRAPPED, reason="board broken")
    changes_nothing(desk, lambda: taken(desk), KnownAlready, "record its return")
    one = take_in(desk, data=machine_file(), again="bought again")
    assert one.new_unit
    assert one.unit_id != gone.unit_id


def test_a_drive_recorded_elsewhere_is_told_and_left_there(desk: Desk) -> None:
    other = add_unit(desk, maker="Brack", model="Sluice")
    add_drive(desk, other.unit_id, model="Quern Q2", serial="Q7001")
    one = taken(desk)
    assert f"recorded in unit {other.tag}: move it" in one.told[0]
    assert [reading.subject for reading in one.readings] == ["battery"]
    assert read_drives(desk, one.unit_id).drives == ()
    (still,) = read_drives(desk, other.unit_id).drives
    move_drive(desk, still.drive_id, one.unit_id, cost_text="0")
    again = take_in(desk, data=machine_file(at=AGAIN))
    assert [reading.drive_id for reading in again.readings] == [None, still.drive_id]


def test_a_drive_on_record_that_is_not_in_the_machine_is_told(desk: Desk) -> None:
    one = taken(desk)
    changed = {
        "lsblk": lsblk_json(drive(name="sda", tran="sata", model="Invented HD-500", serial="HD500-0007"))
    }
    changed |= {"smartctl /dev/nvme0n1": None, "smartctl /dev/sda": json.dumps(ata_json()) + "\n"}
    again = take_in(desk, data=machine_file(changed, AGAIN))
    assert "The drive Quern Q2 Q7001 is on record here but was not seen in the machine." in again.told
    assert len(read_drives(desk, one.unit_id).drives) == 2  # a person says where the first one is
    assert [change.label for change in again.changes] == ["Drives"]


def test_drives_without_a_serial_number_are_recorded_once(desk: Desk) -> None:
    nameless = {
        "lsblk": lsblk_json(drive(name="sda", tran="sata", serial=None)),
        "smartctl /dev/nvme0n1": None,
    }
    one = take_in(desk, data=machine_file(nameless))
    again = take_in(desk, data=machine_file(nameless, AGAIN))
    assert (one.new_drives, again.new_drives) == (("Quern Q2",), ())


def test_undone_it_is_all_gone_and_redone_all_there(desk: Desk) -> None:
    before = kept(desk)
    one = taken(desk)
    assert undo(desk, reason="wrong machine").unit_id == one.unit_id
    assert kept(desk) == before
    with pytest.raises(NotFound):
        read_specification(desk, one.unit_id)
    redo(desk)
    assert read_specification(desk, one.unit_id).newest is not None
    assert len(read_drives(desk, one.unit_id).drives) == 1
    assert check_file(desk.store).sound


def test_an_earlier_one_is_not_undone_under_a_later_one(desk: Desk) -> None:
    here = add_unit(desk, maker="Pell", model="Wren 14")
    set_specification(desk, here.unit_id, {"colour": "silver"})
    line = read_journal(desk).lines[0].journal_id
    set_specification(desk, here.unit_id, {"memory": "16"})
    changes_nothing(desk, lambda: undo(desk, line), Conflict, "stands on it")
    undo(desk)
    undo(desk, line)
    assert read_specification(desk, here.unit_id).kept == ()


def test_it_does_not_hold_once_the_cover_was_off(desk: Desk, clock: HandSetClock) -> None:
    one = taken(desk)
    with desk.store.write() as session:
        from bench.store.tables import Unit

        session.get_one(Unit, one.unit_id).opened_us = clock.now_us() + 1
    newest = read_specification(desk, one.unit_id).newest
    assert newest is not None
    assert not newest.holds


def test_a_unit_with_a_bad_cell_is_read_all_the_same(desk: Desk) -> None:
    here = add_unit(desk, maker="Pell", model="Wren 14", serial="PL900001")
    report_cell(desk, here.unit_id, "swollen")
    assert taken(desk).cell_finding == "swollen"


def test_a_file_that_is_none_changes_nothing(desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "photo.txt").write_bytes(b"\xff\xd8 not this")
    for path in (tmp_path / "photo.txt", tmp_path / "nowhere", tmp_path):
        changes_nothing(desk, partial(take_in, desk, path=path), BadInput, "collector|not a file")


@pytest.mark.parametrize("shell", SHELLS)
def test_the_collector_runs_on_this_machine_and_its_file_makes_a_unit(
    desk: Desk, tmp_path: Path, shell: str
) -> None:
    run = [shell, "sh"] if shell == "busybox" else [shell]
    assert subprocess.run([*run, "-n", SCRIPT], check=False).returncode == 0
    here = tmp_path / "stick"
    here.mkdir()
    done = subprocess.run(
        [*run, SCRIPT, "out.txt"], cwd=here, capture_output=True, text=True, timeout=120, check=False
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert [path.name for path in here.iterdir()] == ["out.txt"]
    assert (here / "out.txt").stat().st_mode & 0o077 == 0
    file = read_machine_file((here / "out.txt").read_bytes())
    assert not any("breaks off" in told or "was changed" in told for told in file.told)
    if Path("/proc/meminfo").exists():
        assert file.specification.memory_seen_bytes
    one = take_in(desk, path=here / "out.txt")
    assert one.new_unit
    assert read_unit(desk, one.unit_id).model == (file.model or MODEL_NOT_TOLD)


@pytest.mark.parametrize("shell", SHELLS)
def test_the_collector_writes_over_nothing(tmp_path: Path, shell: str) -> None:
    run = [shell, "sh"] if shell == "busybox" else [shell]
    there = tmp_path / "there.txt"
    there.write_text("mine")
    done = subprocess.run([*run, SCRIPT, there], capture_output=True, text=True, timeout=120, check=False)
    assert done.returncode == 1
    assert "there already" in done.stderr
    assert there.read_text() == "mine"


def test_the_collector_writes_and_sends_nothing_else() -> None:
    """All that it redirects goes to its file, to nowhere, to standard error; it names no tool that writes."""
    code = re.sub(r"(?m)(^|\s)#.*$", "", SCRIPT.read_text(encoding="utf-8"))
    targets = set(re.findall(r">>?\s*(\S+?)(?=[\s;)}]|$)", code))
    assert targets == {"/dev/null", "&1", "&2", '"$out"'}
    words = set(re.findall(r"[\w.+-]+", code))
    writing = {"rm", "mv", "cp", "dd", "tee", "mount", "mkdir", "touch", "chmod", "eval"}
    assert not words & (writing | {"curl", "wget", "nc", "ssh", "scp", "mail", "ftp"})


def test_the_collector_uses_the_tools_that_there_are(tmp_path: Path) -> None:
    """Tools of the names it looks for, which print what the published ones do."""
    tools = tmp_path / "bin"
    tools.mkdir()
    for name in ("dmidecode", "lspci", "upower"):
        (tools / f"{name}.said").write_text(SAID[name])
        tool = tools / name
        tool.write_text(
            f'#!/bin/sh\n[ "$1" = --version ] && echo "{name} 9.1" && exit\necho amiss >&2\n'
            f'cat "{tools}/{name}.said"\nexit 3\n'
        )
        tool.chmod(0o755)
    path = f"{tools}:{os.environ['PATH']}"
    done = subprocess.run(
        ["/bin/sh", SCRIPT, "-"], capture_output=True, timeout=120, check=True, env={"PATH": path}
    )
    file = read_machine_file(done.stdout)
    assert (file.maker, file.model, file.serial) == ("Pell", "Wren 14", "PL900001")
    assert file.specification.graphics == "Quern Graphics 20"
    assert b"section dmidecode\nversion dmidecode 9.1\nexit 3\n" in done.stdout
    assert b"amiss" not in done.stdout


def test_papers_tell_the_drives_that_are_in_it_now(desk: Desk) -> None:
    one = taken(desk)
    (known,) = read_drives(desk, one.unit_id).drives
    assert ("Drives", "512 GB SSD, NVMe Quern Q2") in read_buyer_sheet(desk, one.unit_id).specified
    move_drive(desk, known.drive_id, None, cost_text="0")
    assert "Drives" not in dict(read_buyer_sheet(desk, one.unit_id).specified)
    newest = read_specification(desk, one.unit_id).newest
    assert newest is not None
    assert newest.machine.drives  # what the machine told then


def test_a_damaged_file_makes_a_unit_or_is_refused_and_leaves_the_record_sound(desk: Desk) -> None:
    whole, taken_in = machine_file(), 0
    told = read_machine_file(whole)
    for cut in range(0, len(whole), 97):
        for data in (whole[:cut], whole[:cut] + b"\xff\x00[" + whole[cut + 3 :]):
            with suppress(BadInput):
                one = take_in(desk, data=data)
                taken_in += 1
                assert one.told or read_machine_file(data).specification == told.specification
    assert taken_in > 100
    assert check_file(desk.store).sound
