"""Forgotten timers, corrections, added time: the main path, errors that keep the typing, Escape."""

from __future__ import annotations

import pytest
from textual.widgets import Static

from bench.dashboard.screens.dialogs.time_forms import CorrectEntry, ForgottenDialog, add_entry_form
from bench.desk import Desk
from bench.views.entries import read_entry, read_unit_entries
from bench.views.timers import read_forgotten
from bench.work.shop import add_person
from bench.work.timers import start_task, stop_entry
from tests.clocks import HandSetClock
from tests.screen.host import opened, runs, settled, typed, until
from tests.screen.workshop import LOOK_OVER, new_unit, task

MINUTE_US = 60_000_000


@pytest.fixture
def entry_id(desk: Desk, clock: HandSetClock) -> int:
    entry = start_task(desk, task(desk, new_unit(desk), LOOK_OVER).task_id)
    clock.advance(30)
    stop_entry(desk, entry.entry_id)
    clock.advance(5)
    return entry.entry_id


def forget(desk: Desk, clock: HandSetClock) -> list[int]:
    """A timer of each of two people, running far too long."""
    unit_id = new_unit(desk)
    mine = start_task(desk, task(desk, unit_id, LOOK_OVER).task_id).entry_id
    bo = desk.as_person(add_person(desk, "Bo"))
    other = start_task(bo, task(desk, new_unit(desk), LOOK_OVER).task_id).entry_id
    clock.advance(300)
    return [mine, other]


async def test_forgotten_timers_are_asked_about_one_by_one(desk: Desk, clock: HandSetClock) -> None:
    mine, other = forget(desk, clock)
    async with opened(desk, ForgottenDialog()) as (app, pilot):
        dialog = app.screen
        assert isinstance(dialog, ForgottenDialog)
        assert "1 of 2" in str(dialog.query_one("#heading", Static).render())
        await typed(pilot, "45 min")
        await pilot.press("enter")
        await until(pilot, lambda: "Bo" in str(dialog.query_one("#above", Static).render()))
        await pilot.press("f2")
        await until(pilot, lambda: app.answers == [True])
    entry, _ = read_entry(desk, mine)
    assert entry.stopped_us == entry.started_us + 45 * MINUTE_US
    assert read_entry(desk, other)[0].stopped_us is None
    assert read_forgotten(desk) == ()


async def test_a_time_that_cannot_be_read_stays_and_the_timer_can_be_dropped(
    desk: Desk, clock: HandSetClock
) -> None:
    mine, _ = forget(desk, clock)
    async with opened(desk, ForgottenDialog()) as (app, pilot):
        await typed(pilot, "25:00")
        await pilot.press("enter")
        await settled(pilot)
        dialog = app.screen
        assert isinstance(dialog, ForgottenDialog)
        assert "is not a time" in dialog.field("time_text").said
        assert dialog.value("time_text") == "25:00"
        await pilot.press("f4")
        await until(pilot, lambda: len(read_forgotten(desk)) == 1)
        await settled(pilot)
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [True])
    assert read_forgotten(desk)[0].entry_id != mine


async def test_later_changes_nothing(desk: Desk, clock: HandSetClock) -> None:
    forget(desk, clock)
    async with opened(desk, ForgottenDialog()) as (app, pilot):
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])
    assert len(read_forgotten(desk)) == 2


async def test_nothing_forgotten_asks_nothing(desk: Desk) -> None:
    async with opened(desk, ForgottenDialog()) as (app, pilot):
        await until(pilot, lambda: app.answers == [None])


async def test_an_entry_is_corrected_and_its_earlier_values_are_shown(desk: Desk, entry_id: int) -> None:
    async with opened(desk, CorrectEntry(entry_id)) as (app, pilot):
        dialog = app.screen
        assert isinstance(dialog, CorrectEntry)
        assert dialog.value("start_text") == "2026-11-25 10:00"
        dialog.field("stop_text").put("10:20")
        await pilot.press("ctrl+s")
        await settled(pilot)
        assert "reason is empty" in dialog.field("reason").said
        assert dialog.value("stop_text") == "10:20"
        await typed(pilot, "a call")
        await pilot.press("enter")
        await until(pilot, lambda: app.answers == [True])
    entry, corrections = read_entry(desk, entry_id)
    assert entry.stopped_us == entry.started_us + 20 * MINUTE_US
    assert len(corrections) == 1
    async with opened(desk, CorrectEntry(entry_id)) as (app, pilot):
        shown = str(app.screen.query_one("#known", Static).render())
        assert "it was 25 Nov 10:00–10:30 (a call)" in shown


async def test_a_wrong_entry_is_removed_for_a_reason(desk: Desk, entry_id: int) -> None:
    unit_id = read_entry(desk, entry_id)[0].unit_id
    async with opened(desk, CorrectEntry(entry_id)) as (app, pilot):
        dialog = app.screen
        assert isinstance(dialog, CorrectEntry)
        await pilot.press("f4")
        await settled(pilot)
        assert not app.answers
        dialog.field("reason").put("wrong unit")
        await pilot.press("f4")
        await until(pilot, lambda: app.answers == [True])
    assert read_unit_entries(desk, unit_id) == ()


async def test_time_not_timed_is_added(desk: Desk, clock: HandSetClock) -> None:
    unit_id = new_unit(desk)
    async with opened(desk, add_entry_form(task(desk, unit_id, LOOK_OVER).task_id, LOOK_OVER)) as (
        app,
        pilot,
    ):
        dialog = app.screen
        assert runs(dialog, add_entry_form)
        await typed(pilot, "9:15")
        await pilot.press("enter")
        await typed(pilot, "+30")
        await pilot.press("enter")
        await typed(pilot, "tablet was flat")
        await pilot.press("enter")
        await until(pilot, lambda: app.answers == [True])
    (entry,) = read_unit_entries(desk, unit_id)
    assert entry.stopped_us == entry.started_us + 30 * MINUTE_US


async def test_escape_adds_nothing(desk: Desk) -> None:
    unit_id = new_unit(desk)
    async with opened(desk, add_entry_form(task(desk, unit_id, LOOK_OVER).task_id, LOOK_OVER)) as (
        app,
        pilot,
    ):
        await typed(pilot, "9")
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])
    assert read_unit_entries(desk, unit_id) == ()
