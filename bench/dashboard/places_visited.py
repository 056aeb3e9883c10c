"""Where one has been: each screen that was opened, with what it was given, to be opened again."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from textual.screen import Screen

from bench.dashboard.acts.places import Place
from bench.dashboard.doing import say

if TYPE_CHECKING:
    from bench.dashboard.app import BenchApp

MOST = 20


class Visits:
    """The places opened last, each once, the newest at the end. Going back changes nothing in their order."""

    def __init__(self, app: BenchApp) -> None:
        self._app = app
        self._places: list[Place] = []
        self._opened: dict[Screen[Any], Place] = {}
        self._came_back: set[Screen[Any]] = set()

    def note(self, screen: Screen[Any], place: Place) -> None:
        """The screen is being opened; a dialog is no place."""
        if screen.is_modal:
            return
        here = self.here()
        for one in (here, place):
            if one is not None:
                others = [other for other in self._places if other != one]
                self._places = [*others[-MOST + 1 :], one]
        self._remember(screen, place)

    def here(self) -> Place | None:
        """The place that is open, beneath any dialog; None on the first screen."""
        top = next((one for one in reversed(self._app.screen_stack) if not one.is_modal), None)
        return self._opened.get(top) if top is not None else None

    def open(self, place: Place) -> None:
        """Open a place over what is open; another of the same kind takes its turn, as at a scan."""
        screen = place.made()
        self.note(screen, place)
        self._put(screen)

    def go_back(self) -> None:
        """Open the place before this one, and again the one before that; from the oldest round to the newest.

        Where one came back already, the next place takes the turn of that one: Esc leads to where one began.
        """
        here = self.here()
        at = self._places.index(here) if here in self._places else len(self._places)
        before = [*self._places[:at], *self._places[at + 1 :]]
        turn = before[at - 1] if before else None  # at 0: round to the newest
        if turn is None:
            say(self._app, "Nothing else was opened yet.")
            return
        screen = turn.made()
        self._remember(screen, turn)
        self._put(screen)
        self._came_back.add(screen)

    def _put(self, screen: Screen[Any]) -> None:
        app, top = self._app, self._app.screen
        app.repeating.begin(None)  # what is done there is no part of the act before
        if top in self._came_back or type(top) is type(screen):
            app.switch_screen(screen)
        else:
            app.push_screen(screen)

    def _remember(self, screen: Screen[Any], place: Place) -> None:
        open_now = set(self._app.screen_stack)
        self._opened = {one: of for one, of in self._opened.items() if one in open_now}
        self._opened[screen] = place
        self._came_back &= open_now
