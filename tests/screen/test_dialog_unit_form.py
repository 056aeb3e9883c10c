"""The unit's form: adding, editing, an error that keeps the typing, leaving, and a crash in the middle."""

from __future__ import annotations

import pytest
from textual.widgets import Static

from bench.dashboard.screens.dialogs.unit_forms import unit_form
from bench.desk import Desk
from bench.domain.party import PartyTyped
from bench.views.queue import read_queue
from bench.views.routes import read_routes
from bench.views.shop import read_draft
from bench.views.unit import read_unit
from bench.work.drafts import save_draft
from bench.work.undo import undo
from bench.work.units import add_unit
from tests.screen.host import opened, runs, settled, typed, until
from tests.screen.workshop import FULL


@pytest.fixture
def unit_id(desk: Desk) -> int:
    return add_unit(desk, maker="Maker", model="Model 9", price_text="120", note="one\ntwo").unit_id


async def test_enter_leads_through_the_fields_and_adds_the_unit(desk: Desk) -> None:
    async with opened(desk, unit_form()) as (app, pilot):
        await typed(pilot, "Maker")
        await pilot.press("enter")
        await typed(pilot, "Model 9")
        await pilot.press("enter", "enter", "enter")  # past the serial number, into the route's list
        await pilot.press("up", "enter")
        await settled(pilot)
        await typed(pilot, "+2")
        await pilot.press("enter")
        await typed(pilot, "99.50")
        await pilot.press("enter", "enter", "tab", "enter")  # past the owner and the note
        await until(pilot, lambda: bool(app.answers))
    unit = read_unit(desk, app.answers[0])
    assert (unit.maker, unit.model, unit.price_minor) == ("Maker", "Model 9", 9950)
    assert str(unit.due_on) == "2026-11-27"
    assert unit.route not in ("", FULL)
    assert unit.tasks


async def test_a_new_unit_goes_by_the_shops_oldest_route_unless_another_is_chosen(desk: Desk) -> None:
    first = next(one for one in read_routes(desk) if one.name == FULL)
    for route, named in (("", None), (str(first.route_id), FULL)):
        async with opened(desk, unit_form()) as (app, pilot):
            form = app.screen
            assert runs(form, unit_form)
            assert form.value("route") == str(first.route_id)
            assert not form.field("route").changed
            form.field("model").put("Model 9")
            form.field("route").put(route)
            await pilot.press("ctrl+s")
            await until(pilot, lambda: bool(app.answers))
        unit = read_unit(desk, app.answers[0])
        assert (unit.route or None, bool(unit.tasks)) == (named, named is not None)


async def test_an_error_stands_under_its_field_and_keeps_the_typing(desk: Desk) -> None:
    async with opened(desk, unit_form()) as (app, pilot):
        form = app.screen
        assert runs(form, unit_form)
        form.field("model").put("Model 9")
        form.field("due_text").put("someday")
        await pilot.press("ctrl+s")
        await settled(pilot)
        wrong = form.field("due_text")
        assert "is not a day" in wrong.said
        assert app.focused is not None
        assert form.field("due_text") in app.focused.ancestors_with_self
        assert form.value("model") == "Model 9"
        assert not app.answers
        form.field("due_text").put("tomorrow")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: bool(app.answers))
    assert len(read_queue(desk).stages[0].rows) == 1


async def test_escape_leaves_without_change_keeps_what_was_typed_and_says_so(desk: Desk) -> None:
    async with opened(desk, unit_form()) as (app, pilot):
        await typed(pilot, "Maker")
        await pilot.press("escape")
        await until(pilot, lambda: read_draft(desk, "unit_form") == {"maker": "Maker"})
        assert any("Kept as a draft" in note.message for note in app._notifications)
    assert app.answers == [None]
    assert read_queue(desk).stages[0].count == 0


async def test_escape_on_an_untouched_form_keeps_nothing(desk: Desk) -> None:
    async with opened(desk, unit_form()) as (app, pilot):
        await pilot.press("escape")
        await settled(pilot)
        assert not list(app._notifications)
    assert read_draft(desk, "unit_form") == {}


async def test_what_was_typed_before_a_crash_is_there_again(desk: Desk) -> None:
    save_draft(desk, "unit_form", {"maker": "Ma[/]", "model": "Model 9", "gone": "x"})
    async with opened(desk, unit_form()) as (app, pilot):
        form = app.screen
        assert runs(form, unit_form)
        assert (form.value("maker"), form.value("model")) == ("Ma[/]", "Model 9")
        assert "restored" in str(form.query_one("#restored", Static).render())
        await pilot.press("ctrl+n")
        await settled(pilot)
        await pilot.press("escape")
        await settled(pilot)
        assert form.value("maker") == "Ma[/]", "asked, and answered no"
        await pilot.press("ctrl+n")
        await settled(pilot)
        await pilot.press("ctrl+s")
        await settled(pilot)
        assert form.value("maker") == ""
        await until(pilot, lambda: read_draft(desk, "unit_form") == {})


