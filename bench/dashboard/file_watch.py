"""The data file under the dashboard, looked at twice a second: other programs' writes, and its loss."""

from __future__ import annotations

from typing import TYPE_CHECKING

from bench.errors import FileLost, StoreError

if TYPE_CHECKING:
    from bench.dashboard.app import BenchApp

LOOK_SECONDS = 0.5
NOTICE_SECONDS = 20


class FileWatch:
    """Tells the screens to read again when another program wrote, and says loudly when the file is lost."""

    def __init__(self, app: BenchApp) -> None:
        self._app = app
        self._seen_version = app.desk.store.data_version()
        self._told = ""
        self.typed: dict[
            str, str
        ] = {}  # where to save a copy, typed and not sent: the lost file keeps nothing

    def start(self) -> None:
        """Say what was met when the file was opened, and begin to look."""
        for notice in self._app.desk.store.notices:
            self._app.notify(notice, severity="warning", timeout=NOTICE_SECONDS, markup=False)
        self._app.set_interval(LOOK_SECONDS, self.look)

    def written(self) -> None:
        """This program wrote: that is no news."""
        self._seen_version = self._app.desk.store.data_version()

    def look(self) -> None:
        """Look at the file once."""
        store = self._app.desk.store
        try:
            store.require_same_file()
            version = store.data_version()
        except StoreError as error:
            self.met(error)
            return
        self._told = ""
        if version != self._seen_version:
            self._seen_version = version
            self._app.tell_screens()

    def met(self, error: StoreError, *, again: bool = False) -> None:
        """Say it once; `again` when someone has just tried to write all the same."""
        if str(error) == self._told and not again:
            return
        self._told = str(error)
        if isinstance(error, FileLost):
            self._ask_for_a_copy(error)
        else:
            self._app.notify(str(error), title=error.title, severity="error", timeout=10, markup=False)

    def _ask_for_a_copy(self, error: FileLost) -> None:
        from bench.dashboard.screens.dialogs.file_forms import FileLostDialog
        from bench.work.files import name_for_a_copy

        if any(isinstance(screen, FileLostDialog) for screen in self._app.screen_stack):
            return
        proposed = name_for_a_copy(self._app.desk.store.path)
        self._app.push_screen(FileLostDialog(error, str(proposed)))
