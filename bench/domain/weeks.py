"""Days and ISO 8601 weeks as the workshop's zone cuts them: 23 and 25 hour days, missing midnights too."""

import re
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from bench.domain.localtime import FIRST_YEAR, LAST_YEAR, instant_of, local_datetime
from bench.domain.localtime import zone_named as zone_named
from bench.domain.text import quoted
from bench.errors import BadInput

_WEEK = re.compile(r"([0-9]{4})-[Ww]([0-9]{2})")
_ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, order=True)
class IsoWeek:
    """A week of ISO 8601: Monday to Sunday, numbered so that week 1 holds the year's first Thursday."""

    year: int
    week: int

    def __post_init__(self) -> None:
        if not FIRST_YEAR <= self.year <= LAST_YEAR:
            raise BadInput(
                f"{self.year} is not a year for a week.", f"Give one from {FIRST_YEAR} to {LAST_YEAR}."
            )
        # 28 December always lies in the last week of its ISO year.
        last = date(self.year, 12, 28).isocalendar().week
        if not 1 <= self.week <= last:
            raise BadInput(f"{self.year} has no week {self.week}.", f"Its weeks run from 01 to {last}.")

    def __str__(self) -> str:
        return f"{self.year:04}-W{self.week:02}"

    @classmethod
    def parse(cls, text: str) -> "IsoWeek":
        """The week written as 2026-W48; BadInput for anything else and for weeks that do not exist."""
        found = _WEEK.fullmatch(text.strip())
        if found is None:
            raise BadInput(f"{quoted(text)} is not a week.", "Write the year and the week, such as 2026-W48.")
        return cls(int(found[1]), int(found[2]))

    @classmethod
    def of(cls, day: date) -> "IsoWeek":
        """The week that holds this day."""
        year, week, _ = day.isocalendar()
        return cls(year, week)

    @classmethod
    def at(cls, instant_us: int, zone: str) -> "IsoWeek":
        """The week that holds this instant in that zone."""
        return cls.of(local_day(instant_us, zone))

    def previous(self, n: int = 1) -> "IsoWeek":
        """The week n weeks earlier."""
        return self.next(-n)

    def next(self, n: int = 1) -> "IsoWeek":
        """The week n weeks later."""
        try:
            return IsoWeek.of(self._monday() + timedelta(weeks=n))
        except OverflowError:
            raise BadInput(f"There is no week {n} weeks from {self}.", "Give fewer weeks.") from None

    def days(self) -> tuple[date, ...]:
        """Its seven days, Monday first."""
        monday = self._monday()
        return tuple(monday + timedelta(days=n) for n in range(7))

    def bounds_us(self, zone: str) -> tuple[int, int]:
        """The instants at which it begins and at which the next one begins, in that zone."""
        monday = self._monday()
        return _start_us(monday, zone), _start_us(monday + timedelta(weeks=1), zone)

    def _monday(self) -> date:
        return date.fromisocalendar(self.year, self.week, 1)


def day_bounds_us(day: date, zone: str) -> tuple[int, int]:
    """The instants at which the day and the next one begin in that zone; equal if the zone left it out."""
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise BadInput(f"{day} lies outside the calendar.", f"Give a year from {FIRST_YEAR} to {LAST_YEAR}.")
    return _start_us(day, zone), _start_us(day + _ONE_DAY, zone)


def local_day(instant_us: int, zone: str) -> date:
    """The day the instant belongs to in that zone, agreeing with day_bounds_us.

    Where clocks went back across midnight, the repeated minutes belong to the later day: days never mix.
    """
    day = local_datetime(instant_us, zone).date()
    return day + _ONE_DAY if _start_us(day + _ONE_DAY, zone) <= instant_us else day


def _start_us(day: date, zone: str) -> int:
    """The first instant at which a clock in the zone reads this day, or a later one."""
    midnight = datetime(day.year, day.month, day.day, tzinfo=zone_named(zone))
    first_us = instant_of(midnight)
    if midnight.astimezone(UTC).astimezone(midnight.tzinfo).replace(tzinfo=None) == midnight.replace(
        tzinfo=None
    ):
        return first_us
    # Midnight falls into a gap. The gap lies between the two readings of midnight: search for its edge.
    low_us, high_us = instant_of(midnight.replace(fold=1)), first_us
    while high_us - low_us > 1:
        middle_us = (low_us + high_us) // 2
        if local_datetime(middle_us, zone).date() < day:
            low_us = middle_us
        else:
            high_us = middle_us
    return high_us
