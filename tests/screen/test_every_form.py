"""What holds for every form: it opens at its top, Esc keeps typed work as a draft, a number takes no word."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import Static

from bench.dashboard.screens.dialogs.choice_fields import MarkField
from bench.dashboard.screens.dialogs.field import TEXT, Field
from bench.dashboard.screens.dialogs.form import KEPT, Form
from bench.dashboard.screens.dialogs.questions import AskEmpty
from bench.dashboard.screens.dialogs.text_fields import TextField
from bench.desk import Desk
from bench.work.demo import make_demo
from bench.work.files import open_or_new
from tests.clocks import HandSetClock
from tests.screen.every_form import FORMS, forms_there_are
from tests.screen.host import Host, opened, settled, until


@pytest.fixture(scope="session")
def demo_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("demo") / "demo.bench"
    make_demo(path, HandSetClock()).close()
    return path


@pytest.fixture
def demo_desk(demo_file: Path, tmp_path: Path, clock: HandSetClock) -> Iterator[Desk]:
    store = open_or_new(Path(shutil.copy(demo_file, tmp_path / "demo.bench")))
    yield Desk(store, clock, person_id=1)
    store.close()


def test_every_form_is_looked_at() -> None:
    assert set(FORMS) == forms_there_are()


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
        assert again.typed_before(again.read()) == {}


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
