"""An app with nothing on its first screen, to open one dialog or screen over it and hear its answer."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any, ClassVar

from textual.pilot import Pilot
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Static

from bench.dashboard import app as dashboard
from bench.dashboard.app import BenchApp
from bench.dashboard.screens.dialogs.field import Field
from bench.dashboard.screens.dialogs.safety_list import TickLine
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.painted import Painted
from bench.desk import Desk
from tests.screen.idle import has_work, render_now

MOST_ROUNDS = 500


class Host(BenchApp):
    """The app around one screen; `answers` collects what it is closed with."""

    # A style sheet's path is taken from the module of the app's own class.
    CSS_PATH: ClassVar = [Path(dashboard.__file__).parent / path for path in BenchApp.CSS_PATH]

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.answers: list[Any] = []

    def get_default_screen(self) -> Screen[object]:
        return Screen()


@asynccontextmanager
async def opened(
    desk: Desk, screen: Screen[Any], size: tuple[int, int] = (80, 24)
) -> AsyncIterator[tuple[Host, Pilot[int]]]:
    """The screen, open over the host and ready."""
    app = Host(desk)
    async with app.run_test(size=size, notifications=True) as pilot:
        app.push_screen(screen, app.answers.append)
        await settled(pilot)
        yield app, pilot
        if app.is_running:
            render_now(app.screen)


async def settled(pilot: Pilot[int]) -> None:
    """Wait until every use case has answered and what follows from it is shown.

    Textual's own pause takes a process that a busy machine gives little time for one with nothing to do.
    """
    for _ in range(MOST_ROUNDS):
        await pilot.app.workers.wait_for_complete()
        await pilot.pause()
        if not has_work(pilot.app):
            return
    raise AssertionError("never came to rest")


def runs(screen: Any, described_by: Callable[..., object]) -> bool:
    """Whether the screen is of this class, or is the form or the choice that this function describes."""
    if isinstance(described_by, type):
        return isinstance(screen, described_by)
    return bool(getattr(screen, "made_by", "") == described_by.__name__)


async def until(pilot: Pilot[int], true: Callable[[], bool]) -> None:
    """Wait for a condition; fails when it does not come true."""
    for _ in range(200):
        if true():
            return
        await settled(pilot)
        await pilot.pause(0.01)
    raise AssertionError("waited in vain")


async def ticked(pilot: Pilot[int], *numbers: int) -> None:
    """Tick lines of a safety list, each by Space with the cursor on it."""
    for number in numbers:
        line = next(one for one in pilot.app.screen.query(TickLine) if one.number == number)
        pilot.app.screen.set_focus(line)
        await pilot.press("space")
        await settled(pilot)


async def typed(pilot: Pilot[int], text: str) -> None:
    """Type a text, key by key."""
    await pilot.press(*text)


def sentences(of: Host | Screen[Any]) -> str:
    """What a dialog says is wrong, under its fields and below them all."""
    screen = of.screen if isinstance(of, Host) else of
    shown = [str(one.render()) for one in screen.query(Static) if one.has_class("shown")]
    return " ".join([*(field.said for field in screen.query(Field)), *shown])


def texts(widget: Widget) -> str:
    """What the drawn lines of a widget and those inside it say now."""
    drawn = [one for one in widget.walk_children(with_self=True) if isinstance(one, (Painted, LineList))]
    return "\n".join(one.render_line(y).text for one in drawn for y in range(one.size.height))
