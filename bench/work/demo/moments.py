"""When things happened to a unit of the demo, and who did them: what other rows of the story hang on."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from bench.domain.amounts import Instant, Thousandths
from bench.work.demo.story import Happening


@dataclass(frozen=True)
class Moment:
    """An instant and who was at it. `began_us`: since when, for a piece of work."""

    at_us: Instant
    who: str
    began_us: Instant


@dataclass(frozen=True)
class Moments:
    """The story by unit number, and when each unit that has left the queue left it."""

    happened: Mapping[int, Sequence[Happening]]
    left: Mapping[Thousandths, Moment]

    def came(self, number: int) -> Moment:
        """When the unit came in."""
        return _moment(self.happened[number][0])

    def back(self, number: int) -> Moment:
        """When the unit came back after its sale."""
        return next(_moment(one) for one in self.happened[number] if one.then == "back")

    def ended(self, number: int, task: str) -> Moment:
        """When a task of the unit was done. KeyError where it was not: the files do not fit together."""
        return self._done(number, task, lambda name: name == task)

    def ended_one_of(self, number: int, beginning: str) -> Moment:
        """When the task whose name begins so was done; KeyError as above."""
        return self._done(number, beginning, lambda name: name.startswith(beginning))

    def after(self, number: int, at_us: int) -> Moment:
        """What was done next on the unit after an instant."""
        for one in self.happened[number]:
            if one.pieces[0][0] >= at_us and one.task is not None:
                return _moment(one)
        raise KeyError((number, at_us))

    def _done(self, number: int, meant: str, fits: Callable[[str], bool]) -> Moment:
        for one in self.happened[number]:
            if one.then == "done" and one.task is not None and fits(one.task.name):
                return _moment(one)
        raise KeyError((number, meant))


def _moment(one: Happening) -> Moment:
    return Moment(one.at_us, one.who, one.pieces[0][0])
