"""The forecast as it is shown: done-by instants of each unit, stays at each stage, Little's law."""

from __future__ import annotations

from dataclasses import dataclass

from bench.domain.amounts import Instant, Length
from bench.domain.durations import hours_and_minutes
from bench.domain.forecast import DAY_US, FEW_STAYS, Little, Met, StageStays
from bench.domain.statistics_of_work import spread

# How far both sides may lie apart before it is said: common practice, no source.
NEAR = 0.2

HOW_FORECAST = (
    "From the shop's own past: the whole ways of units that stood at the same stage at least as long, over "
    "the stages still to come. Units on hold, donors and bad cells are left out. No promise of a date."
)


@dataclass(frozen=True, slots=True)
class ForecastLine:
    """When a unit is ready and when it has left the queue, in 50, 80 and 95 % of past cases.

    Ready: it reaches the last stage before units leave, where it waits for its buyer. Every instant is None
    while nothing of the past tells: `missing` names stages on the way that no unit has passed yet; without
    any it has stood longer than every one before. `rests_on`: the past passages behind the dates.
    """

    unit_id: int
    tag: str
    model: str
    stage: str
    ready_50_us: Instant | None
    ready_most_us: Instant | None
    ready_nearly_all_us: Instant | None
    left_50_us: Instant | None
    left_most_us: Instant | None
    left_nearly_all_us: Instant | None
    rests_on: int
    missing: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StageWait:
    """How long units stayed at a stage in the past, and how many stand there now and since when at most."""

    stage_id: int
    stage: str
    stays: int
    median_us: Length | None
    p80_us: Length | None
    standing: int
    longest_us: Length | None


@dataclass(frozen=True, slots=True)
class Forecast:
    """When units will be done, and where the bottleneck is.

    `days`: how far back it looks, `newest`: and at how many stays at each stage, and ways through the queue.
    """

    read_us: Instant
    days: int
    newest: int
    lines: tuple[ForecastLine, ...]
    stages: tuple[StageWait, ...]
    bottleneck: str
    law: Little | None
    law_words: str
    zone: str
    met: Met
    how: str = HOW_FORECAST


def days_and_hours(us: int) -> str:
    """A long stay for reading: 3 d 4 h, or hours and minutes below a day; parts of an hour are cut."""
    if us < DAY_US:
        return hours_and_minutes(us)
    hours = us * 24 // DAY_US
    return f"{hours // 24} d {hours % 24} h"


def bottleneck_words(bottleneck: StageStays | None) -> str:
    """One sentence on where units wait longest."""
    stays = spread(bottleneck.stays_us) if bottleneck else None
    if bottleneck is None or stays is None:
        return "No unit has moved on from any stage yet: the bottleneck cannot be told."
    few = f", few to go by: {FEW_STAYS} are wanted" if stays.count < FEW_STAYS else ""
    times = f"{stays.count} stay{'' if stays.count == 1 else 's'}"
    longest = days_and_hours(stays.median_us)
    return f"Units stay longest at {bottleneck.stage}: 50 % of {times} took {longest} or less{few}."


def met_words(met: Met) -> str:
    """One sentence on how often the dates were met so far."""
    if not met.given:
        return (
            f"How often dates are met cannot be told yet: it takes {FEW_STAYS} units that left and one more."
        )

    def share(count: int) -> str:
        return f"{count} of {met.given} ({round(100 * count / met.given)} %)"

    return (
        f"Dates as they stood when units came in, so far: the 50 % date was met by {share(met.met_50)}, "
        f"the 80 % date by {share(met.met_80)}."
    )


def doubt(line: ForecastLine) -> str:
    """Why no date is given, or that there is little to go by; empty where there is enough."""
    if line.missing:
        return f"no date yet: no unit has passed {', '.join(line.missing)}"
    if line.left_50_us is None:
        return "no date: it has stood here longer than every unit before it"
    if line.rests_on < FEW_STAYS:
        return f"based on {line.rests_on} past unit{'' if line.rests_on == 1 else 's'}"
    return ""


def law_words(law: Little | None) -> str:
    """One sentence on whether Little's law holds over the past: if not, the queue grows or shrinks."""
    if law is None:
        return "Little's law cannot be checked yet: it takes a day, and a unit that has left."
    sides = f"{law.in_queue:.1f} units stand on average, the law says {law.expected_in_queue:.1f}"
    if abs(law.in_queue - law.expected_in_queue) <= NEAR * max(law.in_queue, law.expected_in_queue):
        return f"Little's law holds: {sides}. The past is steady enough to forecast from."
    return f"Little's law does not hold: {sides}. The queue grows or shrinks, so trust the dates less."
