"""Stays and spells rebuilt from moves, by hand; Little's law over a queue that stands still in flow."""

from __future__ import annotations

import pytest

from bench.domain.forecast import DAY_US, Little, StageStays
from bench.domain.forecast_sheet import bottleneck_words, days_and_hours, law_words
from bench.domain.passage import Move, Spell, Standing, law_over, spells

RECEIVED, CLEANED, SOLD = 1, 2, 3
HOUR_US = 3_600_000_000


def test_spells_end_at_a_final_stage_and_begin_again_with_a_return() -> None:
    units = [
        Standing(1, RECEIVED, 70, 0),  # sold at 50, back at 70
        Standing(2, CLEANED, 30, 20),  # still there
        Standing(3, SOLD, 44, 11),  # no move tells, it stands there since 44
        Standing(4, SOLD, 90, 5),  # sold before the past looked at begins, returned at 60, sold at 90
    ]
    moves = [
        Move(1, RECEIVED, 0, SOLD, 50),
        Move(1, SOLD, 50, RECEIVED, 70),
        Move(4, SOLD, 25, RECEIVED, 60),
        Move(4, RECEIVED, 60, SOLD, 90),
    ]
    assert spells(units, moves, {SOLD}) == (
        Spell(0, 50),
        Spell(70, None),
        Spell(20, None),
        Spell(11, 44),
        Spell(5, 25),
        Spell(60, 90),
    )


def test_a_move_between_final_stages_ends_nothing_twice() -> None:
    units = [Standing(1, 4, 60, 0)]
    moves = [Move(1, RECEIVED, 0, SOLD, 50), Move(1, SOLD, 50, 4, 60)]
    assert spells(units, moves, {SOLD, 4}) == (Spell(0, 50),)


def test_a_steady_flow_obeys_the_law_exactly() -> None:
    """One unit comes at the start of every day and stays three days: 3 stand, 1 a day x 3 days = 3.

    Source: J. D. C. Little, Operations Research 9 (1961), 383-387. Looked at from day 10 to day 30.
    """
    times = [Spell(day * DAY_US, (day + 3) * DAY_US) for day in range(60)]
    law = law_over(times, 10 * DAY_US, 30 * DAY_US)
    assert law == Little(3.0, 1.0, 3.0)
    assert law.expected_in_queue == 3.0
    assert law_words(law).startswith("Little's law holds: 3.0 units stand on average, the law says 3.0.")


def test_a_growing_queue_does_not() -> None:
    # Two come a day and one leaves after a day: by day 20 some twenty stand, the law says 2 x 1.
    # 81 looks: of those that stay 4 x (1 + ... + 20) + 21 = 861, of those that leave one at each: 942 / 81.
    stay = [Spell(day * DAY_US, None) for day in range(21)]
    leave = [Spell(day * DAY_US, (day + 1) * DAY_US) for day in range(21)]
    law = law_over([*stay, *leave], 0, 20 * DAY_US)
    assert law is not None
    assert law.arrivals_a_day == 2.0
    assert law.days_in_queue == 1.0
    assert law.in_queue == pytest.approx(942 / 81)
    assert "does not hold" in law_words(law)


def test_too_little_past_says_nothing() -> None:
    assert law_over([Spell(0, 10)], 0, DAY_US - 1) is None
    assert law_over([Spell(0, None)], 0, 5 * DAY_US) is None
    assert law_over([], 5 * DAY_US, 5 * DAY_US) is None
    assert "cannot be checked yet" in law_words(None)


def test_the_bottleneck_in_words() -> None:
    few = StageStays(1, "graded", (76 * HOUR_US, 76 * HOUR_US))
    assert bottleneck_words(few) == (
        "Units stay longest at graded: 50 % of 2 stays took 3 d 4 h or less, few to go by: 5 are wanted."
    )
    assert bottleneck_words(StageStays(1, "graded", (90 * 60_000_000,) * 5)).endswith(
        "50 % of 5 stays took 1 h 30 or less."
    )
    assert "of 1 stay took 0 min or less, few" in bottleneck_words(StageStays(1, "graded", (5,)))
    assert "cannot be told" in bottleneck_words(None)
    assert days_and_hours(25 * HOUR_US - 1) == "1 d 0 h"
    assert days_and_hours(24 * HOUR_US - 60_000_000) == "23 h 59"
