"""What happened in the demo workshop and when: the bench book wound back from now."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bench.domain.amounts import Instant
from bench.domain.durations import MINUTE_US
from bench.domain.starting_set import ROUTES_AT_START, RouteTaskAtStart
from bench.store.demo_data import Demo, DemoPerson, DemoUnit, Sitting
from bench.work.demo.hours import BenchTime, Span, bench_time


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
