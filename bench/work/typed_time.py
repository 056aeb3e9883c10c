"""The times a person types, read as instants: on the workshop's clock, its gaps and doubled hours named."""

from __future__ import annotations

import re
from datetime import date, timedelta

import arrow

from bench.domain.dates import WEEKDAY_WORDS
from bench.domain.durations import MINUTE_US, read_minutes
from bench.domain.localtime import (
    FIRST_YEAR,
    LAST_YEAR,
    day_and_time,
    instant_of,
    local_datetime,
    zone_named,
)
from bench.domain.text import quoted
from bench.errors import BadInput

HOW = "Write 14:30, 2026-11-24 18:05, yesterday 18:05 or mon 18:05."
HOW_WITH_START = f"{HOW[:-1]}, or +90 or 1h30 for that long after the start."

_DAY = "|".join((r"[0-9]{4}-[0-9]{2}-[0-9]{2}", "today", "yesterday", *WEEKDAY_WORDS))
_OFFSET = r"z|[+-](?:0[0-9]|1[0-4]):[0-5][0-9]"
_TIME = re.compile(
    rf"(?:(?P<day>{_DAY})(?:\s|(?<=[0-9])t))?"
    r"(?P<hour>[01]?[0-9]|2[0-3]):(?P<minute>[0-5][0-9])(?::(?P<second>[0-5][0-9]))?"
    rf"\s?(?P<which>second|{_OFFSET})?"
)
_LENGTH = re.compile(r"\+.*|[0-9]+\s?[hm].*")


def read_instant(
    text: str, *, zone: str, now_us: int, started_us: int | None = None, on: date | None = None
) -> int:
    """The instant meant by what was typed, never one that is still to come.

    A time of day alone is today's in the shop's zone; with `on`, that day's; with `started_us`, the first
    such time after that start. Of an hour that clocks pass twice the first is meant that lies after the
    start, unless `second` or an offset such as +01:00 follows. With `started_us`, `+45`, `90 min` and `1h30`
    count from there. BadInput for anything else, for times the clocks left out, and for the future.
    """
    typed = " ".join(text.split()).casefold()
    how = HOW if started_us is None else HOW_WITH_START
    found = _TIME.fullmatch(typed)
    if _LENGTH.fullmatch(typed):
        instant_us = _that_long_after(started_us, typed.removeprefix("+"), text)
    elif found is not None:
        instant_us = _TypedTime(found, zone, started_us).instant_us(now_us, on)
    else:
        raise BadInput(f"{quoted(text)} is not a time.", how)
    if instant_us > now_us:
        raise BadInput(
            f"{quoted(text)}, read as {day_and_time(instant_us, zone)}, lies in the future.",
            "Give a time that has passed; name its day if in doubt.",
        )
    return instant_us


def _that_long_after(started_us: int | None, length: str, text: str) -> int:
    if started_us is None:
        raise BadInput(f"{quoted(text)} is a length, but there is no start to count from.", HOW)
    return started_us + read_minutes(length) * MINUTE_US


class _TypedTime:
    """A time of day as typed, and the start it is meant to follow, if any."""

    def __init__(self, found: re.Match[str], zone: str, started_us: int | None) -> None:
        self.day, self.which, self.second = found["day"], found["which"], found["second"]
        self.clock = (int(found["hour"]), int(found["minute"]), int(self.second or 0))
        self.zone, self.started_us = zone, started_us

    def instant_us(self, now_us: int, on: date | None) -> int:
        """The instant on the day that was typed or, without one, on the day that is meant."""
        today = local_datetime(now_us, self.zone).date()
        if self.day is None:
            return self._at(on or today) if self.started_us is None else self._first_after(self.started_us)
        if self.day in ("today", "yesterday"):
            return self._at(today - timedelta(days=self.day == "yesterday"))
        if self.day[0].isdigit():
            return self._at(_calendar_day(self.day))
        return self._last_weekday(today, now_us)

    def _last_weekday(self, today: date, now_us: int) -> int:
        day = today - timedelta(days=(today.weekday() - WEEKDAY_WORDS[self.day]) % 7)
        instant_us = self._at(day)
        return instant_us if instant_us <= now_us else self._at(day - timedelta(weeks=1))

    def _first_after(self, started_us: int) -> int:
        day = local_datetime(started_us, self.zone).date()
        latest_us = max(instant_of(self._moment(day, fold).datetime) for fold in (0, 1))
        return self._at(day if self._follows(latest_us) else day + timedelta(days=1))

    def _at(self, day: date) -> int:
        first, second = self._moment(day, 0), self._moment(day, 1)
        if self.which not in (None, "second"):
            return instant_of(first.replace(tzinfo=self.which.upper()).datetime)
        if first.imaginary:
            raise BadInput(
                f"{first:HH:mm} on {day} never was: the clocks of {self.zone} went forward over it.",
                "Give a time before or after the gap.",
            )
        if self.which == "second" and not first.ambiguous:
            raise BadInput(f"{first:HH:mm} comes only once on {day}.", "Leave “second” away.")
        first_us, second_us = instant_of(first.datetime), instant_of(second.datetime)
        chosen_us = first_us if self.which is None and self._follows(first_us) else second_us
        if self.second is None and self.started_us is not None and self._follows(chosen_us):
            return max(chosen_us, self.started_us)
        return chosen_us

    def _follows(self, instant_us: int) -> bool:
        """Whether the instant lies after the start; a time typed to the minute may name the start's own."""
        if self.started_us is None:
            return True
        slack_us = MINUTE_US if self.second is None else 1
        return self.started_us - slack_us < instant_us

    def _moment(self, day: date, fold: int) -> arrow.Arrow:
        return arrow.Arrow(day.year, day.month, day.day, *self.clock, tzinfo=zone_named(self.zone), fold=fold)


def _calendar_day(typed: str) -> date:
    try:
        day = arrow.get(typed, "YYYY-MM-DD").date()
    except ValueError:  # arrow's own errors among them
        raise BadInput(f"{quoted(typed)} is not in the calendar.", HOW) from None
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise BadInput(f"{day} lies outside the calendar.", f"Give a year from {FIRST_YEAR}.")
    return day
