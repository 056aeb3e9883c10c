"""`.` does the last act again on the row under the cursor; a form comes as it was sent; safety never is."""

from __future__ import annotations

from bench.dashboard.screens.dialogs.finish import FinishDialog
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.first import FirstScreen
from bench.dashboard.screens.row_acts import NOTHING_DONE
from bench.dashboard.screens.stock import StockScreen
from bench.dashboard.screens.unit import UnitScreen
from bench.desk import Desk
from bench.views.queue import read_queue
from bench.views.shop import read_stages
from bench.views.stock import read_stock
from bench.views.unit import read_unit
from bench.work.units import add_unit
from tests.screen.host import Host, opened, settled, typed, until
from tests.screen.undoing import undo_newest
from tests.screen.waiting import first_screen
from tests.screen.waiting import until as until_first
from tests.screen.workshop import fill_shelf, new_unit


def toasts(app: FirstScreen) -> str:
    return "\n".join(str(toast.render()) for toast in app.query("Toast"))


def said(app: Host) -> str:
    return "\n".join(str(toast.render()) for toast in app.screen.query("Toast"))


def typed_into(app: Host) -> list[str]:
    assert isinstance(app.screen, Form)
    return [value for value in app.screen.values().values() if value]


async def test_before_anything_was_done_that_is_said(desk: Desk) -> None:
    async with opened(desk, UnitScreen(new_unit(desk)), (120, 36)) as (app, pilot):
        await pilot.press(".")
        await settled(pilot)
        assert NOTHING_DONE in said(app)


async def test_a_move_is_repeated_on_the_next_unit(desk: Desk) -> None:
    units = [add_unit(desk, maker="Fenn", model=f"Model {n}").unit_id for n in range(2)]

    def stages() -> list[str]:
        return [read_unit(desk, one).stage for one in units]

    async with first_screen(desk) as (screen, pilot):
        screen.go_to_unit(units[0])
        await pilot.press("m")
        await until_first(pilot, lambda: stages() == ["inspected", "received"])
        screen.go_to_unit(units[1])
        await pilot.press(".")
        await until_first(pilot, lambda: stages() == ["inspected", "inspected"])
        await undo_newest(pilot)
        await until_first(pilot, lambda: stages() == ["inspected", "received"])
        await settled(pilot)
        await pilot.press(".")
        await until_first(pilot, lambda: stages() == ["inspected", "inspected"])


async def test_the_stage_chosen_last_is_offered_first(desk: Desk) -> None:
    units = [add_unit(desk, maker="Fenn", model=f"Model {n}").unit_id for n in range(2)]
    chosen = [one.name for one in read_stages(desk)][1]
    async with first_screen(desk) as (screen, pilot):
        screen.go_to_unit(units[0])
        await pilot.press("g")
        await settled(pilot)
        await pilot.press("down", "enter")
        await until_first(pilot, lambda: read_unit(desk, units[0]).stage == chosen)
        await settled(pilot)
        screen.go_to_unit(units[1])
        await pilot.press(".")
        await settled(pilot)
        await pilot.press("enter")
        await until_first(pilot, lambda: read_unit(desk, units[1]).stage == chosen)


async def test_a_form_comes_with_what_was_typed_last_and_is_sent_by_hand(desk: Desk) -> None:
    fill_shelf(desk)
    before = {one.consumable_id: one.on_hand for one in read_stock(desk).lines}
    async with opened(desk, StockScreen(), (120, 36)) as (app, pilot):
        screen = app.screen
        assert isinstance(screen, StockScreen)
        first = screen.consumable_here()
        await pilot.press("r")
        await settled(pilot)
        await pilot.press("3", "enter", "enter")
        await typed(pilot, "12")
        await pilot.press("enter")
        await typed(pilot, "Oxlip supplies")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.screen is screen)
        await settled(pilot)
        await pilot.press("down", ".")
        await settled(pilot)
        values = typed_into(app)
        assert "3" in values
        assert "Oxlip supplies" in values
        assert "as you sent it last" in str(app.screen.query_one("#restored").render())
        second = {one.consumable_id: one.on_hand for one in read_stock(desk).lines}
        assert [one for one in second if second[one] != before[one]] == [first], "opened, and nothing sent"
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.screen is screen)
        levels = {one.consumable_id: one.on_hand for one in read_stock(desk).lines}
        changed = [one for one in levels if levels[one] != before[one]]
        assert len(changed) == 2


async def test_a_reason_comes_again_to_be_looked_at(desk: Desk) -> None:
    unit_id = new_unit(desk)
    async with opened(desk, UnitScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("home", "z")
        await settled(pilot)
        await typed(pilot, "not needed")
        await pilot.press("enter")
        await until(pilot, lambda: read_unit(desk, unit_id).tasks[0].state == "skipped")
        await settled(pilot)
        await pilot.press("down", ".")
        await settled(pilot)
        assert typed_into(app) == ["not needed"]
        await pilot.press("enter")
        await until(pilot, lambda: read_unit(desk, unit_id).tasks[1].skip_reason == "not needed")


async def test_how_a_test_ended_and_what_a_task_took_is_asked_afresh(desk: Desk) -> None:
    fill_shelf(desk)
    unit_id = new_unit(desk)
    async with opened(desk, UnitScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("home", "d")
        await settled(pilot)
        await pilot.press("enter")
        await until(pilot, lambda: read_unit(desk, unit_id).tasks[0].state == "done")
        await settled(pilot)
        await pilot.press("down", ".")
        await settled(pilot)
        assert isinstance(app.screen, FinishDialog)
        assert not app.screen.query_one("#restored").has_class("shown")


async def test_a_checklist_is_never_repeated(desk: Desk) -> None:
    unit_id = new_unit(desk)
    async with first_screen(desk) as (screen, pilot):
        screen.go_to_unit(unit_id)
        await pilot.press("o")
        await settled(pilot)
        await pilot.press("escape")
        await until_first(pilot, lambda: pilot.app.screen is screen)
        await pilot.press(".")
        await settled(pilot)
        assert "is never repeated: each unit is looked at on its own." in toasts(screen)
        assert pilot.app.screen is screen


async def test_what_another_screen_did_is_named_and_not_done(desk: Desk) -> None:
    fill_shelf(desk)
    unit_id = new_unit(desk)
    async with opened(desk, UnitScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("home", "z")
        await settled(pilot)
        await typed(pilot, "why")
        await pilot.press("enter")
        await until(pilot, lambda: read_unit(desk, unit_id).tasks[0].state == "skipped")
        app.push_screen(StockScreen())
        await settled(pilot)
        await pilot.press(".")
        await settled(pilot)
        assert "“skip” was done last: that is none of this screen's acts." in said(app)
        await undo_newest(pilot)
        await settled(pilot)
        assert read_queue(desk).stages
