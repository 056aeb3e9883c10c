"""The copy of the day behind the screen, and the last copy among the settings."""

from __future__ import annotations

from collections.abc import AsyncIterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import asynccontextmanager
from pathlib import Path
from threading import Event, Thread

import pytest
from textual.pilot import Pilot

from bench.dashboard.daily_copy import AGAIN_AFTER_US, DailyCopy
from bench.dashboard.messages import Written
from bench.dashboard.screens.settings import SettingsScreen
from bench.desk import Desk
from bench.domain.copies import BY_HAND, DAILY
from bench.store.copies import copies_folder, copies_of
from bench.work.copies import copy_of_the_day, next_day_us
from tests.clocks import HandSetClock
from tests.screen.host import Host, opened, settled, texts, until


@asynccontextmanager
async def copying(desk: Desk) -> AsyncIterator[tuple[Host, DailyCopy, Pilot[int]]]:
    """An app that makes the copy of the day."""
    app = Host(desk)
    app.daily_copy = DailyCopy(app)
    async with app.run_test(notifications=True) as pilot:
        yield app, app.daily_copy, pilot
        app.daily_copy.finish()


def whys(path: Path) -> list[str]:
    return [one.why for one in copies_of(path)]


async def test_the_copy_is_made_once_the_screen_stands_and_again_the_next_day(
    desk: Desk, clock: HandSetClock
) -> None:
    async with copying(desk) as (app, _, pilot):
        await until(pilot, lambda: whys(desk.store.path) == [DAILY])
        clock.set_wall(next_day_us(desk) - 1)
        app.post_message(Written())
        await settled(pilot)
        clock.set_wall(next_day_us(desk))
        app.post_message(Written())
        await until(pilot, lambda: whys(desk.store.path) == [DAILY, DAILY])


async def test_a_copy_that_fails_is_told_and_tried_again_later(desk: Desk, clock: HandSetClock) -> None:
    folder = copies_folder(desk.store.path)
    folder.write_text("a file in the place of the folder")
    async with copying(desk) as (app, daily, pilot):
        await until(pilot, lambda: "No copy was made" in "".join(str(t.render()) for t in app.query("Toast")))
        daily.finish()
        folder.unlink()
        app.post_message(Written())
        await settled(pilot)
        assert whys(desk.store.path) == []
        clock.advance(us=AGAIN_AFTER_US)
        app.post_message(Written())
        await until(pilot, lambda: whys(desk.store.path) == [DAILY])


async def test_the_settings_tell_of_the_last_copy_and_make_one(desk: Desk) -> None:
    async with opened(desk, SettingsScreen(), (200, 60)) as (app, pilot):
        assert "none yet" in texts(app.screen)
        screen = app.screen
        assert isinstance(screen, SettingsScreen)
        rows = screen.table("rows").rows
        rows.move_to(next(n for n, row in enumerate(rows.items) if "Last copy" in row.cells[0].text))
        await pilot.press("enter")
        await until(pilot, lambda: "made by hand" in texts(app.screen))
        assert whys(desk.store.path) == [BY_HAND]
        assert "1 kept" in texts(app.screen)
        assert copies_folder(desk.store.path).name in texts(app.screen)
        copy_of_the_day(desk)
        app.post_message(Written())
        await until(pilot, lambda: "2 kept" in texts(app.screen))


async def test_leaving_waits_for_a_copy_that_is_about_to_begin(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Between its making and its start a thread cannot be waited for."""
    start, made, go_on = Thread.start, Event(), Event()

    def slow_start(thread: Thread) -> None:
        if thread.name == "daily-copy":
            made.set()
            assert go_on.wait(5)
        start(thread)

    daily = DailyCopy(Host(desk))
    with ThreadPoolExecutor(2) as threads:
        looking = threads.submit(lambda: None)  # the pool's own threads are there before starts are slow
        looking.result()
        monkeypatch.setattr(Thread, "start", slow_start)
        looking = threads.submit(daily.look)
        assert made.wait(5)
        leaving = threads.submit(daily.finish)
        assert not leaving.done()
        go_on.set()
        looking.result()
        leaving.result()
    assert whys(desk.store.path) == [DAILY]
