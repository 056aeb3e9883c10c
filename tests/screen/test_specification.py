"""A machine's own file is taken in from both screens; what it told stands on the unit's, and opens."""

from __future__ import annotations

from pathlib import Path

import pytest

from bench.dashboard.screens.dialogs.questions import ReasonDialog
from bench.dashboard.screens.dialogs.specification_forms import intake_form, specification_form
from bench.dashboard.screens.unit import UnitScreen
from bench.dashboard.widgets.row_table import RowTable
from bench.desk import Desk
from bench.domain.ways_out import SCRAPPED
from bench.views.specification import read_specification
from bench.work.intake import take_in
from bench.work.leaving import leave_unit
from bench.work.specification import set_specification
from bench.work.units import add_unit
from bench.work.waivers import no_drive_in_it
from tests.machine_files import machine_file
from tests.screen.host import opened, runs, sentences, settled, texts, until
from tests.screen.waiting import first_screen
from tests.screen.workshop import new_unit

SIZES = [(80, 24), (120, 36), (200, 50)]


@pytest.fixture
def file(tmp_path: Path) -> str:
    path = tmp_path / "machine.txt"
    path.write_bytes(machine_file())
    return str(path)


async def test_the_first_screen_makes_a_unit_of_a_file_and_opens_it(desk: Desk, file: str) -> None:
    new_unit(desk)
    async with first_screen(desk) as (_, pilot):
        app = pilot.app
        await pilot.press("f", "i")
        await until(pilot, lambda: runs(app.screen, intake_form))
        await settled(pilot)
        form = app.screen
        assert form.value("tag_text") == ""  # type: ignore[attr-defined]
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "not named" in form.field("path").said)  # type: ignore[attr-defined]
        form.field("path").put(file)  # type: ignore[attr-defined]
        await pilot.press("ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, UnitScreen))
        await until(pilot, lambda: "Quern Q5" in texts(app.screen))


async def test_a_units_screen_fills_that_unit(desk: Desk, file: str) -> None:
    unit = add_unit(desk, maker="Pell", model="Wren 14")
    async with opened(desk, UnitScreen(unit.unit_id), (120, 36)) as (app, pilot):
        assert "not known" in texts(app.screen)
        await pilot.press("f", "i")
        await until(pilot, lambda: runs(app.screen, intake_form))
        await settled(pilot)
        form = app.screen
        assert form.value("tag_text") == unit.tag  # type: ignore[attr-defined]
        form.field("path").put(file)  # type: ignore[attr-defined]
        await pilot.press("ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, UnitScreen))
    assert read_specification(desk, unit.unit_id).newest is not None


async def test_a_file_that_is_none_leaves_what_was_typed(desk: Desk, tmp_path: Path) -> None:
    wrong = tmp_path / "x.txt"
    wrong.write_text("hello")
    async with opened(desk, intake_form()) as (app, pilot):
        form = app.screen
        form.field("path").put(str(wrong))
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "not one that the collector left" in sentences(form))
        assert form.value("path") == str(wrong)


async def test_one_that_has_left_is_asked_about(desk: Desk, file: str) -> None:
    gone = add_unit(desk, maker="Pell", model="Wren 14", serial="PL900001")
    no_drive_in_it(desk, gone.unit_id)
    leave_unit(desk, gone.unit_id, way=SCRAPPED, reason="board broken")
    async with opened(desk, intake_form()) as (app, pilot):
        form = app.screen
        form.field("path").put(file)
        await pilot.press("ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, ReasonDialog))
        await settled(pilot)
        app.screen.field("reason").put("bought again")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: bool(app.answers))
        assert app.answers != [gone.unit_id]


@pytest.mark.parametrize("size", SIZES)
async def test_what_it_is_made_of_stands_on_its_screen_and_opens(desk: Desk, size: tuple[int, int]) -> None:
    taken = take_in(desk, data=machine_file())
    async with opened(desk, UnitScreen(taken.unit_id), size) as (app, pilot):
        table = app.screen.query_one("#facts", RowTable)
        rows = [
            row for row in table.rows.items if isinstance(row.key, tuple) and row.key[0] == "specification"
        ]
        shown = {row.cells[0].text: row.cells[1].text for row in rows if row.cells[0].text}
        assert shown["Processor"] == "Quern Q5 @ 1.60 GHz, 4 cores"
        assert shown["Memory"].startswith("16 GB")
        assert shown["Locks"] == "firmware lock none seen"
        assert len(rows) < 16
        table.take_focus()
        table.rows.move_to(table.rows.items.index(rows[0]))
        await pilot.press("enter")
        await until(pilot, lambda: runs(app.screen, specification_form))
        await settled(pilot)
        form = app.screen
        assert form.value("memory") == "16 GB"
        form.field("colour").put("silver")
        form.field("account_lock").put("locked")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, UnitScreen))
        await until(
            pilot,
            lambda: any("account lock locked" in row.cells[1].text for row in table.rows.items),
        )
    newest = read_specification(desk, taken.unit_id).newest
    assert newest is not None
    assert (newest.source, newest.machine.colour) == ("typed", "silver")
    assert newest.machine.memory_modules == taken.machine.memory_modules


async def test_what_someone_else_set_meanwhile_stays(desk: Desk) -> None:
    unit_id = new_unit(desk)
    async with opened(desk, specification_form(unit_id, "1")) as (app, pilot):
        form = app.screen
        form.field("colour").put("silver")
        set_specification(desk, unit_id, {"memory": "8"})
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.answers == [True])
    newest = read_specification(desk, unit_id).newest
    assert newest is not None
    assert (newest.machine.colour, newest.machine.memory_bytes) == ("silver", 8 * 2**30)
