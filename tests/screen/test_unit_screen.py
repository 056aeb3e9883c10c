"""One unit's screen: what it shows, what its keys do, and that every figure opens its rows."""

from __future__ import annotations

import pytest

from bench.dashboard.screens.dialogs.finish import FinishDialog
from bench.dashboard.screens.dialogs.safety_list import SafetyListDialog
from bench.dashboard.screens.dialogs.stock_forms import use_form
from bench.dashboard.screens.dialogs.tasks_in_the_way import OpenTasksDialog
from bench.dashboard.screens.dialogs.time_forms import CorrectEntry
from bench.dashboard.screens.dialogs.unit_forms import task_form, unit_form
from bench.dashboard.screens.journal import JournalScreen
from bench.dashboard.screens.stock import ConsumableScreen
from bench.dashboard.screens.unit import UnitScreen
from bench.dashboard.screens.unit_figures import UnitConsumablesScreen, UnitTimeScreen
from bench.dashboard.widgets.row_table import RowTable
from bench.desk import Desk
from bench.domain.safety import OPENING
from bench.views.particulars import unit_by_tag
from bench.views.unit import read_unit
from bench.work.safety import untick
from bench.work.timers import finish_task, start_task, stop_entry, stop_person
from bench.work.undo import undo
from bench.work.units import add_unit
from tests.clocks import HandSetClock
from tests.screen.host import Host, opened, runs, settled, texts, typed, until
from tests.screen.workshop import CLEANING, LOOK_OVER, fill_shelf, new_unit, open_cover, task

SIZES = [(80, 24), (120, 36), (200, 50)]


@pytest.fixture
def unit_id(desk: Desk, clock: HandSetClock) -> int:
    fill_shelf(desk)
    unit_id = new_unit(desk, model="[/] odd [b]model[/b]")
    entry = start_task(desk, task(desk, unit_id, LOOK_OVER).task_id)
    clock.advance(25)
    stop_entry(desk, entry.entry_id)
    return unit_id


def shown(app: Host) -> UnitScreen:
    assert isinstance(app.screen, UnitScreen)
    return app.screen


def put_cursor(table: RowTable, key: object) -> None:
    table.take_focus()
    table.rows.move_to(next(n for n, row in enumerate(table.rows.items) if row.key == key))


@pytest.mark.parametrize("size", SIZES)
async def test_it_fits_and_shows_peoples_text_as_it_is(
    desk: Desk, unit_id: int, size: tuple[int, int]
) -> None:
    async with opened(desk, UnitScreen(unit_id), size) as (app, pilot):
        assert "[/] odd [b]model[/b]" in texts(shown(app))
        assert LOOK_OVER in texts(shown(app))
        assert "25/15 min" in texts(shown(app))
        for _ in range(4):
            await pilot.press("tab")
            table = next(one for one in shown(app).query(RowTable) if one.is_current)
            await settled(pilot)
            assert table.rows.size.height >= 3, table.id
            assert app.screen.region.contains_region(table.region)


async def test_a_window_that_grows_has_the_figures_broken_anew_at_once(demo_desk: Desk) -> None:
    seen = []
    for sizes in ([(200, 50)], [(80, 24), (120, 36), (200, 50)]):
        screen = UnitScreen(unit_by_tag(demo_desk, "10629"))
        async with opened(demo_desk, screen, sizes[0]) as (_, pilot):
            await settled(pilot)
            for size in sizes[1:]:
                await pilot.resize_terminal(*size)
                await settled(pilot)
            seen.append(texts(screen.query_one("#facts")))
    assert seen[0] == seen[1]


