"""Reading what a screen shows, again and again without queueing up: asked while busy, it reads once more."""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar

from bench.dashboard.doing import Doing
from bench.errors import BenchError, NotFound

T = TypeVar("T")


class Reading(Generic[T]):
    """One thing that a screen reads. `work` is asked on the interface thread for the use case to run."""

    def __init__(self, screen: Doing, work: Callable[[], Callable[[], T]], then: Callable[[T], None]) -> None:
        self._screen = screen
        self._work = work
        self._then = then
        self._busy = False
        self._again = False

    def ask(self) -> None:
        """Read now, or as soon as the reading under way is done."""
        if self._busy:
            self._again = True
            return
        self._busy = True
        self._screen.do(self._work(), self._done, failed=self._failed)

    def _done(self, answer: T) -> None:
        self._free()
        self._then(answer)

    def _failed(self, error: BenchError) -> bool:
        del error
        self._free()
        return False

    def _free(self) -> None:
        self._busy = False
        if self._again:
            self._again = False
            self.ask()


def none_if_gone(read: Callable[[], T]) -> Callable[[], T | None]:
    """The same reading; None where what it is about has just been removed."""

    def work() -> T | None:
        try:
            return read()
        except NotFound:
            return None

    return work
