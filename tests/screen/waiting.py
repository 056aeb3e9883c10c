"""Waiting for what the screen is to show, never for a time."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from typing import Any

from textual.pilot import Pilot
from textual.widget import Widget

from bench.dashboard.app import BenchApp
from bench.dashboard.screens.first import FirstScreen
from bench.desk import Desk
from tests.screen.idle import render_now

LONGEST_SECONDS = 20


async def until(pilot: Pilot[Any], holds: Callable[[], bool]) -> None:
    """Wait until the condition holds; the test fails when it never does."""
    async with asyncio.timeout(LONGEST_SECONDS):
        while not holds():
            await pilot.pause()


@asynccontextmanager
async def first_screen(
    desk: Desk, size: tuple[int, int] = (120, 36)
) -> AsyncIterator[tuple[FirstScreen, Pilot[int]]]:
    """The dashboard running without a terminal, and its first screen."""
    app = BenchApp(desk)
    async with app.run_test(size=size, notifications=True) as pilot:
        await pilot.pause()
        first = app.screen_stack[0]
        assert isinstance(first, FirstScreen)
        yield first, pilot
        if app.is_running:
            render_now(app.screen)


def text_of(widget: Widget) -> str:
    """What a widget that draws lines shows now."""
    return "\n".join(widget.render_line(y).text.rstrip() for y in range(widget.size.height))
