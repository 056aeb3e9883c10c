"""Little's law and forecasts by percentiles.

Sources: J. D. C. Little, Operations Research 9 (1961), 383-387; the M/M/1 cases lambda 15, mu 17.5 -> L 6,
W 0.4 h and lambda 4, mu 6 -> L 2, W 30 min as printed in operations texts. A simulated M/M/1 queue (simpy)
must obey the law within 5 %: both sides are read from the same run, so only the ends of the run differ.
Percentiles against numpy's default (Hyndman-Fan type 7), tolerance half a microsecond of rounding.
"""

from __future__ import annotations

import random

import numpy as np
import pytest
import simpy

from bench.domain.forecast import DAY_US, FEW_STAYS, SHARES, Little, StageStays, done_by, little, longest_wait


@pytest.mark.parametrize(("rate", "service", "in_queue", "days"), [(15, 17.5, 6, 0.4), (4, 6, 2, 0.5)])
def test_printed_cases(rate: float, service: float, in_queue: float, days: float) -> None:
    assert days == pytest.approx(1 / (service - rate))
    assert Little(in_queue, rate, days).expected_in_queue == pytest.approx(in_queue)


def test_a_simulated_queue_obeys_the_law() -> None:
    chance = random.Random(7)
    world = simpy.Environment()
    bench = simpy.Resource(world, capacity=1)
    span, arrivals, stays, inside, seen = 4_000.0, 0, [], 0, {}

    def unit() -> object:
        nonlocal inside
        came = world.now
        inside += 1
        with bench.request() as turn:
            yield turn
            yield world.timeout(chance.expovariate(6))
        inside -= 1
        stays.append(round((world.now - came) * DAY_US))

    def door() -> object:
        nonlocal arrivals
        while True:
            yield world.timeout(chance.expovariate(4))
            arrivals += 1
            world.process(unit())

    def look() -> object:
        while True:
            seen[len(seen)] = inside
            yield world.timeout(0.05)

    world.process(door())
    world.process(look())
    world.run(until=span)
    law = little(seen, arrivals, span, stays)
    assert law is not None
    assert law.in_queue == pytest.approx(law.expected_in_queue, rel=0.05)
    assert law.in_queue == pytest.approx(2, rel=0.15)  # the printed case, by chance of one run


def test_done_by_adds_percentiles_stage_by_stage() -> None:
    chance = random.Random(3)
    stays = [
        StageStays(number, f"stage {number}", tuple(chance.randrange(10**9, 10**12) for _ in range(40)))
        for number in range(3)
    ]
    answer = done_by(1, "10014", 5_000, 5_000, stays)
    assert answer is not None
    for share, done_us in zip(SHARES, answer.done_us, strict=True):
        expected = 5_000 + sum(np.percentile(stage.stays_us, share * 100) for stage in stays)
        assert done_us == pytest.approx(expected, abs=2)
    assert answer.rests_on == 40 > FEW_STAYS


def test_time_already_stood_counts_and_no_history_gives_no_date() -> None:
    stays = (StageStays(1, "a", (100, 100)), StageStays(2, "b", (50,)))
    assert done_by(1, "1", 1_000, 940, stays).done_us == (1_090,) * 3  # type: ignore[union-attr]
    assert done_by(1, "1", 1_000, 0, stays).done_us == (1_050,) * 3  # type: ignore[union-attr]
    assert done_by(1, "1", 1_000, 0, (*stays, StageStays(3, "c", ()))) is None
    assert done_by(1, "1", 1_000, 0, ()) is None


def test_the_jam_is_where_units_stay_longest() -> None:
    stays = (StageStays(1, "a", (5, 900)), StageStays(2, "b", (500, 600)), StageStays(3, "c", ()))
    assert longest_wait(stays) == stays[1]
    assert longest_wait(()) is None
    assert little({}, 1, 1, [1]) is None
