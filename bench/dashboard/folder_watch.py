"""The watched folder under the dashboard: once a second, in a thread; a question for what came into it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from textual.screen import ModalScreen

from bench.dashboard.doing import show_error
from bench.errors import BenchError

if TYPE_CHECKING:
    from bench.dashboard.app import BenchApp
    from bench.work.watched_folder import WatchedFolder

LOOK_SECONDS = 1.0
DROPPED_FORM = "bench.dashboard.screens.dialogs.photograph_forms:DroppedForm"


class FolderWatch:
    """Asks about each picture once, all that came together in one question, never over another dialog."""

    def __init__(self, app: BenchApp, folder: Path) -> None:
        self._app = app
        self._folder = folder
        self._watched: WatchedFolder | None = None
        self._busy = False
        self._unreadable = False
        self._waiting: list[Path] = []

    def start(self) -> None:
        """Begin to look."""
        self._app.set_interval(LOOK_SECONDS, self.look)
        self.look()

    def look(self) -> None:
        """Look once, unless the look before is still under way."""
        if not self._busy:
            self._busy = True
            self._app.do(self._look, self._seen, failed=self._failed)

    def _look(self) -> tuple[Path, ...]:
        if self._watched is None:
            from bench.work.watched_folder import WatchedFolder

            self._watched = WatchedFolder(self._folder)
        return self._watched.look()

    def _seen(self, new: tuple[Path, ...]) -> None:
        self._busy = self._unreadable = False
        self._waiting += new
        screen = self._app.top_screen
        if self._waiting and screen is not None and not isinstance(screen, ModalScreen):
            asked, self._waiting = self._waiting, []
            self._app.open_screen(DROPPED_FORM, asked)

    def _failed(self, error: BenchError) -> bool:
        """Say once that it cannot be read: a phone's folder comes and goes."""
        self._busy = False
        if not self._unreadable:
            self._unreadable = True
            show_error(self._app, error)
        return True
