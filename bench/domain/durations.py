"""Lengths of time, in whole microseconds: how they are shown, and how typed minutes are read."""

import re

from bench.domain.text import quoted
from bench.errors import BadInput

SECOND_US = 1_000_000
MINUTE_US = 60 * SECOND_US
HOUR_US = 60 * MINUTE_US

LEAST_MINUTES = 1
MOST_MINUTES = 100_000
MANY_MINUTES = 1000
SECONDS_BELOW_MINUTES = 10

_MINUTES_ONLY = re.compile(r"([0-9]{1,9})\s*(?:m|min|mins|minutes?)?", re.IGNORECASE)
_CLOCK = re.compile(r"([0-9]{1,9}):([0-5][0-9])")
_HOURS = re.compile(
    r"([0-9]{1,9})\s*(?:h|hours?)(?:\s*([0-5]?[0-9])\s*(?:m|min|mins|minutes?)?)?", re.IGNORECASE
)


def running_time(us: int) -> str:
    """A ticking time: 5 min 09 below ten minutes, then 23 min and 1 h 05; what has not passed is cut."""
    minutes, seconds = divmod(abs(us) // SECOND_US, 60)
    sign = "-" if us <= -SECOND_US else ""
    if minutes < SECONDS_BELOW_MINUTES:
        return f"{sign}{minutes} min {seconds:02}"
    return f"{sign}{minutes // 60} h {minutes % 60:02}" if minutes >= 60 else f"{sign}{minutes} min"


def hours_and_minutes(us: int) -> str:
    """A length for reading: 45 min or 1 h 05, to the nearest minute, a half away from zero."""
    minutes = (abs(us) + MINUTE_US // 2) // MINUTE_US
    sign = "-" if us < 0 and minutes else ""
    return f"{sign}{minutes // 60} h {minutes % 60:02}" if minutes >= 60 else f"{sign}{minutes} min"


def spent_of(spent_us: int, estimate_minutes: int) -> str:
    """Time spent of the time estimated, such as 35/90 min, or 17/20 h from a thousand minutes up."""
    if not estimate_minutes:
        return hours_and_minutes(spent_us)
    minutes = (spent_us + MINUTE_US // 2) // MINUTE_US
    if max(minutes, estimate_minutes) < MANY_MINUTES:
        return f"{minutes}/{estimate_minutes} min"
    return f"{(minutes + 30) // 60}/{(estimate_minutes + 30) // 60} h"


def decimal_hours(us: int) -> str:
    """Hours in a table, such as 7.5 h: to the nearest tenth, a half away from 0; a little is <0.1 h."""
    tenth_us = HOUR_US // 10
    tenths = (abs(us) + tenth_us // 2) // tenth_us
    if not tenths:
        return "<0.1 h" if us else "0 h"
    return f"{'-' if us < 0 else ''}{tenths // 10}.{tenths % 10} h"


def read_minutes(text: str) -> int:
    """Whole minutes from 90, 45min, 1:30, 1h30 or 1 h 30 min; BadInput outside 1 to 100000."""
    typed = text.strip()
    minutes = _minutes_in(typed)
    if minutes is None:
        raise BadInput(
            f"{quoted(text)} is not a length of time.", "Write minutes, such as 90, or 1:30 or 1h30."
        )
    if not LEAST_MINUTES <= minutes <= MOST_MINUTES:
        raise BadInput(
            f"{quoted(text)} is {minutes} minutes.",
            f"Give between {LEAST_MINUTES} and {MOST_MINUTES} minutes.",
        )
    return minutes


def _minutes_in(typed: str) -> int | None:
    if found := _MINUTES_ONLY.fullmatch(typed):
        return int(found[1])
    if found := _CLOCK.fullmatch(typed) or _HOURS.fullmatch(typed):
        return int(found[1]) * 60 + int(found[2] or 0)
    return None
