"""The routes' screen: tasks of the route under the cursor, and all that can be changed about them."""

from __future__ import annotations

import pytest

from bench.dashboard.screens.dialogs.settings_forms import name_form
from bench.dashboard.screens.dialogs.stock_forms import use_form
from bench.dashboard.screens.dialogs.unit_forms import route_task_form
from bench.dashboard.screens.routes import RoutesScreen
from bench.desk import Desk
from bench.views.routes import RouteSheet, read_route, read_routes
from tests.screen.host import Host, opened, runs, settled, texts, typed, until
from tests.screen.undoing import undo_newest
from tests.screen.workshop import level


def first(desk: Desk) -> RouteSheet:
    return read_route(desk, read_routes(desk)[0].route_id)


def shown(app: Host) -> RoutesScreen:
    assert isinstance(app.screen, RoutesScreen)
    return app.screen


@pytest.mark.parametrize("size", [(80, 24), (120, 36), (200, 50)])
async def test_the_tasks_follow_the_cursor(desk: Desk, size: tuple[int, int]) -> None:
    async with opened(desk, RoutesScreen(), size) as (app, pilot):
        await pilot.press("end")
        last = read_route(desk, read_routes(desk)[-1].route_id)
        await until(pilot, lambda: last.name in texts(shown(app).query_one("#head")))
        await pilot.press("tab")
        await settled(pilot)
        assert shown(app).table("tasks").is_current
        assert last.tasks[0].name in texts(shown(app).table("tasks"))


async def test_tasks_are_added_changed_reordered_and_removed(desk: Desk) -> None:
    async with opened(desk, RoutesScreen(), (120, 36)) as (app, pilot):
        await pilot.press("enter", "n")
        await until(pilot, lambda: runs(app.screen, route_task_form))
        await settled(pilot)
        form = app.screen
        assert runs(form, route_task_form)
        form.field("name").put("swap hinge")
        form.field("estimate_text").put("20")
        form.field("stage").put(str(first(desk).tasks[0].stage_id))
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "swap hinge" in texts(app.screen))
        await pilot.press("down")
        await pilot.press("minus")
        await until(pilot, lambda: first(desk).tasks[0].name == "swap hinge")
        await settled(pilot)
        await pilot.press("e")
        await until(pilot, lambda: runs(app.screen, route_task_form))
        await pilot.press("escape")
        await pilot.press("x")
        await until(pilot, lambda: "swap hinge" not in texts(shown(app).table("tasks")))
        await undo_newest(pilot)
        await until(pilot, lambda: "swap hinge" in texts(shown(app).table("tasks")))


async def test_what_a_task_takes(desk: Desk) -> None:
    async with opened(desk, RoutesScreen(), (120, 36)) as (app, pilot):
        await pilot.press("enter", "t")
        await until(pilot, lambda: runs(app.screen, use_form))
        await settled(pilot)
        form = app.screen
        assert runs(form, use_form)
        form.field("consumable").put(str(level(desk).consumable_id))
        form.field("quantity_text").put("7.5")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "7.5 ml isopropyl" in texts(app.screen))


async def test_routes_are_added_renamed_copied_and_removed(desk: Desk) -> None:
    before = len(read_routes(desk))
    async with opened(desk, RoutesScreen(), (120, 36)) as (app, pilot):
        await pilot.press("c")
        await until(pilot, lambda: runs(app.screen, name_form))
        await settled(pilot)
        await pilot.press("enter")
        await until(pilot, lambda: len(read_routes(desk)) == before + 1)
        await settled(pilot)
        await pilot.press("n")
        await settled(pilot)
        await typed(pilot, "[b]screens[/b]")
        await pilot.press("enter")
        await until(pilot, lambda: "[b]screens[/b]" in texts(shown(app)))
        await pilot.press("home", "e")
        await settled(pilot)
        form = app.screen
        assert runs(form, name_form)
        form.field("name").put("")
        await pilot.press("enter")
        await settled(pilot)
        assert app.screen is form  # an empty name is refused there
        form.field("name").put("a first route")
        await pilot.press("enter")
        await until(pilot, lambda: "a first route" in texts(shown(app)))
        await pilot.press("home", "x")
        await until(pilot, lambda: len(read_routes(desk)) == before + 1)
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])
