"""Tasks of units and routes, what they take, consumables and names: main path, error, Escape."""

from __future__ import annotations

from bench.dashboard.screens.dialogs.field import Field
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.dialogs.settings_forms import name_form
from bench.dashboard.screens.dialogs.stock_forms import consumable_form, use_form
from bench.dashboard.screens.dialogs.unit_forms import route_task_form, task_form
from bench.desk import Desk
from bench.views.routes import read_route, read_routes
from bench.views.shop import read_people
from bench.views.stock import read_stock
from bench.work.shop import add_person
from bench.work.tasks import set_task_use
from tests.screen.host import Host, opened, settled, typed, until
from tests.screen.workshop import LOOK_OVER, level, new_unit, stage, task


def form(app: Host) -> Form[bool]:
    assert isinstance(app.screen, Form)
    return app.screen


def wrong(field: Field) -> str:
    return field.said


async def test_a_new_task_stands_where_the_unit_stands(desk: Desk) -> None:
    unit_id = new_unit(desk)
    async with opened(desk, task_form(unit_id)) as (app, pilot):
        await typed(pilot, "swap hinge")
        await pilot.press("enter")
        await typed(pilot, "soon")
        await pilot.press("ctrl+s")
        await settled(pilot)
        assert "is not a length of time" in wrong(form(app).field("estimate_text"))
        assert form(app).value("name") == "swap hinge"
        form(app).field("estimate_text").put("1h30")
        form(app).field("unattended").take_focus()
        await pilot.press("space", "ctrl+s")
        await until(pilot, lambda: app.answers == [True])
    new = task(desk, unit_id, "swap hinge")
    assert (new.estimate_minutes, new.unattended, new.lid_off) == (90, True, False)
    assert new.stage_id == stage(desk, "received")


async def test_a_task_is_renamed(desk: Desk) -> None:
    unit_id = new_unit(desk)
    async with opened(desk, task_form(unit_id, task(desk, unit_id, LOOK_OVER).task_id)) as (app, pilot):
        assert form(app).value("name") == LOOK_OVER
        form(app).field("name").put("look twice [b]")
        await pilot.press("enter", "enter", "space", "enter")
        await until(pilot, lambda: app.answers == [True])
    renamed = task(desk, unit_id, "look twice [b]")
    assert (renamed.estimate_minutes, renamed.public) == (15, True)


async def test_leaving_the_task_form_adds_nothing(desk: Desk) -> None:
    unit_id = new_unit(desk)
    async with opened(desk, task_form(unit_id)) as (app, pilot):
        await typed(pilot, "x")
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])
    assert task(desk, unit_id, LOOK_OVER).state == "todo"


async def test_a_routes_task_is_added_and_changed(desk: Desk) -> None:
    route_id = read_routes(desk)[0].route_id
    async with opened(desk, route_task_form(route_id)) as (app, pilot):
        form(app).field("name").put("swap hinge")
        form(app).field("estimate_text").put("20")
        await pilot.press("ctrl+s")
        await settled(pilot)
        assert "stage is not chosen" in wrong(form(app).field("stage"))
        form(app).field("stage").put(str(stage(desk, "opened")))
        form(app).field("lid_off").put("yes")
        form(app).field("opens").put("yes")
        form(app).field("hazard").put("hot_air")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.answers == [True])
    new = next(one for one in read_route(desk, route_id).tasks if one.name == "swap hinge")
    assert (new.stage, new.lid_off, new.opens, new.hazard) == ("opened", True, True, "hot_air")
    async with opened(desk, route_task_form(route_id, new.route_task_id)) as (app, pilot):
        assert (form(app).value("lid_off"), form(app).value("hazard")) == ("yes", "hot_air")
        form(app).field("estimate_text").put("25")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.answers == [True])
    assert [one.estimate_minutes for one in read_route(desk, route_id).tasks if "hinge" in one.name] == [25]


async def test_what_a_task_takes_is_set(desk: Desk) -> None:
    unit_id = new_unit(desk)
    task_id = task(desk, unit_id, LOOK_OVER).task_id

    def set_use(desk: Desk, consumable_id: int, quantity_text: str) -> None:
        set_task_use(desk, task_id, consumable_id, quantity_text)

    async with opened(desk, use_form(LOOK_OVER, set_use, {}, draft="takes 1")) as (app, pilot):
        await pilot.press("ctrl+s")
        await settled(pilot)
        assert "not chosen" in wrong(form(app).field("consumable"))
        form(app).field("consumable").put(str(level(desk).consumable_id))
        form(app).field("quantity_text").put("12,5")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.answers == [True])
    assert [use.quantity for use in task(desk, unit_id, LOOK_OVER).uses] == [12_500]


async def test_a_consumable_is_added_and_changed(desk: Desk) -> None:
    async with opened(desk, consumable_form()) as (app, pilot):
        form(app).field("name").put("grease")
        form(app).field("base_unit").put("g")
        form(app).field("pack_text").put("fifty")
        form(app).field("lead_days_text").put("3")
        await pilot.press("ctrl+s")
        await settled(pilot)
        assert "is not an amount" in wrong(form(app).field("pack_text"))
        form(app).field("pack_text").put("50")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.answers == [True])
    line = level(desk, "grease")
    assert (line.base_unit, line.pack, line.lead_days, line.shelf_life_days) == ("g", 50_000, 3, None)
    async with opened(desk, consumable_form(line.consumable_id)) as (app, pilot):
        assert form(app).value("reorder_text") == ""
        form(app).field("reorder_text").put("25")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.answers == [True])
    assert level(desk, "grease").reorder_at == 25_000


async def test_leaving_the_consumable_form_adds_nothing(desk: Desk) -> None:
    before = len(read_stock(desk).lines)
    async with opened(desk, consumable_form()) as (app, pilot):
        await typed(pilot, "x")
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])
    assert len(read_stock(desk).lines) == before


async def test_a_name_is_asked_for_once_more_when_it_is_taken(desk: Desk) -> None:
    async with opened(desk, name_form("New person", add_person, draft="person new")) as (app, pilot):
        await typed(pilot, "Ada")
        await pilot.press("enter")
        await settled(pilot)
        assert not app.answers
        assert form(app).value("name") == "Ada"
        form(app).field("name").put("Bo")
        await pilot.press("enter")
        await until(pilot, lambda: app.answers == [True])
    assert [one.name for one in read_people(desk)] == ["Ada", "Bo"]
