"""When units will be done, from the shop's own throughput; the bottleneck; Little's law as a check."""

from __future__ import annotations

import math
from bisect import insort
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from bench.domain.amounts import Instant, Length
from bench.domain.durations import HOUR_US
from bench.domain.statistics_of_work import percentile

DAY_US = 24 * HOUR_US
FEW_STAYS = 5
SHARES = (0.5, 0.8, 0.95)


@dataclass(frozen=True)
class StageStays:
    """How long units stayed at a stage, in microseconds; still waiting ones are not in it."""

    stage_id: int
    stage: str
    stays_us: tuple[Length, ...]

    @cached_property
    def median_us(self) -> int:
        """The stay that half of them stayed within."""
        return round(percentile(self.stays_us, 0.5))


@dataclass(frozen=True)
class Passage:
    """One unit's whole way through the queue, from its coming to its leaving.

    `stays_us`: by stage, all its stays there added up. `again`: it had left before and came back.
    """

    came_us: Instant
    left_us: Instant
    stays_us: Mapping[Length, Length]
    again: bool = False


@dataclass(frozen=True, slots=True)
class DoneBy:
    """Instants by which a unit is done in 50, 80 and 95 % of cases; `rests_on`: past passages behind it."""

    done_us: tuple[Instant, ...]
    rests_on: int


@dataclass(frozen=True, slots=True)
class Met:
    """Dates that could have been given when units came in: how many, and how many of each share were met."""

    given: int
    met_50: int
    met_80: int


@dataclass(frozen=True, slots=True)
class Little:
    """Little's law: units in the queue = arrivals a day x days in the queue, both sides and their ratio."""

    in_queue: float
    arrivals_a_day: float
    days_in_queue: float

    @property
    def expected_in_queue(self) -> float:
        """What the law says stands in the queue on average.

        Source: J. D. C. Little, A Proof for the Queuing Formula L = lambda W, Operations Research 9 (1961).
        """
        return self.arrivals_a_day * self.days_in_queue


def predicted(lengths: Sequence[int], share: float) -> int:
    """The length that the next one stays within in this share of cases, given past ones in rising order.

    At place share x (n + 1), between neighbours by straight line, at most the longest: of n + 1 like lengths
    the next one is as likely to come at any place, so the share holds also for few.
    Source: Hyndman and Fan, Sample Quantiles in Statistical Packages, The American Statistician 50 (1996),
    definition 6 (Weibull).
    """
    place = share * (len(lengths) + 1) - 1
    below = min(max(math.floor(place), 0), len(lengths) - 1)
    above = min(below + 1, len(lengths) - 1)
    part = min(max(place - below, 0.0), 1.0)
    return round(lengths[below] + part * (lengths[above] - lengths[below]))


def whole_ways(passages: Iterable[Passage], way: Sequence[int]) -> tuple[tuple[int, int], ...]:
    """Of each past unit that stood at the first stage of `way`: how long there, and how long over all of it.

    In rising order of the second. Whole passages: what one unit stayed at one stage goes with what it stayed
    at the others. Stages that are not on the way are left out; a past unit that passed one over adds nothing
    for it.
    """
    if not way:
        return ()
    here, *rest = way
    ways = []
    for one in passages:
        first_us = one.stays_us.get(here)
        if first_us is not None:
            ways.append((first_us, sum([one.stays_us.get(stage_id, 0) for stage_id in rest], first_us)))
    return tuple(sorted(ways, key=lambda lengths: lengths[1]))


def done_by(ways_us: Iterable[tuple[int, int]], now_us: int, at_stage_since_us: int) -> DoneBy | None:
    """When a unit that still has such a way before it is done; None where no past one tells.

    `ways_us`: as `whole_ways` answers them. Never an instant that has passed: only past units that stood as
    long as it has are looked at.
    """
    stood_us = max(0, now_us - at_stage_since_us)
    lengths = [whole_us - stood_us for first_us, whole_us in ways_us if first_us > stood_us]
    if not lengths:
        return None
    return DoneBy(tuple(now_us + predicted(lengths, share) for share in SHARES), len(lengths))


def dates_met(passages: Iterable[Passage]) -> Met:
    """What dates given on coming in would have been worth: each from the passages that had ended by then.

    Judged are first passages that had at least FEW_STAYS ended ones before them.
    """
    first = [one for one in passages if not one.again]
    ended = sorted(first, key=lambda one: one.left_us)
    before: list[int] = []  # how long each passage took that had ended by then, rising
    given = met_50 = most_met = at = 0
    for one in sorted(first, key=lambda one: one.came_us):
        while at < len(ended) and ended[at].left_us <= one.came_us:
            insort(before, ended[at].left_us - ended[at].came_us)
            at += 1
        if len(before) >= FEW_STAYS:
            took_us = one.left_us - one.came_us
            given += 1
            met_50 += took_us <= predicted(before, SHARES[0])
            most_met += took_us <= predicted(before, SHARES[1])
    return Met(given, met_50, most_met)


def longest_wait(stays: Sequence[StageStays]) -> StageStays | None:
    """The stage at which units stay longest by the median: where the bottleneck is."""
    with_history = [stage for stage in stays if stage.stays_us]
    return max(with_history, key=lambda stage: stage.median_us, default=None)


def little(
    in_queue_at: Mapping[int, int], arrivals: int, days: float, stays_us: Sequence[int]
) -> Little | None:
    """Both sides of Little's law over a span. `in_queue_at`: units in the queue at each looked-at instant."""
    if not in_queue_at or not stays_us or days <= 0:
        return None
    return Little(
        in_queue=sum(in_queue_at.values()) / len(in_queue_at),
        arrivals_a_day=arrivals / days,
        days_in_queue=sum(stays_us) / len(stays_us) / DAY_US,
    )