async def test_editing_begins_with_what_is_known(desk: Desk, unit_id: int) -> None:
    async with opened(desk, unit_form(unit_id)) as (app, pilot):
        form = app.screen
        assert runs(form, unit_form)
        assert form.value("price_text") == "120.00 EUR"
        assert form.value("note") == "one\ntwo"
        await pilot.press("end")  # entered, the field is selected: typing alone would replace it
        await typed(pilot, "!")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: bool(app.answers))
    unit = read_unit(desk, unit_id)
    assert (unit.maker, unit.note, unit.price_minor) == ("Maker!", "one\ntwo", 12000)


async def test_two_quick_keys_add_one_unit(desk: Desk) -> None:
    async with opened(desk, unit_form()) as (app, pilot):
        form = app.screen
        assert runs(form, unit_form)
        form.field("model").put("Model 9")
        await pilot.press("ctrl+s", "ctrl+s")
        await until(pilot, lambda: bool(app.answers))
    assert read_queue(desk).stages[0].count == 1


async def test_several_errors_stand_each_under_its_field_at_once(desk: Desk) -> None:
    async with opened(desk, unit_form()) as (app, pilot):
        form = app.screen
        assert runs(form, unit_form)
        form.field("due_text").put("someday")
        form.field("price_text").put("much")
        await pilot.press("ctrl+s")
        await settled(pilot)
        said = {name: form.field(name).said for name in ("maker", "model", "due_text", "price_text")}
        assert said["maker"] == ""
        assert "The model is empty" in said["model"]
        assert "is not a day" in said["due_text"]
        assert "is not an amount" in said["price_text"]
        assert app.focused is not None
        assert form.field("model") in app.focused.ancestors_with_self, "the first field that is wrong"
        form.field("model").put("Model 9")
        form.field("due_text").put("")
        await pilot.press("ctrl+s")
        await settled(pilot)
        assert form.field("model").said == ""
        assert "is not an amount" in form.field("price_text").said
        assert not app.answers


async def test_typing_into_an_entered_field_replaces_what_stands_there(desk: Desk, unit_id: int) -> None:
    async with opened(desk, unit_form(unit_id)) as (app, pilot):
        form = app.screen
        assert runs(form, unit_form)
        await typed(pilot, "New")
        await pilot.press("down")
        await typed(pilot, "M2")
        assert (form.value("maker"), form.value("model")) == ("New", "M2")


async def test_a_number_field_takes_only_what_a_number_is_made_of(desk: Desk) -> None:
    async with opened(desk, unit_form()) as (app, pilot):
        form = app.screen
        assert runs(form, unit_form)
        form.field("price_text").take_focus()
        await typed(pilot, "9-9x.5")
        await settled(pilot)
        assert form.value("price_text") == "99x"
        assert "digits" in form.field("price_text").said


async def test_arrows_go_from_field_to_field_in_a_form_taller_than_the_window(desk: Desk) -> None:
    async with opened(desk, unit_form(), (80, 16)) as (app, pilot):
        form = app.screen
        assert runs(form, unit_form)
        seen = []
        for _ in range(8):
            await pilot.press("down")
            await settled(pilot)
            seen += [
                name
                for name in form._fields
                if app.focused and form.field(name) in app.focused.ancestors_with_self
            ]
        assert seen == ["model", "serial", "route", "due_text", "price_text", "owner", "note", "tag_text"]
        await pilot.press("up", "up")
        await settled(pilot)
        assert app.focused is not None
        assert form.field("owner") in app.focused.ancestors_with_self


async def test_the_owner_of_a_machine_is_set_right_in_one_step(desk: Desk) -> None:
    owners = add_unit(desk, maker="", model="M", owner=PartyTyped("Odo", contact="12")).unit_id
    async with opened(desk, unit_form(owners)) as (app, pilot):
        form = app.screen
        assert runs(form, unit_form)
        await until(pilot, lambda: form.value("owner") == "Odo")
        assert form.value("owner_contact") == "12"
        form.field("owner").put("Odilo [b]Owner[/b]")
        form.field("model").put("M 2")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.answers == [owners])
    unit = read_unit(desk, owners)
    assert (unit.owner, unit.owner_contact, unit.model) == ("Odilo [b]Owner[/b]", "12", "M 2")
    undo(desk)
    unit = read_unit(desk, owners)
    assert (unit.owner, unit.model) == ("Odo", "M")


async def test_an_owner_refused_keeps_the_form_and_changes_nothing(desk: Desk, unit_id: int) -> None:
    async with opened(desk, unit_form(unit_id)) as (app, pilot):
        form = app.screen
        assert runs(form, unit_form)
        await until(pilot, lambda: form.value("price_text") == "120.00 EUR")
        form.field("owner").put("Odo")
        form.field("model").put("M 2")
        await pilot.press("ctrl+s")
        wrong = form.field("price_text")
        await until(pilot, lambda: "nothing was paid for it" in wrong.said)
    assert read_unit(desk, unit_id).model == "Model 9"
