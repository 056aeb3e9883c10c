"""When units will be done, from the shop's own throughput; where the queue jams; Little's law as a check."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

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
    stays_us: tuple[int, ...]

    @cached_property
    def lengths_us(self) -> tuple[int, ...]:
        """The stays that each of SHARES stayed within; reckoned once for all the units still to come."""
        return tuple(round(percentile(self.stays_us, share)) for share in SHARES)


@dataclass(frozen=True, slots=True)
class DoneBy:
    """Instants by which a unit is done in a half, four fifths and 19 in 20 of cases.

    `rests_on`: the fewest past stays that any stage on its way offers.
    """

    unit_id: int
    tag: str
    done_us: tuple[int, ...]
    rests_on: int


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


def done_by(
    unit_id: int,
    tag: str,
    now_us: int,
    at_stage_since_us: int,
    stays: Sequence[StageStays],
) -> DoneBy | None:
    """When a unit that must still pass these stages (its own first) is done, by share of past cases.

    Percentiles of the stays are added stage by stage, which errs late for the higher shares: stages seldom
    all go badly. Time already stood at its own stage is taken off, but never below zero. None while a stage
    has no history.
    """
    if not stays or not all(stage.stays_us for stage in stays):
        return None
    stood_us = max(0, now_us - at_stage_since_us)
    instants = []
    for at in range(len(SHARES)):
        lengths = [stage.lengths_us[at] for stage in stays]
        lengths[0] = max(0, lengths[0] - stood_us)
        instants.append(now_us + sum(lengths))
    return DoneBy(unit_id, tag, tuple(instants), min(len(stage.stays_us) for stage in stays))


def longest_wait(stays: Sequence[StageStays]) -> StageStays | None:
    """The stage at which units stay longest by the median: where the queue jams."""
    with_history = [stage for stage in stays if stage.stays_us]
    return max(with_history, key=lambda stage: stage.lengths_us[0], default=None)


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
