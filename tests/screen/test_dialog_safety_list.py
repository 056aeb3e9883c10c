"""The opening and close-up lists: ticked by Space and mouse, refused out of order, gone on without."""

from __future__ import annotations

import pytest
from textual.widgets import Static

from bench.dashboard.screens.dialogs import safety_list
from bench.dashboard.screens.dialogs.safety_list import SafetyListDialog, TickLine
from bench.desk import Desk
from bench.domain.safety import CLOSING, OPENING
from bench.views.journal import read_journal
from bench.views.safety import read_safety
from bench.views.shop import read_draft
from tests.screen.host import opened, settled, ticked, typed, until
from tests.screen.workshop import close_cover, new_unit, open_cover


@pytest.fixture
def unit_id(desk: Desk) -> int:
    return new_unit(desk)


def said(dialog: object) -> str:
    assert isinstance(dialog, SafetyListDialog)
    return str(dialog.query_one("#wrong", Static).render())


async def test_space_ticks_line_by_line_and_enter_says_done(desk: Desk, unit_id: int) -> None:
    async with opened(desk, SafetyListDialog(unit_id, OPENING)) as (app, pilot):
        for _ in range(3):
            await pilot.press("space")
            await settled(pilot)
        await pilot.press("enter")
        assert "No cell swollen" in said(app.screen)
        await ticked(pilot, 4)
        await pilot.press("enter")
        await until(pilot, lambda: app.answers == [True])
    assert all(one.at_us is not None for one in read_safety(desk, unit_id).opening)


async def test_space_and_mouse_tick_and_untick(desk: Desk, unit_id: int) -> None:
    async with opened(desk, SafetyListDialog(unit_id, OPENING)) as (app, pilot):
        await pilot.press("space")
        await settled(pilot)
        await pilot.press("space")
        await until(pilot, lambda: read_safety(desk, unit_id).opening[1].at_us is not None)
        await settled(pilot)
        await pilot.click(app.screen.query(TickLine).first())
        await until(pilot, lambda: read_safety(desk, unit_id).opening[0].at_us is None)
        assert read_safety(desk, unit_id).opening[1].at_us is not None


async def test_no_digit_and_no_letter_ticks_and_the_screws_are_counted(desk: Desk, unit_id: int) -> None:
    async with opened(desk, SafetyListDialog(unit_id, OPENING)) as (app, pilot):
        await pilot.press("1", "2", "3", "4", "a")
        await settled(pilot)
        assert all(one.at_us is None for one in read_safety(desk, unit_id).opening)
        await ticked(pilot, 1, 2, 3, 4)
        await typed(pilot, "11")
        await pilot.press("enter")
        await until(pilot, lambda: app.answers == [True])
    assert read_safety(desk, unit_id).screws_out == 11


async def test_a_difference_of_screws_asks_for_a_note_and_keeps_the_count(desk: Desk, unit_id: int) -> None:
    open_cover(desk, unit_id, screws=11)
    async with opened(desk, SafetyListDialog(unit_id, CLOSING)) as (app, pilot):
        app.screen.query_one("#field-screws").put("")  # type: ignore[attr-defined]
        await ticked(pilot, 1)
        assert "how many screws" in said(app.screen)
        await typed(pilot, "10")
        await pilot.press("enter")
        await settled(pilot)
        dialog = app.screen
        assert isinstance(dialog, SafetyListDialog)
        wrong = dialog.field("note")
        assert "came out: 11; 10 went back" in wrong.said
        assert dialog.value("screws") == "10"
        await typed(pilot, "one thread is worn")
        await pilot.press("enter")
        await until(pilot, lambda: read_safety(desk, unit_id).screws_back == 10)
        await settled(pilot)
        await ticked(pilot, 4)
        assert "goes back in last" in said(app.screen)
        await ticked(pilot, 2, 3, 4)
        await until(pilot, lambda: app.answers == [True])


async def test_going_on_without_needs_a_reason(desk: Desk, unit_id: int) -> None:
    async with opened(desk, SafetyListDialog(unit_id, OPENING)) as (app, pilot):
        await pilot.press("w")
        await settled(pilot)
        await pilot.press("enter")
        assert not app.answers
        await typed(pilot, "no battery in it")
        await pilot.press("enter")
        await until(pilot, lambda: app.answers == [True])
    assert read_safety(desk, unit_id).without_opening == "no battery in it"


