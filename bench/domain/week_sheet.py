"""The week as it is shown: hours by day, stage and person, what sold units earned, estimates."""

from __future__ import annotations

from dataclasses import dataclass

from bench.domain.earned import Earned, SoldUnit, earned
from bench.domain.queue import DayHours
from bench.domain.unit_sheet import EntryLine
from bench.domain.ways_out import Repairs
from bench.domain.weeks import IsoWeek


@dataclass(frozen=True, slots=True)
class StageHours:
    """A stage's hours on each of the week's seven days, Monday first, in microseconds."""

    stage: str
    attended_us: tuple[int, ...]
    unattended_us: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class PersonHours:
    """One person's hours in the week."""

    person_id: int
    person: str
    attended_us: int
    unattended_us: int


@dataclass(frozen=True, slots=True)
class WeekTotal:
    """An earlier week's hours, for comparison."""

    week: IsoWeek
    attended_us: int
    unattended_us: int


@dataclass(frozen=True, slots=True)
class TaskEstimate:
    """Estimate against actual of one task name among tasks finished in the week and the eight before."""

    task: str
    count: int
    estimate_minutes: int
    median_us: int
    p80_us: int
    week_us: int
    route_task_ids: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class WeekSheet:
    """One ISO week in the shop's zone. Running entries count up to `read_us`.

    `earlier`: the last eight weeks, oldest first. `entries`: every entry that touches the week, by start.
    `sold`: units sold in the week and still sold, each with its margin, by day of sale.
    `repairs`: owners' machines handed back in the week.
    """

    week: IsoWeek
    shop: str
    currency: str
    zone: str
    read_us: int
    days: tuple[DayHours, ...]
    stages: tuple[StageHours, ...]
    people: tuple[PersonHours, ...]
    earlier: tuple[WeekTotal, ...]
    sold: tuple[SoldUnit, ...]
    repairs: Repairs
    estimates: tuple[TaskEstimate, ...]
    entries: tuple[EntryLine, ...]

    @property
    def attended_us(self) -> int:
        """The week's attended time."""
        return sum(day.attended_us for day in self.days)

    @property
    def unattended_us(self) -> int:
        """The week's unattended time."""
        return sum(day.unattended_us for day in self.days)

    @property
    def earned(self) -> Earned:
        """What the units sold in the week earned together, beside the week's attended time."""
        return earned(str(self.week), self.sold, self.attended_us)

    def in_week_us(self, entry: EntryLine) -> int:
        """The part of an entry that lies in the week; these parts add up to the week's time."""
        from_us, to_us = self.week.bounds_us(self.zone)
        stopped_us = self.read_us if entry.stopped_us is None else entry.stopped_us
        return max(0, min(stopped_us, to_us) - max(entry.started_us, from_us))
