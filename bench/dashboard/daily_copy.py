"""The copy of the day, made behind the screen: once it stands, and at the first write of each later day."""

from __future__ import annotations

import threading
from typing import TYPE_CHECKING

from bench.dashboard.messages import CopyFailed
from bench.errors import BenchError

if TYPE_CHECKING:
    from bench.dashboard.app import BenchApp

AGAIN_AFTER_US = 3_600_000_000
LONGEST_WAIT_SECONDS = 2.0


class DailyCopy:
    """Makes the copy in a thread of its own, and tells the app where it failed; then again in an hour."""

    def __init__(self, app: BenchApp) -> None:
        self._app = app
        self._due_us = 0
        self._thread: threading.Thread | None = None
        self._starting = threading.Lock()

    def look(self) -> None:
        """Begin with the copy where one is due and none is being made. Holds up nobody."""
        with self._starting:
            busy = self._thread is not None and self._thread.is_alive()
            if busy or self._app.desk.clock.now_us() < self._due_us:
                return
            self._thread = threading.Thread(target=self._make, name="daily-copy", daemon=True)
            self._thread.start()

    def finish(self) -> None:
        """Wait for the copy that is being made, but not for long: half of one is swept away at the next."""
        with self._starting:  # a thread that is not started yet cannot be waited for
            thread = self._thread
        if thread is not None:
            thread.join(LONGEST_WAIT_SECONDS)

    def _make(self) -> None:
        from bench.work.copies import copy_of_the_day, next_day_us

        desk = self._app.desk
        self._due_us = desk.clock.now_us() + AGAIN_AFTER_US
        try:
            copy_of_the_day(desk)
            self._due_us = next_day_us(desk)
        except BenchError as error:
            self._app.post_message(CopyFailed(error))
