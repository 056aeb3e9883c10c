"""Instants (whole microseconds UTC) as a clock on the wall of the workshop shows them, and back."""

import re
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from bench.domain.text import quoted
from bench.errors import BadInput

FIRST_YEAR = 1900
LAST_YEAR = 9997

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_ONE_US = timedelta(microseconds=1)
# Own names: strftime would follow the locale of whoever starts the program.
_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
# right/ counts leap seconds; posix/ and the two files are the computer's own and mean nothing elsewhere.
_ZONE_NAME = re.compile(
    r"(?!right/|posix/|localtime$|posixrules$)[A-Za-z][A-Za-z0-9_+-]*(/[A-Za-z0-9_+-]+){0,2}"
)


@lru_cache(maxsize=64)
def zone_named(name: str) -> ZoneInfo:
    """The IANA time zone of that name; BadInput if there is none."""
    try:
        if not _ZONE_NAME.fullmatch(name):
            raise ZoneInfoNotFoundError(name)
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise BadInput(
            f"{quoted(name)} is not a time zone.", "Give its IANA name, such as Europe/Berlin or UTC."
        ) from None


def local_datetime(instant_us: int, zone: str) -> datetime:
    """The instant as an aware date and time in that zone; BadInput outside the years 1900 to 9997."""
    if not _FIRST_US <= instant_us <= _LAST_US:
        raise BadInput(f"The instant {instant_us} lies outside the calendar.", "Correct the date.")
    return (_EPOCH + timedelta(microseconds=instant_us)).astimezone(zone_named(zone))


def instant_of(aware: datetime) -> int:
    """The instant of an aware date and time, in whole microseconds UTC since the epoch.

    Converted to UTC before subtracting: two times of one zone would subtract as wall time.
    A naive time is a mistake of the program, not of a person: ValueError.
    """
    if aware.utcoffset() is None:
        raise ValueError("instant_of needs an aware datetime")
    return (aware.astimezone(UTC) - _EPOCH) // _ONE_US


_FIRST_US = instant_of(datetime(FIRST_YEAR, 1, 1, tzinfo=UTC))
_LAST_US = instant_of(datetime(LAST_YEAR + 1, 1, 1, tzinfo=UTC))


def clock_time(instant_us: int, zone: str) -> str:
    """The time of day, such as 14:05."""
    local = local_datetime(instant_us, zone)
    return f"{local.hour:02}:{local.minute:02}"


def weekday_and_time(instant_us: int, zone: str) -> str:
    """The day of the week and the time, such as Wed 14:05, where the week is known."""
    return f"{_DAYS[local_datetime(instant_us, zone).weekday()]} {clock_time(instant_us, zone)}"


def day_name(day: date) -> str:
    """The day, such as Wed 25 Nov, in English whatever the locale."""
    return f"{_DAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]}"


def day_and_time(instant_us: int, zone: str) -> str:
    """The day and time, such as Wed 25 Nov 14:05, in English whatever the locale."""
    local = local_datetime(instant_us, zone)
    return f"{day_name(local)} {local.hour:02}:{local.minute:02}"


def short_day(day: date, today: date | None = None) -> str:
    """The day as a screen shows it, such as 28 Nov; with its year where that is another or not known."""
    words = f"{day.day} {_MONTHS[day.month - 1]}"
    return words if today is not None and day.year == today.year else f"{words} {day.year}"


def short_instant(instant_us: int, zone: str, now_us: int = 0) -> str:
    """Day and time as a screen shows them, such as 28 Nov 14:05; with the year where that is another."""
    local, today = local_datetime(instant_us, zone), local_datetime(now_us, zone).date()
    return f"{short_day(local.date(), today)} {local.hour:02}:{local.minute:02}"


def iso_local(instant_us: int, zone: str) -> str:
    """The local time with its offset by ISO 8601, such as 2026-11-25T14:05:00+01:00; whole seconds, cut."""
    return local_datetime(instant_us, zone).isoformat(timespec="seconds")
