"""Undo from a screen: what it will do is seen, then it is done."""

from __future__ import annotations

from typing import Any

from textual.pilot import Pilot
from textual.widgets import OptionList

from bench.dashboard.screens.dialogs.pick import ChooseUndo
from tests.screen.waiting import until


async def undo_newest(pilot: Pilot[Any]) -> None:
    """Press u, see the newest change that can be undone marked, and take it."""
    await pilot.press("u")
    await until(pilot, lambda: _is_ready(pilot))
    await pilot.press("enter")
    await until(pilot, lambda: not isinstance(pilot.app.screen, ChooseUndo))


def _is_ready(pilot: Pilot[Any]) -> bool:
    screen = pilot.app.screen
    return isinstance(screen, ChooseUndo) and screen.query_one(OptionList).highlighted is not None
