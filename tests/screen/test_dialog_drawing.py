"""A dialog's ground follows what lies beneath, which it does not lay out; both follow another size."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest
from textual.app import ComposeResult
from textual.geometry import Size
from textual.widget import Widget
from textual.widgets import Label

from bench.dashboard.screens.dialogs.lot import AT_FIRST, LotForm
from bench.dashboard.screens.dialogs.questions import AskEmpty
from bench.dashboard.screens.dialogs.text_fields import Note
from bench.dashboard.screens.drawing import SparingScreen
from bench.desk import Desk
from tests.screen.host import Host, opened, settled, until
from tests.screen.idle import drawn_whole


class Beneath(SparingScreen[None]):
    """Something that changes beneath a dialog."""

    def compose(self) -> ComposeResult:
        yield Label("as it was")


async def test_what_lies_beneath_is_not_laid_out_for_a_dialog(busy: Desk, layouts: Counter[Widget]) -> None:
    async with opened(busy, Beneath(), (120, 36)) as (app, pilot):
        before = layouts[app.screen]
        beneath = app.screen
        app.push_screen(LotForm())
        await settled(pilot)
        await pilot.pause(0.05)
        assert layouts[app.screen] == 1
        assert layouts[beneath] == before


async def test_the_ground_follows_what_changes_beneath(busy: Desk) -> None:
    async with opened(busy, Beneath(), (120, 36)) as (app, pilot):
        label = app.screen.query_one(Label)
        app.push_screen(AskEmpty("a form"))
        await settled(pilot)
        assert "as it was" in seen(app)
        label.update("another")
        await until(pilot, lambda: "another" in seen(app))
        assert "as it was" not in seen(app)


async def test_a_dialog_and_what_lies_beneath_follow_the_size_of_the_terminal(busy: Desk) -> None:
    async with opened(busy, Beneath(), (80, 24)) as (app, pilot):
        beneath = app.screen
        app.push_screen(LotForm())
        await settled(pilot)
        app.push_screen(AskEmpty("a form"))
        await settled(pilot)
        for size in (Size(120, 36), Size(200, 50), Size(80, 24)):
            await pilot.resize_terminal(*size)
            await settled(pilot)
            await pilot.pause(0.05)
            assert [one._compositor.size for one in app.screen_stack[1:]] == [size] * 3
            box = app.screen.query_one("#box").region
            assert abs(box.x - (size.width - box.right)) <= 1
        assert beneath in app.screen_stack


async def test_a_notice_shows_over_a_dialog(busy: Desk) -> None:
    async with opened(busy, LotForm(), (120, 36)) as (app, pilot):
        assert "seen over it" not in seen(app)
        app.notify("seen over it", markup=False)
        await until(pilot, lambda: "seen over it" in seen(app))


async def test_a_note_that_grew_shorter_is_not_scrolled_past_its_end(busy: Desk) -> None:
    async with opened(busy, LotForm(), (120, 36)) as (app, pilot):
        area = app.screen.query_one(Note)
        app.screen.set_focus(area)
        await pilot.press("a", "enter", "b", "enter", "c", "enter", "d", "enter", "e")
        await settled(pilot)
        assert area.text.splitlines() == ["a", "b", "c", "d", "e"]
        assert area.scroll_y == 2
        area.text = "a"
        await settled(pilot)
        assert area.scroll_y == 0


async def test_a_line_of_a_note_that_grows_into_two_is_seen_whole(busy: Desk) -> None:
    async with opened(busy, LotForm(), (120, 36)) as (app, pilot):
        area = app.screen.query_one(Note)
        app.screen.set_focus(area)
        await settled(pilot)
        await pilot.pause()
        area.text = "the first of them " * 4 + "and this is its end"
        await settled(pilot)
        assert area.wrapped_document.height > 1
        assert "this is its end" in seen(app)


async def test_a_lot_reads_once_and_offers_its_routes_to_every_unit(
    busy: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    reads = 0
    form = LotForm()
    read = form.read

    def counting() -> Any:
        nonlocal reads
        reads += 1
        return read()

    monkeypatch.setattr(form, "read", counting)
    async with opened(busy, form, (120, 36)):
        assert reads == 1
        assert form.units == AT_FIRST
        routes = [str(one.route_id) for one in form.facts]
        assert routes
        for number in range(1, AT_FIRST + 1):
            field = form.field(f"route_{number}")
            for route in routes:
                field.put(route)
                assert field.value == route


def seen(app: Host) -> str:
    """What the terminal shows of the screen that is open."""
    return drawn_whole(app.screen)
