"""What is written down: grades, a wipe and its verification, a lot, an entry corrected."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.durations import MINUTE_US
from bench.views.drives import read_drives
from bench.views.grades import read_grades
from bench.views.queue import read_queue
from bench.views.unit import read_unit
from bench.views.week import read_week
from bench.work.drives import add_drive
from bench.work.timers import start_task, stop_entry
from bench.work.units import add_unit
from bench.work.wipes import record_wipe, verify_wipe
from tests.clocks import HandSetClock
from tests.screen.keystrokes.person import Person, Pressed
from tests.screen.waiting import first_screen
from tests.screen.workshop import LOOK_OVER, new_unit, task

TOOL, VERSION, PLACE, TITLE = "drivewash", "2.1", "bench 2", "technician"
HOW = "full read-back"
SCRATCH = "a scratch of 2 cm"
LOT_OF = 5


async def grade_seven_parts(desk: Desk) -> Pressed:
    """All work and show no wear, but for the lid, which shows some."""
    unit_id = add_unit(desk, maker="Fenn", model="Model 9").unit_id
    async with first_screen(desk) as (_, pilot):
        ada = Person(pilot)
        await ada.press("f", "g", "a", "down", "enter", "down", "enter", "ctrl+s")
        await ada.press("enter", "down", "enter", "down", "enter")
        await ada.write(SCRATCH)
        await ada.press("ctrl+s")
    lid, *others = read_grades(desk, unit_id).lines
    assert len(others) == 6
    assert all(one.function is not None and one.function.position == 1 for one in (lid, *others))
    assert all(one.looks is not None and one.looks.position == 1 for one in others)
    assert lid.looks is not None
    assert (lid.looks.position, lid.sentence) == (2, SCRATCH)
    return ada.pressed


async def correct_the_sixth_entry(desk: Desk, clock: HandSetClock) -> Pressed:
    for _ in range(7):
        entry = start_task(desk, task(desk, new_unit(desk), LOOK_OVER).task_id)
        clock.advance(30)
        stop_entry(desk, entry.entry_id)
    sixth = read_week(desk).entries[5]
    async with first_screen(desk) as (_, pilot):
        ada = Person(pilot)
        await ada.press("w", "up", "enter")
        await ada.write("+20")
        await ada.press("enter")
        await ada.write("tea")
        await ada.press("enter")
    now = next(one for one in read_week(desk).entries if one.entry_id == sixth.entry_id)
    assert now.stopped_us is not None
    assert now.stopped_us - now.started_us == 20 * MINUTE_US
    return ada.pressed


def _two_drives(desk: Desk) -> int:
    """Two units with a drive each; the first was wiped and verified. Answers the second."""
    first, second = (add_unit(desk, maker="Fenn", model=f"Model {n}").unit_id for n in (8, 9))
    wiped = add_drive(desk, first, model="Solid 8", serial="S 8", media_type="SATA drive")
    add_drive(desk, second, model="Solid 9", serial="S 9", media_type="SATA drive")
    wipe = record_wipe(
        desk,
        wiped,
        method="clear",
        technique="overwrite, one pass",
        tool=TOOL,
        tool_version=VERSION,
        location=PLACE,
        title=TITLE,
    )
    verify_wipe(desk, wipe.wipe_id, verification=HOW, result="passed", title=TITLE, location=PLACE)
    return second


async def wipe_and_verify(desk: Desk) -> Pressed:
    unit_id = _two_drives(desk)
    async with first_screen(desk) as (first, pilot):
        first.go_to_unit(unit_id)
        ada = Person(pilot)
        await ada.press("f", "d", "w", "enter", "down", "enter")
        await ada.write("overwrite, one pass")
        await ada.press("ctrl+s", "v")
        await ada.write(HOW)
        await ada.press("down", "enter", "down", "enter", "ctrl+s")
    (drive,) = read_drives(desk, unit_id).drives
    (wipe,) = drive.wipes
    assert (wipe.method, wipe.result) == ("clear", "passed")
    assert (wipe.tool, wipe.tool_version, wipe.location, wipe.title) == (TOOL, VERSION, PLACE, TITLE)
    assert (wipe.verification, wipe.verifier_location, wipe.verifier_title) == (HOW, PLACE, TITLE)
    return ada.pressed


async def lot_of_five(desk: Desk) -> Pressed:
    """Five of one model, each expected to bring the same."""
    async with first_screen(desk) as (_, pilot):
        ada = Person(pilot)
        await ada.press("f4", "n")
        await ada.write("Five Fenns")
        await ada.press("down")
        await ada.write("500")
        await ada.press(*["down"] * 11)
        await ada.write("Fenn")
        await ada.press("tab")
        await ada.write("Model 9")
        await ada.press("tab", "tab")
        await ada.write("150")
        await ada.press(*["f5"] * (LOT_OF - 1))
        await ada.press("ctrl+s")
    rows = [row for one in read_queue(desk).stages for row in one.rows]
    assert len(rows) == LOT_OF
    units = [read_unit(desk, row.unit_id) for row in rows]
    assert {(one.maker, one.model) for one in units} == {("Fenn", "Model 9")}
    return ada.pressed
