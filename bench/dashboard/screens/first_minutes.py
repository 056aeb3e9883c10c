"""The first minutes: a new file asks for the shop, then leads to the first unit; or to the demo."""

from __future__ import annotations

from contextlib import suppress
from functools import partial
from typing import TYPE_CHECKING

from bench.dashboard.acting import Acting
from bench.dashboard.acts import places
from bench.dashboard.acts.act import call
from bench.dashboard.doing import say
from bench.dashboard.keys import key_shown
from bench.errors import BenchError
from bench.views.shop import read_untouched

if TYPE_CHECKING:
    from bench.dashboard.app import BenchApp


def begin_if_new(app: BenchApp) -> None:
    """Ask for the shop where nobody has done anything in the file yet, unless a key led elsewhere already."""
    first = app.screen_stack[0]
    if len(app.screen_stack) == 1 and isinstance(first, Acting):
        with suppress(BenchError):  # what cannot be read is said by the screen that shows it
            if read_untouched(app.desk):
                _ask(first)


def begin(screen: Acting) -> None:
    """Ask for the shop in a new file; in any other say where it is changed."""

    def answered(untouched: bool) -> None:
        if untouched:
            _ask(screen)
        else:
            say(screen.app, "This shop has begun already: its settings change it, stock counts its shelf.")

    screen.do(partial(read_untouched, screen.desk), answered)


def open_demo(screen: Acting) -> None:
    """Look at the made-up workshop."""
    screen.bench.open_demo()


def _ask(screen: Acting) -> None:
    def added(unit_id: int) -> None:
        call("bench.dashboard.screens.first:FirstScreen.go_to_unit", screen, unit_id)
        start = key_shown("first.start_stop", screen.bench.own_keys)
        say(screen.app, f"It is on the bench. {start} starts its first task.")

    def begun(_: bool) -> None:
        screen.open_screen(places.UNIT_FORM, then=added)

    screen.open_screen(places.BEGINNING_FORM, then=begun)
