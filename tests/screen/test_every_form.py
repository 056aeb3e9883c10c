"""What holds for every form: it opens at its top, Esc keeps typed work as a draft, a number takes no word.

What it hands to its use case is what that takes: each call is looked up and bound.
"""

from __future__ import annotations

import inspect
from collections import Counter
from importlib import import_module
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widget import Widget
from textual.widgets import Static

from bench.dashboard import use_cases
from bench.dashboard.screens.dialogs.choice_fields import MarkField
from bench.dashboard.screens.dialogs.described import Filled
from bench.dashboard.screens.dialogs.field import TEXT, Field
from bench.dashboard.screens.dialogs.form import KEPT, Form
from bench.dashboard.screens.dialogs.questions import AskEmpty
from bench.dashboard.screens.dialogs.text_fields import TextField
from bench.desk import Desk
from bench.errors import BadInput
from tests.screen.every_form import FORMS, an_id, forms_there_are
from tests.screen.host import Host, opened, settled, until

# Laid out again when it is there: what they read says which fields there are, or one puts in its sum.
LAID_OUT_TWICE = {"FinishDialog", "OfferForm", "BeginningForm", "StocktakeForm"}
OPENINGS = 5  # on a busy machine a frame may come before all is read


def test_every_form_is_looked_at() -> None:
    assert set(FORMS) == forms_there_are()


@pytest.mark.parametrize("kind", sorted(set(FORMS) - LAID_OUT_TWICE), ids=str)
async def test_it_is_laid_out_once_as_it_opens(demo_desk: Desk, layouts: Counter[Widget], kind: str) -> None:
    async with opened(demo_desk, FORMS["name_form"](demo_desk), (120, 36)) as (app, pilot):
        forms = [FORMS[kind](demo_desk) for _ in range(OPENINGS)]
        for form in forms:
            app.push_screen(form)
            await settled(pilot)
            await pilot.pause(0.05)  # some frames: what asks for another layout afterwards is counted too
            app.pop_screen()
            await settled(pilot)
            if layouts[form] == 1:
                return
        raise AssertionError([layouts[form] for form in forms])


@pytest.mark.parametrize("kind", FORMS, ids=str)
async def test_it_opens_at_its_top_and_escape_keeps_what_was_typed_and_emptying_asks(
    demo_desk: Desk, kind: str
) -> None:
    form = FORMS[kind](demo_desk)
    async with opened(demo_desk, form) as (app, pilot):
        assert form.query_one("#box").scroll_y == 0, "its heading is out of sight"
        field = await type_something(pilot, form)
        typed = field.value
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])
        await until(pilot, lambda: says_kept(app))

        again = FORMS[kind](demo_desk)
        app.push_screen(again)
        await settled(pilot)
        assert again.value(field.field_name) == typed
        assert "restored" in str(again.query_one("#restored", Static).render())

        await pilot.press("ctrl+n")
        await settled(pilot)
        assert isinstance(app.screen, AskEmpty)
        await pilot.press("ctrl+s")
        await settled(pilot)
        assert not again.field(field.field_name).changed
        await until(pilot, lambda: again.typed_before(again.read()) == {})


WITHOUT_A_PATH = [one for one in FORMS if one not in ("FileLostDialog", "save_document_form")]


@pytest.mark.parametrize("kind", WITHOUT_A_PATH, ids=str)
def test_each_number_day_and_time_of_a_form_is_restricted(demo_desk: Desk, kind: str) -> None:
    plain = [
        field.field_name
        for field in FORMS[kind](demo_desk).of.fields
        if field.field_name.endswith("_text") and field.takes == TEXT and isinstance(field, TextField)
    ]
    assert plain == []


def says_kept(app: Host) -> bool:
    return any(note.message == KEPT for note in app._notifications)


async def type_something(pilot: Pilot[int], form: Form[Any]) -> Field:
    """Type into the form's first line that takes typing; where there is none, tick its first box."""
    fields = [field for field in form._fields.values() if field.display and field.control.focusable]
    for kind, key in ((TextField, "7"), (MarkField, "space")):
        for field in fields:
            if isinstance(field, kind) and field.region:
                field.take_focus()
                await pilot.press(key)
                await settled(pilot)
                assert field.changed
                return field
    raise AssertionError("nothing to type into")


# Handed a use case by whoever opens them, or sending in ways of their own that have tests of their own.
NOT_DESCRIBED = {
    "FileLostDialog",
    "FinishDialog",
    "ReasonDialog",
    "SafetyListDialog",
    "StocktakeForm",
    "WeighBattery",
    "name_form",
    "save_document_form",
    "save_papers_form",
    "share_page_form",
    "use_form",
}


class HandedOverError(Exception):
    """A use case was called, and takes what it was given."""


class Bound:
    """Stands for a module of use cases: binds each call and goes no further."""

    def __init__(self, name: str) -> None:
        self.module = import_module(f"bench.work.{name}")

    def __getattr__(self, name: str) -> Any:
        use_case = getattr(self.module, name)

        def call(*args: Any, **named: Any) -> None:
            inspect.signature(use_case).bind(*args, **named)
            raise HandedOverError

        return call


@pytest.mark.parametrize("kind", [one for one in FORMS if one not in NOT_DESCRIBED])
async def test_a_use_case_takes_what_its_form_hands_over(
    demo_desk: Desk, kind: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    form = FORMS[kind](demo_desk)
    async with opened(demo_desk, form):
        filled = Filled(demo_desk, form.facts, typed_in(form, demo_desk))
        monkeypatch.setattr(use_cases, "__getattr__", Bound)
        with pytest.raises(HandedOverError):
            form.of.does(filled)


def typed_in(form: Form[Any], desk: Desk) -> dict[str, Any]:
    """Something in every field."""
    with desk.store.read() as connection:
        other = str(connection.execute("SELECT tag FROM unit ORDER BY id DESC").fetchone()[0])
    typed = {}
    for name, field in form._fields.items():
        try:
            given = field.given
        except BadInput:
            given = an_id(desk, "SELECT id FROM stage")
        typed[name] = other if name == "tag_text" else given if given != "" else "7"
    return typed
