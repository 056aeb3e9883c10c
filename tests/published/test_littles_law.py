"""Little's law and forecasts by percentiles.

Sources: J. D. C. Little, Operations Research 9 (1961), 383-387; the M/M/1 cases lambda 15, mu 17.5 -> L 6,
W 0.4 h and lambda 4, mu 6 -> L 2, W 30 min as printed in operations texts. A simulated M/M/1 queue (simpy)
must obey the law within 5 %: both sides are read from the same run, so only the ends of the run differ.
Percentiles against numpy's default (Hyndman-Fan type 7), tolerance half a microsecond of rounding.
"""

from __future__ import annotations

import random

import pytest
import simpy

from bench.domain.forecast import DAY_US, Little, StageStays, little, longest_wait


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


def test_the_jam_is_where_units_stay_longest() -> None:
    stays = (StageStays(1, "a", (5, 900)), StageStays(2, "b", (500, 600)), StageStays(3, "c", ()))
    assert longest_wait(stays) == stays[1]
    assert longest_wait(()) is None
    assert little({}, 1, 1, [1]) is None
