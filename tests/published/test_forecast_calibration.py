"""A date said to be met in so many per cent of cases is met in so many, on simulated shops.

Sources: Hyndman and Fan, Sample Quantiles in Statistical Packages, The American Statistician 50 (1996),
definition 6, as numpy computes it (`method="weibull"`). That the place share x (n + 1) among n like lengths
holds its share for the next one is the textbook result on order statistics (David and Nagaraja, Order
Statistics, 3rd ed., section 7.2: from memory).

Stays drawn from exponential and lognormal distributions by Python's own generator.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping
from itertools import accumulate

import numpy as np
import pytest

from bench.desk import Desk
from bench.domain.forecast import SHARES, Passage, dates_met, done_by, predicted, whole_ways
from bench.views.forecast import passed_lately

HOUR_US = 3_600_000_000
HALF, MOST = (0.45, 0.55), (0.75, 0.85)
Draw = Callable[[random.Random], float]

DRAWS: Mapping[str, Draw] = {
    "exponential": lambda chance: chance.expovariate(1 / 20),
    "lognormal": lambda chance: chance.lognormvariate(2.5, 1.0),
}


def passage(chance: random.Random, stages: int, draw: Draw, spread: float = 0.5) -> Passage:
    """One unit's way through a shop. Who is slow at one stage is slow at all: stays hang together."""
    slow = chance.lognormvariate(0, spread)
    stays = {stage: max(1, round(draw(chance) * slow * HOUR_US)) for stage in range(stages)}
    return Passage(0, sum(stays.values()), stays)


@pytest.mark.parametrize("name", DRAWS)
@pytest.mark.parametrize("stages", range(3, 10))
def test_dates_hold_their_share_on_simulated_shops(name: str, stages: int) -> None:
    chance = random.Random(f"{name} {stages}")
    met = [0, 0]
    judged = 0
    for _ in range(40):
        past = [passage(chance, stages, DRAWS[name]) for _ in range(60)]
        for _ in range(40):
            unit = passage(chance, stages, DRAWS[name])
            at = chance.randrange(stages)
            stood_us = round(chance.choice((0, 2, 8)) * HOUR_US)
            if unit.stays_us[at] <= stood_us:
                continue  # it has moved on: nobody asks any more
            now_us = 10**15
            answer = done_by(whole_ways(past, range(at, stages)), now_us, now_us - stood_us)
            if answer is None:
                continue
            left_us = now_us - stood_us + sum(unit.stays_us[stage] for stage in range(at, stages))
            judged += 1
            met[0] += left_us <= answer.done_us[0]
            met[1] += left_us <= answer.done_us[1]
            assert min(answer.done_us) > now_us
    assert judged > 800
    assert HALF[0] <= met[0] / judged <= HALF[1]
    assert MOST[0] <= met[1] / judged <= MOST[1]


def test_adding_percentiles_of_the_stages_would_fail_this() -> None:
    """What was done before: so that the check above can fail."""
    chance = random.Random(1)
    past = [passage(chance, 9, DRAWS["exponential"], 0.0) for _ in range(400)]
    added = sum(float(np.percentile([one.stays_us[stage] for one in past], 80)) for stage in range(9))
    units = [passage(chance, 9, DRAWS["exponential"], 0.0) for _ in range(2_000)]
    assert not MOST[0] <= sum(one.left_us <= added for one in units) / len(units) <= MOST[1]


def test_dates_hold_their_share_on_real_passages(demo_desk: Desk) -> None:
    """The demo's own passages, each forecast on coming in from all the others."""
    with demo_desk.store.read() as connection:
        past = passed_lately(connection, 0, 1_000)
    first = [one for one in past if not one.again]
    assert len(first) >= 20
    met = [0, 0]
    for at, one in enumerate(first):
        others = sorted(past.left_us - past.came_us for past in first[:at] + first[at + 1 :])
        for share in (0, 1):
            met[share] += one.left_us - one.came_us <= predicted(others, SHARES[share])
    assert HALF[0] <= met[0] / len(first) <= HALF[1]
    assert MOST[0] <= met[1] / len(first) <= MOST[1]


@pytest.mark.parametrize("count", [1, 2, 5, 9, 40])
@pytest.mark.parametrize("share", SHARES)
def test_the_place_is_that_of_definition_6(count: int, share: float) -> None:
    chance = random.Random(count)
    lengths = sorted(chance.randrange(10**12) for _ in range(count))
    assert predicted(lengths, share) == pytest.approx(np.quantile(lengths, share, method="weibull"), abs=1)


def test_the_record_of_dates_met_counts_only_what_was_known_then() -> None:
    # Units one after the other that take 1 to 5 h, then two of 3 h and 6 h; of 1..5 the 50 % date is 3 h, the
    # 80 % date 4.8 h (place 0.8 x 6), of 1..5 and 3: 3 h and 4.6 h.
    took = [1, 2, 3, 4, 5, 3, 6]
    ends = list(accumulate(took))
    units = [
        Passage((end - hours) * HOUR_US, end * HOUR_US, {}) for end, hours in zip(ends, took, strict=True)
    ]
    met = dates_met(units)
    assert (met.given, met.met_50, met.met_80) == (2, 1, 1)
    assert dates_met(units[:5]).given == 0