async def test_starting_ticks_and_stopping_books_the_time(
    desk: Desk, unit_id: int, clock: HandSetClock
) -> None:
    async with opened(desk, UnitScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("s")
        await until(pilot, lambda: "0 min 00" in texts(shown(app)))
        clock.advance(3)
        app.second_hand.tick()
        await until(pilot, lambda: "3 min 00" in texts(shown(app)))
        await pilot.press("s")
        await until(pilot, lambda: "28/15 min" in texts(shown(app)))
    assert read_unit(desk, unit_id).hands_on_us == 28 * 60_000_000


async def test_skip_reopen_and_finish(desk: Desk, unit_id: int) -> None:
    async with opened(desk, UnitScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("z")
        await settled(pilot)
        await typed(pilot, "seen")
        await pilot.press("enter")
        await until(pilot, lambda: "skipped" in texts(shown(app)))
        assert "(seen)" in texts(shown(app))
        await pilot.press("Z")
        await until(pilot, lambda: task(desk, unit_id, LOOK_OVER).state == "todo")
        await settled(pilot)
        await pilot.press("d")
        await until(pilot, lambda: isinstance(app.screen, FinishDialog))
        await settled(pilot)
        await pilot.press("enter")
        await until(pilot, lambda: task(desk, unit_id, LOOK_OVER).state == "done")


async def test_tasks_are_reordered_renamed_and_added(desk: Desk, unit_id: int) -> None:
    def order() -> list[str]:
        return [one.name for one in read_unit(desk, unit_id).tasks if one.stage == "inspected"]

    async with opened(desk, UnitScreen(unit_id), (120, 36)) as (app, pilot):
        first, second = order()
        put_cursor(shown(app).table("tasks"), task(desk, unit_id, first).task_id)
        await pilot.press("plus")
        await until(pilot, lambda: order() == [second, first])
        await pilot.press("minus")
        await until(pilot, lambda: order() == [first, second])
        await pilot.press("r")
        await until(pilot, lambda: runs(app.screen, task_form))
        await pilot.press("escape", "n")
        await until(pilot, lambda: runs(app.screen, task_form))
        await settled(pilot)
        await typed(pilot, "swap hinge")
        await pilot.press("enter", "3", "0", "ctrl+s")
        await until(pilot, lambda: "swap hinge" in texts(shown(app)))


async def test_a_task_opens_to_what_it_took_and_its_time(desk: Desk, unit_id: int) -> None:
    async with opened(desk, UnitScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("enter")
        assert shown(app).table("detail").is_current
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, CorrectEntry))
        await pilot.press("escape")
        put_cursor(shown(app).table("tasks"), task(desk, unit_id, CLEANING).task_id)
        await until(pilot, lambda: "20 ml" in texts(shown(app).table("detail")))
        await pilot.press("t")
        await until(pilot, lambda: runs(app.screen, use_form))
        await pilot.press("escape", "enter", "enter")
        await until(pilot, lambda: isinstance(app.screen, ConsumableScreen))


async def test_every_figure_opens(desk: Desk, unit_id: int) -> None:
    open_cover(desk, unit_id)
    finish_task(desk, task(desk, unit_id, CLEANING).task_id)
    opens = {
        "attended": UnitTimeScreen,
        "unattended": UnitTimeScreen,
        "consumables": UnitConsumablesScreen,
        "opening": SafetyListDialog,
        ("closing", 1): SafetyListDialog,
        ("particulars", 3): unit_form,
    }
    async with opened(desk, UnitScreen(unit_id), (120, 36)) as (app, pilot):
        for key, screen in opens.items():
            put_cursor(shown(app).table("facts"), key)
            await pilot.press("enter")
            await until(pilot, lambda screen=screen: runs(app.screen, screen))
            await settled(pilot)
            await pilot.press("escape")
            await until(pilot, lambda: isinstance(app.screen, UnitScreen))
        await pilot.press("j")
        await until(pilot, lambda: isinstance(app.screen, JournalScreen))


async def test_the_rows_behind_a_figure_open_too(desk: Desk, unit_id: int) -> None:
    open_cover(desk, unit_id)
    finish_task(desk, task(desk, unit_id, CLEANING).task_id)
    async with opened(desk, UnitTimeScreen(unit_id, attended=True)) as (app, pilot):
        assert "25 min" in texts(app.screen)
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, CorrectEntry))
    async with opened(desk, UnitConsumablesScreen(unit_id)) as (app, pilot):
        assert "20 ml" in texts(app.screen)
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, ConsumableScreen))


async def test_it_goes_to_a_stage_past_unfinished_tasks(desk: Desk, unit_id: int) -> None:
    open_cover(desk, unit_id)
    async with opened(desk, UnitScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("g")
        await settled(pilot)
        await pilot.press("down", "down", "enter")
        await until(pilot, lambda: isinstance(app.screen, OpenTasksDialog))
        await pilot.press("d")
        await until(pilot, lambda: read_unit(desk, unit_id).stage == "opened")
        await until(pilot, lambda: "opened  ◄ here" in texts(shown(app)))


async def test_an_open_battery_is_loud(desk: Desk, unit_id: int) -> None:
    open_cover(desk, unit_id)
    start_task(desk, task(desk, unit_id, CLEANING).task_id)
    async with opened(desk, UnitScreen(unit_id)) as (app, pilot):
        assert "BATTERY CONNECTED" not in texts(app.screen)
        stop_person(desk)
        untick(desk, unit_id, OPENING, "battery_out")
        await until(pilot, lambda: "BATTERY CONNECTED, COVER OFF" in texts(app.screen.query_one("#head")))


async def test_it_closes_when_the_unit_is_taken_back(desk: Desk) -> None:
    unit_id = add_unit(desk, maker="", model="one").unit_id
    async with opened(desk, UnitScreen(unit_id)) as (app, pilot):
        undo(desk)
        await until(pilot, lambda: app.answers == [None])


async def test_another_programs_change_is_shown(desk: Desk, unit_id: int) -> None:
    async with opened(desk, UnitScreen(unit_id), (120, 36)) as (app, pilot):
        finish_task(desk, task(desk, unit_id, LOOK_OVER).task_id)
        await until(pilot, lambda: "✓" in texts(shown(app).table("tasks")))


async def test_escape_goes_back(desk: Desk, unit_id: int) -> None:
    async with opened(desk, UnitScreen(unit_id)) as (app, pilot):
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])
