"""What happened in the demo workshop, when and by whom: the bench book wound back from now."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from bench.domain.amounts import Instant, Thousandths
from bench.domain.durations import HOUR_US, MINUTE_US
from bench.domain.localtime import instant_of
from bench.domain.starting_set import ROUTES_AT_START, RouteTaskAtStart
from bench.domain.weeks import day_bounds_us, local_day, zone_named
from bench.store.demo_data import Demo, DemoPerson, DemoUnit, Sitting

OVERTIME_US = 2 * HOUR_US
_MOST_DAYS = 3660

Span = tuple[int, int]


@dataclass(frozen=True)
class BenchTime:
    """Spans of bench time in microseconds UTC, the latest first."""

    spans: tuple[Span, ...]

    def pieces(self, from_end_us: int, to_end_us: int) -> tuple[Span, ...]:
        """The spans between two distances from the end, the farther one first; the oldest piece first."""
        found: list[Span] = []
        behind_us = 0
        for start_us, stop_us in self.spans:
            ahead_us = behind_us + stop_us - start_us
            if ahead_us > to_end_us and behind_us < from_end_us:
                last_us = stop_us - max(0, to_end_us - behind_us)
                found.append((max(start_us, stop_us - (from_end_us - behind_us)), last_us))
            behind_us = ahead_us
        return tuple(reversed(found))

    def at(self, from_end_us: int) -> int:
        """The instant at that distance from the end; between two spans, the end of the earlier."""
        behind_us = 0
        for start_us, stop_us in self.spans:
            if from_end_us < behind_us + stop_us - start_us:
                return stop_us - (from_end_us - behind_us)
            behind_us += stop_us - start_us
        return self.spans[-1][0]


def bench_time(
    now_us: int,
    zone: str,
    days: frozenset[int],
    hours: Sequence[tuple[time, time]],
    length_us: int,
    *,
    here_now: bool = False,
) -> BenchTime:
    """At least `length_us` of bench time before now: the hours of the weekdays (0 is Monday) in that zone.

    `here_now` adds the last two hours, though not yesterday's, so that the line ends this minute.
    """
    spans: list[Span] = []
    reached_us = 0
    today = local_day(now_us, zone)
    for back in range(_MOST_DAYS):
        day = today - timedelta(days=back)
        found = list(_spans_of(day, zone, hours)) if day.weekday() in days else []
        if here_now and back == 0:
            found.append(_overtime(now_us, day_bounds_us(day, zone)[0]))
        for start_us, stop_us in _joined(found, now_us):
            spans.append((start_us, stop_us))
            reached_us += stop_us - start_us
        if reached_us >= length_us:
            break
    return BenchTime(tuple(spans))


def _overtime(now_us: int, midnight_us: int) -> Span:
    return min(max(midnight_us, now_us - OVERTIME_US), now_us - MINUTE_US), now_us


def _spans_of(day: date, zone: str, hours: Sequence[tuple[time, time]]) -> Iterator[Span]:
    for opens, shuts in hours:
        yield _instant(day, opens, zone), _instant(day, shuts, zone)


def _instant(day: date, at: time, zone: str) -> int:
    return instant_of(datetime.combine(day, at, tzinfo=zone_named(zone)))


def _joined(spans: list[Span], now_us: int) -> list[Span]:
    """The spans without what lies ahead of now, those that touch made one, the latest first."""
    joined: list[Span] = []
    for start_us, stop_us in sorted((min(start, now_us), min(stop, now_us)) for start, stop in spans):
        if joined and start_us <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(stop_us, joined[-1][1]))
        else:
            joined.append((start_us, stop_us))
    return [span for span in reversed(joined) if span[0] < span[1]]


@dataclass(frozen=True)
class Happening:
    """A sitting with its times. `pieces`: its time entries; the last one is still open when it `runs`."""

    at_us: Instant
    who: str
    unit: int
    task: RouteTaskAtStart | None
    then: str
    note: str
    pieces: tuple[Span, ...]


def happenings(demo: Demo, now_us: int) -> list[Happening]:
    """Everything in the bench book, the earliest first. Nothing lies after now."""
    tasks = {unit.number: {task.name: task for task in tasks_of(demo, unit)} for unit in demo.units}
    found: list[Happening] = []
    for person in demo.people:
        book = [sitting for sitting in demo.book if sitting.who == person.name]
        found += _of_one(book, person, tasks, now_us, demo.zone)
    return sorted(found, key=lambda one: one.at_us)


def tasks_of(demo: Demo, unit: DemoUnit) -> tuple[RouteTaskAtStart, ...]:
    """The tasks of the unit's route, and those it was given beyond it."""
    return ROUTES_AT_START[unit.route] + demo.trade.extra_tasks.get(unit.number, ())


def _of_one(
    book: list[Sitting],
    person: DemoPerson,
    tasks: dict[int, dict[str, RouteTaskAtStart]],
    now_us: int,
    zone: str,
) -> Iterator[Happening]:
    taken = [_bench_minutes(sitting, tasks) for sitting in book]
    left_us = sum(taken) * MINUTE_US
    line = bench_time(now_us, zone, person.days, person.hours, left_us, here_now=person.here_now)
    for sitting, minutes in zip(book, taken, strict=True):
        end_us = left_us - minutes * MINUTE_US
        start_us = left_us - sitting.idle_minutes * MINUTE_US
        left_us = end_us
        if sitting.then != "away":
            task = tasks[sitting.unit].get(sitting.task)
            yield _happening(sitting, task, _pieces(sitting, task, line, start_us, end_us, now_us))


def _bench_minutes(sitting: Sitting, tasks: dict[int, dict[str, RouteTaskAtStart]]) -> int:
    """What it took of the person's own bench time: nothing for what runs by itself."""
    task = tasks[sitting.unit][sitting.task] if sitting.task else None
    by_itself = task is not None and task.unattended
    return sitting.idle_minutes + (0 if by_itself else sitting.minutes)


def _pieces(
    sitting: Sitting,
    task: RouteTaskAtStart | None,
    line: BenchTime,
    start_us: int,
    end_us: int,
    now_us: int,
) -> tuple[Span, ...]:
    if task is None or sitting.minutes == 0:
        at_us = line.at(start_us)
        return ((at_us, at_us),)
    if not task.unattended:
        return line.pieces(start_us, end_us)
    length_us = sitting.minutes * MINUTE_US
    began_us = now_us - length_us if sitting.then == "runs" else line.at(start_us)
    return ((began_us, began_us + length_us),)


def _happening(sitting: Sitting, task: RouteTaskAtStart | None, pieces: tuple[Span, ...]) -> Happening:
    at_us = pieces[-1][0] if sitting.then == "runs" else pieces[-1][1]
    return Happening(at_us, sitting.who, sitting.unit, task, sitting.then, sitting.note, pieces)


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
