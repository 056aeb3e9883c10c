"""What the first screen shows: people and what each is timing, and the queue of units by stage."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Running:
    """A time entry that is still open."""

    entry_id: int
    task_id: int
    task: str
    unit_id: int
    tag: str
    person_id: int
    person: str
    started_us: int
    attended: bool
    estimate_minutes: int
    kept_us: int | None = None


@dataclass(frozen=True, slots=True)
class PersonNow:
    """Someone at the bench, and today's attended time of closed entries."""

    person_id: int
    name: str
    running: tuple[Running, ...]
    today_us: int


@dataclass(frozen=True, slots=True)
class QueueRow:
    """One unit in the queue. `spent_us`: closed attended time; running time comes on top while it ticks."""

    unit_id: int
    tag: str
    model: str
    stage_id: int
    next_task_id: int | None
    next_task: str
    next_unattended: bool
    spent_us: int
    estimate_minutes: int
    running: tuple[Running, ...]
    held: str | None
    due_on: date | None
    overdue: bool
    battery_alarm: bool
    cell_finding: str | None
    short_of: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class QueueStage:
    """A stage heading and the units that stand there. A final stage lists none, only their count.

    `ways`: of a final stage each way by which units left, as `ways_out` names it, with how many.
    """

    stage_id: int
    name: str
    lid_off: bool
    final: bool
    count: int
    rows: tuple[QueueRow, ...]
    ways: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True)
class DayHours:
    """A day's hours in microseconds, attended and unattended apart."""

    day: date
    attended_us: int
    unattended_us: int


@dataclass(frozen=True, slots=True)
class ShopFacts:
    """The shop's settings that a screen needs to show anything."""

    name: str
    currency: str
    zone: str
    rate_minor_per_hour: int
    forgotten_times: int
    forgotten_least_minutes: int


@dataclass(frozen=True, slots=True)
class QueueView:
    """The first screen's data at one instant, read in one snapshot."""

    read_us: int
    shop: ShopFacts
    people: tuple[PersonNow, ...]
    stages: tuple[QueueStage, ...]
    week: tuple[DayHours, ...]

    def row(self, unit_id: int) -> QueueRow | None:
        """The row of a unit, or None when it is not in the queue."""
        for stage in self.stages:
            for row in stage.rows:
                if row.unit_id == unit_id:
                    return row
        return None

    def running(self) -> tuple[Running, ...]:
        """Every open time entry, by person."""
        return tuple(entry for person in self.people for entry in person.running)
