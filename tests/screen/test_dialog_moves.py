"""Holding, choosing a stage or a person, a reason, and unfinished tasks in the way of a move."""

from __future__ import annotations

from textual.widgets import Static

from bench.dashboard.screens.dialogs.pick import choose_person, choose_stage
from bench.dashboard.screens.dialogs.questions import ReasonDialog
from bench.dashboard.screens.dialogs.safety_list import SafetyListDialog
from bench.dashboard.screens.dialogs.tasks_in_the_way import DoneTasksDialog, OpenTasksDialog
from bench.dashboard.screens.dialogs.unit_forms import hold_form
from bench.dashboard.widgets.safety_panel import AlarmBar
from bench.desk import Desk
from bench.views.unit import read_unit
from bench.work.moves import hold_unit, move_unit
from bench.work.shop import add_person
from bench.work.units import add_unit
from tests.screen.host import opened, runs, settled, ticked, typed, until
from tests.screen.waiting import first_screen
from tests.screen.waiting import until as shown
from tests.screen.workshop import LOOK_OVER, fill_shelf, new_unit, open_cover, stage, task


async def test_holding_needs_a_reason(desk: Desk) -> None:
    unit_id = new_unit(desk)
    async with opened(desk, hold_form(unit_id, "10014")) as (app, pilot):
        await pilot.press("enter")
        await settled(pilot)
        dialog = app.screen
        assert runs(dialog, hold_form)
        assert "is empty" in dialog.field("reason").said
        await typed(pilot, "fan on order")
        await pilot.press("enter")
        await until(pilot, lambda: app.answers == [True])
    assert read_unit(desk, unit_id).held == "fan on order"


async def test_a_refusal_of_the_hold_keeps_the_reason(desk: Desk) -> None:
    unit_id = new_unit(desk)
    hold_unit(desk, unit_id, "waits")
    async with opened(desk, hold_form(unit_id, "10014")) as (app, pilot):
        await typed(pilot, "fan")
        await pilot.press("enter")
        await settled(pilot)
        dialog = app.screen
        assert runs(dialog, hold_form)
        assert "is on hold already" in str(dialog.query_one("#wrong", Static).render())
        assert dialog.value("reason") == "fan"
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])


async def test_a_stage_is_chosen_from_the_units_own(desk: Desk) -> None:
    unit_id = new_unit(desk)
    async with opened(desk, choose_stage(unit_id)) as (app, pilot):
        await pilot.press("down", "enter")
        await until(pilot, lambda: app.answers == [stage(desk, "inspected")])


async def test_a_person_is_chosen(desk: Desk) -> None:
    bo = add_person(desk, "Bo [b]")
    async with opened(desk, choose_person()) as (app, pilot):
        await pilot.press("end", "enter")
        await until(pilot, lambda: app.answers == [bo])


async def test_choosing_nothing_is_none(desk: Desk) -> None:
    async with opened(desk, choose_person()) as (app, pilot):
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])


async def test_a_reason_is_not_empty(desk: Desk) -> None:
    async with opened(desk, ReasonDialog("Skip the task", "Why", draft="skip 1")) as (app, pilot):
        await pilot.press("enter")
        assert not app.answers
        await typed(pilot, "no fan in it")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.answers == ["no fan in it"])


def unfinished(desk: Desk, unit_id: int, to: str) -> OpenTasksDialog:
    one = task(desk, unit_id, LOOK_OVER)
    return OpenTasksDialog(unit_id, stage(desk, to), ((one.task_id, one.name),))


async def test_open_tasks_are_marked_done_and_the_unit_moves(desk: Desk) -> None:
    unit_id = new_unit(desk)
    async with opened(desk, unfinished(desk, unit_id, "inspected")) as (app, pilot):
        await pilot.press("d")
        await until(pilot, lambda: app.answers == [True])
    assert read_unit(desk, unit_id).stage == "inspected"
    assert task(desk, unit_id, LOOK_OVER).state == "done"


async def test_open_tasks_are_skipped_with_a_reason(desk: Desk) -> None:
    unit_id = new_unit(desk)
    async with opened(desk, unfinished(desk, unit_id, "inspected")) as (app, pilot):
        await pilot.press("z")
        await settled(pilot)
        await typed(pilot, "seen before")
        await pilot.press("enter")
        await until(pilot, lambda: app.answers == [True])
    assert task(desk, unit_id, LOOK_OVER).skip_reason == "seen before"


async def test_staying_changes_nothing(desk: Desk) -> None:
    unit_id = new_unit(desk)
    async with opened(desk, unfinished(desk, unit_id, "inspected")) as (app, pilot):
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])
    assert read_unit(desk, unit_id).stage == "received"


async def test_marking_done_issues_and_then_asks_for_the_close_up_list(desk: Desk) -> None:
    fill_shelf(desk)
    unit_id = new_unit(desk)
    open_cover(desk, unit_id)
    move_unit(desk, unit_id, stage(desk, "opened"), open_tasks="skip", reason="seen")
    tasks = [(one.task_id, one.name) for one in read_unit(desk, unit_id).tasks if one.state == "todo"]
    async with opened(desk, OpenTasksDialog(unit_id, stage(desk, "closed"), tasks)) as (app, pilot):
        await pilot.press("d")
        await until(pilot, lambda: isinstance(app.screen, SafetyListDialog))
        await settled(pilot)
        await ticked(pilot, 1)
        await typed(pilot, "9")
        await pilot.press("enter")
        await settled(pilot)
        await ticked(pilot, 2, 3, 4)
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.answers == [True])
    assert read_unit(desk, unit_id).stage == "closed"


async def test_moving_back_asks_whether_the_tasks_are_to_do_again(desk: Desk) -> None:
    unit_id = new_unit(desk)
    for key, state in (("k", "skipped"), ("enter", "todo")):
        move_unit(desk, unit_id, stage(desk, "inspected"), open_tasks="skip", reason="seen")
        tasks = [(one.task_id, one.name) for one in read_unit(desk, unit_id).tasks if one.state != "todo"]
        async with opened(desk, DoneTasksDialog(unit_id, stage(desk, "received"), tasks)) as (app, pilot):
            await settled(pilot)
            await pilot.press(key)
            await until(pilot, lambda: app.answers == [True])
        assert task(desk, unit_id, LOOK_OVER).state == state


async def test_the_opening_list_comes_before_the_move_that_takes_the_cover_off(desk: Desk) -> None:
    """No alarm for the seconds between: the unit stays where it is until the first part is ticked."""
    unit_id = add_unit(desk, maker="", model="Bare").unit_id
    move_unit(desk, unit_id, stage(desk, "inspected"))
    async with first_screen(desk) as (first, pilot):
        await shown(pilot, lambda: first.unit_here() is not None)
        await pilot.press("m")
        await shown(pilot, lambda: isinstance(first.app.screen, SafetyListDialog))
        await settled(pilot)
        assert read_unit(desk, unit_id).stage == "inspected"
        await pilot.press("escape")
        await shown(pilot, lambda: first.app.screen is first)
        assert read_unit(desk, unit_id).stage == "inspected"
        await pilot.press("m")
        await shown(pilot, lambda: isinstance(first.app.screen, SafetyListDialog))
        await settled(pilot)
        await ticked(pilot, 1, 2)
        await pilot.press("ctrl+s")
        await shown(pilot, lambda: read_unit(desk, unit_id).stage == "opened")
        await settled(pilot)
        assert not first.query_one(AlarmBar).display
