"""Finishing a task: accepted as the route says, changed, refused where stock is short, counted from there."""

from __future__ import annotations

import pytest
from textual.widgets import Static

from bench.dashboard.screens.dialogs.finish import FinishDialog
from bench.dashboard.screens.dialogs.safety_list import SafetyListDialog
from bench.desk import Desk
from bench.domain.starting_set import ISOPROPYL, STRIPS, SWABS
from tests.screen.host import opened, settled, ticked, typed, until
from tests.screen.workshop import CLEANING, LOOK_OVER, fill_shelf, level, new_unit, open_cover, task


@pytest.fixture
def task_id(desk: Desk) -> int:
    fill_shelf(desk)
    unit_id = new_unit(desk)
    open_cover(desk, unit_id)
    return task(desk, unit_id, CLEANING).task_id


def tail(dialog: object, name: str) -> str:
    assert isinstance(dialog, FinishDialog)
    return dialog.field(name).tail.text


async def test_one_enter_accepts_what_the_route_says(desk: Desk, task_id: int) -> None:
    async with opened(desk, FinishDialog(task_id)) as (app, pilot):
        line = level(desk)
        assert tail(app.screen, f"use-{line.consumable_id}") == "ml, 980 ml left"
        await pilot.press("enter")
        await until(pilot, lambda: app.answers == [True])
    assert level(desk).on_hand == 980_000


async def test_a_number_can_be_changed_and_something_else_added(desk: Desk, task_id: int) -> None:
    strips = level(desk, STRIPS).consumable_id
    async with opened(desk, FinishDialog(task_id)) as (app, pilot):
        dialog = app.screen
        assert isinstance(dialog, FinishDialog)
        dialog.field(f"use-{level(desk).consumable_id}").put("12.5")
        dialog.field(f"use-{level(desk, SWABS).consumable_id}").put("")
        dialog.field("more").take_focus()
        await pilot.press("enter", *"battery", "enter")
        await settled(pilot)
        await typed(pilot, "3")
        assert tail(dialog, f"use-{strips}") == "pieces, 17 pieces left"
        await pilot.press("enter")
        await until(pilot, lambda: app.answers == [True])
    assert level(desk, ISOPROPYL).on_hand == 987_500
    assert level(desk, SWABS).on_hand == 100_000
    assert level(desk, STRIPS).on_hand == 17_000


async def test_too_much_is_refused_and_a_count_is_offered(desk: Desk, task_id: int) -> None:
    name = f"use-{level(desk).consumable_id}"
    async with opened(desk, FinishDialog(task_id)) as (app, pilot):
        dialog = app.screen
        assert isinstance(dialog, FinishDialog)
        dialog.field(name).put("1200")
        await settled(pilot)
        assert "only 1000 ml on hand" in tail(dialog, name)
        await pilot.press("enter")
        await settled(pilot)
        assert "1200 ml asked for" in str(dialog.query_one("#wrong", Static).render())
        assert not app.answers
        await pilot.press("f2")
        await settled(pilot)
        await typed(pilot, "1500")
        await pilot.press("enter")
        await typed(pilot, "a bottle stood elsewhere")
        await pilot.press("enter")
        await until(pilot, lambda: app.screen is dialog)
        await settled(pilot)
        assert tail(dialog, name) == "ml, 300 ml left"
        assert dialog.value(name) == "1200"
        await pilot.press("enter")
        await until(pilot, lambda: app.answers == [True])
    assert level(desk).on_hand == 300_000


async def test_nonsense_is_told_under_its_field(desk: Desk, task_id: int) -> None:
    name = f"use-{level(desk).consumable_id}"
    async with opened(desk, FinishDialog(task_id)) as (app, pilot):
        dialog = app.screen
        assert isinstance(dialog, FinishDialog)
        dialog.field(name).put("a lot")
        await pilot.press("enter")
        await settled(pilot)
        assert "is not an amount" in dialog.field(name).said
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])
    assert level(desk).on_hand == 1_000_000


@pytest.mark.parametrize("stocked", [True, False])
async def test_a_task_that_takes_nothing_needs_one_enter(desk: Desk, stocked: bool) -> None:
    if stocked:
        fill_shelf(desk)
    unit_id = new_unit(desk)
    async with opened(desk, FinishDialog(task(desk, unit_id, LOOK_OVER).task_id)) as (app, pilot):
        await pilot.press("enter")
        await until(pilot, lambda: app.answers == [True])
    assert task(desk, unit_id, LOOK_OVER).state == "done"


async def test_the_opening_list_comes_first(desk: Desk) -> None:
    fill_shelf(desk)
    unit_id = new_unit(desk)
    async with opened(desk, FinishDialog(task(desk, unit_id, CLEANING).task_id)) as (app, pilot):
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, SafetyListDialog))
        await settled(pilot)
        await ticked(pilot, 1, 2, 3, 4)
        await pilot.press("enter")
        await until(pilot, lambda: app.answers == [True])
    assert task(desk, unit_id, CLEANING).state == "done"
