"""A field to choose in: one line, its list over what lies below, the keys and the mouse of both."""

from __future__ import annotations

from pathlib import Path
from typing import Any, ClassVar

import pytest
from textual.pilot import Pilot

from bench.dashboard.screens.dialogs import dialog
from bench.dashboard.screens.dialogs.choice_fields import ChoiceField, ChoiceList
from bench.dashboard.screens.dialogs.described import FormOf
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.dialogs.text_fields import TextField
from bench.desk import Desk
from tests.screen.host import opened, settled
from tests.screen.waiting import text_of

COLOURS = [("r", "Red"), ("g", "Green [b]not bold"), ("b", "Blue or green")]


class Painting(Form[Any]):
    CSS_PATH: ClassVar = [Path(dialog.__file__).with_suffix(".tcss")]

    def __init__(self, **how: Any) -> None:
        self.colour = ChoiceField("colour", "Colour", COLOURS, **how)
        self.note = TextField("note", "Note")
        super().__init__(FormOf(heading="Painting", draft="painting", fields=(self.colour, self.note)))
        self.told: list[str] = []

    def on_choice_field_changed(self, event: ChoiceField.Changed) -> None:
        self.told.append(event.control.value)

    @property
    def control(self) -> ChoiceField:
        return self.query_one(ChoiceField)

    @property
    def listed(self) -> list[ChoiceList]:
        return list(self.query(ChoiceList))


async def pressed(pilot: Pilot[int], *keys: str) -> None:
    await pilot.press(*keys)
    await settled(pilot)


async def test_it_shows_what_is_chosen_as_it_is_written(desk: Desk) -> None:
    form = Painting(value="g")
    async with opened(desk, form):
        assert text_of(form.control).split() == ["Green", "[b]not", "bold", "▼"]
        assert form.listed == []
        assert form.told == ["g"]


async def test_enter_opens_the_list_at_the_one_chosen_and_chooses_and_goes_on(desk: Desk) -> None:
    form = Painting(value="r")
    async with opened(desk, form) as (_, pilot):
        await pressed(pilot, "enter")
        (listed,) = form.listed
        assert [str(listed.get_option_at_index(n).prompt) for n in range(4)] == [
            "none",
            *(shown for _, shown in COLOURS),
        ]
        assert listed.highlighted == 1
        await pressed(pilot, "down", "enter")
        assert form.listed == []
        assert form.value("colour") == "g"
        assert form.told == ["r", "g"]
        assert form.note in (form.focused or form).ancestors_with_self


async def test_keys_one_behind_the_other_land_where_they_belong(desk: Desk) -> None:
    form = Painting()
    async with opened(desk, form) as (_, pilot):
        await pressed(pilot, "enter", "down", "down", "enter", "w", "e", "l", "l")
        assert (form.value("colour"), form.value("note")) == ("g", "well")


@pytest.mark.parametrize(("key", "then"), [("escape", "colour"), ("tab", "note")])
async def test_left_by_another_key_it_is_as_it_was_and_the_form_open(desk: Desk, key: str, then: str) -> None:
    form = Painting(value="r")
    async with opened(desk, form) as (app, pilot):
        await pressed(pilot, "space", "down", key)
        assert form.listed == []
        assert form.value("colour") == "r"
        assert form.field(then) in (form.focused or form).ancestors_with_self
        assert app.answers == []


async def test_none_can_be_chosen_where_none_will_do(desk: Desk) -> None:
    form = Painting(value="b")
    async with opened(desk, form) as (_, pilot):
        await pressed(pilot, "enter", "home", "enter")
        assert form.value("colour") == ""
        assert "none" in text_of(form.control)


async def test_the_first_is_chosen_where_there_must_be_one(desk: Desk) -> None:
    form = Painting(none=None)
    async with opened(desk, form) as (_, pilot):
        assert form.value("colour") == "r"
        await pressed(pilot, "enter")
        assert form.listed[0].option_count == 3


@pytest.mark.parametrize(("typed", "found"), [("b", 3), ("gr", 2), ("not", 2), ("zz", 1)])
async def test_typing_goes_to_what_begins_with_it_or_else_holds_it(
    desk: Desk, typed: str, found: int
) -> None:
    form = Painting(value="r")
    async with opened(desk, form) as (_, pilot):
        await pressed(pilot, "enter", *typed)
        assert form.listed[0].highlighted == found


async def test_the_mouse_opens_it_and_chooses(desk: Desk) -> None:
    form = Painting()
    async with opened(desk, form) as (_, pilot):
        await pilot.click(ChoiceField, offset=(20, 0))
        await settled(pilot)
        (listed,) = form.listed
        assert listed.region.y > form.control.region.y, "the list covers what is chosen"
        await pilot.click(ChoiceList, offset=(4, 1))  # none, then Red
        await settled(pilot)
        assert form.value("colour") == "r"
        assert form.listed == []


async def test_other_choices_take_back_the_one_made(desk: Desk) -> None:
    form = Painting(value="b")
    async with opened(desk, form) as (_, pilot):
        form.colour.offer([("y", "Yellow")])
        await settled(pilot)
        assert form.value("colour") == ""
        form.colour.put("b")
        assert form.value("colour") == "", "it is offered no more"
        form.colour.put("y")
        await settled(pilot)
        assert form.value("colour") == "y"
        assert form.told == ["b", "", "y"]
