"""The hold period of a local code."""

from __future__ import annotations

from datetime import date, timedelta


def hold_ends(bought_on: date | None, hold_days: int) -> date | None:
    """The first day on which a unit may be altered or sold; None where no hold period applies.

    With 14 days, a unit bought on the 1st is free from the 15th on. Local code first: a shop whose code
    counts the day of purchase otherwise sets one day more or less.
    """
    if bought_on is None or hold_days <= 0:
        return None
    return bought_on + timedelta(days=hold_days)
