"""Reading what a screen shows, again and again without queueing up: asked while busy, it reads once more."""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar

from bench.dashboard.doing import Doing
from bench.errors import BenchError, NotFound

T = TypeVar("T")


class ReadsFirst:
    """A screen on which no key means anything before it has read what it is about: until then keys wait."""

    is_read = False
    _once_read: tuple[Callable[[], None], ...] = ()

    def once_read(self, then: Callable[[], None]) -> None:
        """Call this when it has read for the first time, or has failed to."""
        self._once_read += (then,)

    def now_read(self) -> None:
        """It has read, or has failed to."""
        self.is_read = True
        waiting, self._once_read = self._once_read, ()
        for then in waiting:
            then()


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
        self._over()

    def _failed(self, error: BenchError) -> bool:
        del error
        self._free()
        self._over()
        return False

    def _over(self) -> None:
        if isinstance(self._screen, ReadsFirst):
            self._screen.now_read()

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