async def test_a_battery_that_is_back_in_is_open_again(desk: Desk, unit_id: int) -> None:
    open_cover(desk, unit_id)
    close_cover(desk, unit_id, screws=9)
    async with opened(desk, SafetyListDialog(unit_id, OPENING)) as (app, pilot):
        await pilot.press("enter")
        assert "Battery disconnected" in said(app.screen)
        await ticked(pilot, 3)
        await pilot.press("enter")
        await until(pilot, lambda: app.answers == [True])
    assert not read_safety(desk, unit_id).battery_connected


async def test_a_bad_cell_closes_the_list(desk: Desk, unit_id: int) -> None:
    async with opened(desk, SafetyListDialog(unit_id, OPENING)) as (app, pilot):
        await pilot.press("x")
        await settled(pilot)
        await pilot.press("1")
        await until(pilot, lambda: app.answers == [None])
    assert read_safety(desk, unit_id).cell_finding == "swollen"


async def test_escape_leaves(desk: Desk, unit_id: int) -> None:
    async with opened(desk, SafetyListDialog(unit_id, OPENING)) as (app, pilot):
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])
    assert all(one.at_us is None for one in read_safety(desk, unit_id).opening)


async def test_screws_counted_again_take_the_place_of_the_first_count(desk: Desk, unit_id: int) -> None:
    open_cover(desk, unit_id, screws=11)
    async with opened(desk, SafetyListDialog(unit_id, CLOSING)) as (app, pilot):
        dialog = app.screen
        assert isinstance(dialog, SafetyListDialog)
        dialog.field("screws").put("10")
        dialog.field("note").put("one is lost")
        await ticked(pilot, 1)
        assert read_safety(desk, unit_id).screws_back == 10
        dialog.field("screws").put("11")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: read_safety(desk, unit_id).screws_back == 11)
    newest = read_journal(desk).lines[0]
    assert (newest.action, newest.summary.rpartition(": ")[2]) == ("tick", "11 screws")


async def test_each_key_on_a_line_is_one_line_of_the_journal(desk: Desk, unit_id: int) -> None:
    async with opened(desk, SafetyListDialog(unit_id, OPENING)) as (_, pilot):
        await ticked(pilot, 1, 2)
        await ticked(pilot, 1)
    assert [line.action for line in read_journal(desk).lines] == ["untick", "tick", "tick", "add unit"]


async def test_a_count_that_was_not_recorded_is_not_lost_by_ticking_another_line(
    desk: Desk, unit_id: int
) -> None:
    open_cover(desk, unit_id, screws=11)
    async with opened(desk, SafetyListDialog(unit_id, CLOSING)) as (app, pilot):
        dialog = app.screen
        assert isinstance(dialog, SafetyListDialog)
        dialog.field("screws").put("12")
        await ticked(pilot, 2)
        assert dialog.value("screws") == "12"
        await pilot.press("escape")
        await until(pilot, lambda: read_draft(desk, f"{CLOSING} list {unit_id}") == {"screws": "12"})


async def test_each_press_ticks_a_line_with_the_count_that_came_out(desk: Desk, unit_id: int) -> None:
    open_cover(desk, unit_id, screws=11)
    async with opened(desk, SafetyListDialog(unit_id, CLOSING)) as (app, pilot):
        lines = list(app.screen.query(TickLine))
        assert str(lines[0].render()) == "[ ] 1  Screws counted back in: 11"
        await pilot.press("enter")
        assert "not ticked through: Screws counted back in" in said(app.screen), "an offer is no tick"
        for at, _ in enumerate(lines):
            assert app.screen.focused is lines[at]
            assert read_safety(desk, unit_id).closing[at].at_us is None
            await pilot.press("space")
            await settled(pilot)
        await until(pilot, lambda: app.answers == [True])
    assert read_safety(desk, unit_id).screws_back == 11


async def test_a_key_that_is_held_down_ticks_one_line(
    desk: Desk, unit_id: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(safety_list, "A_LOOK_SECONDS", 3600)
    async with opened(desk, SafetyListDialog(unit_id, OPENING)) as (app, pilot):
        await pilot.press("space")
        await settled(pilot)
        await pilot.press("space", "space", "space")
        await settled(pilot)
        assert "Look at each line" in said(app.screen)
    assert [one.at_us is not None for one in read_safety(desk, unit_id).opening] == [
        True,
        False,
        False,
        False,
    ]
