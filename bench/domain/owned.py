"""Until when someone outside the shop had a drive: what was wiped before that was not wiped for good."""

from __future__ import annotations

from datetime import date

from bench.domain.weeks import day_bounds_us, local_day


def outside_until_us(outside_us: int | None, came_us: int | None, bought_on: date | None, zone: str) -> int:
    """The instant, in microseconds UTC; 0 where nobody outside is known to have had it.

    `outside_us`: when it last came back from a buyer. `came_us` and `bought_on`: when the unit in which it
    came was recorded and bought. Of these a day is known at best: a wipe of the same day is later.
    """
    last_us = outside_us or 0
    if bought_on is not None:
        return max(last_us, day_bounds_us(bought_on, zone)[0])
    if came_us is not None:
        return max(last_us, day_bounds_us(local_day(came_us, zone), zone)[0])
    return last_us
