"""Instants shown in local time, and back."""

import locale
from datetime import UTC, date, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.localtime import (
    clock_time,
    day_and_time,
    instant_of,
    iso_local,
    local_datetime,
    short_day,
    short_instant,
    weekday_and_time,
)
from bench.errors import BadInput

# 2026-11-25 13:05:00.123456 UTC, a Wednesday; 20782 days after the epoch.
INSTANT_US = (20_782 * 86_400 + 13 * 3600 + 5 * 60) * 1_000_000 + 123_456
ZONES = st.sampled_from(
    ["UTC", "Europe/Berlin", "Australia/Lord_Howe", "America/Sao_Paulo", "Asia/Kathmandu"]
)


def test_one_instant_in_every_form():
    assert clock_time(INSTANT_US, "Europe/Berlin") == "14:05"
    assert day_and_time(INSTANT_US, "Europe/Berlin") == "Wed 25 Nov 14:05"
    assert iso_local(INSTANT_US, "Europe/Berlin") == "2026-11-25T14:05:00+01:00"
    assert iso_local(INSTANT_US, "America/New_York") == "2026-11-25T08:05:00-05:00"
    assert local_datetime(INSTANT_US, "UTC") == datetime(2026, 11, 25, 13, 5, 0, 123_456, tzinfo=UTC)


@given(st.integers(min_value=-2_208_988_800_000_000, max_value=253_000_000_000_000_000), ZONES)
def test_no_microsecond_is_lost_on_the_way_there_and_back(instant_us, zone):
    assert instant_of(local_datetime(instant_us, zone)) == instant_us


def test_both_readings_of_an_hour_that_comes_twice():
    before = datetime(2026, 10, 25, 2, 30, tzinfo=timezone(timedelta(hours=2)))
    after = datetime(2026, 10, 25, 2, 30, tzinfo=timezone(timedelta(hours=1)))

    assert instant_of(after) - instant_of(before) == 3_600_000_000
    assert (
        clock_time(instant_of(before), "Europe/Berlin")
        == clock_time(instant_of(after), "Europe/Berlin")
        == "02:30"
    )
    assert iso_local(instant_of(before), "Europe/Berlin") != iso_local(instant_of(after), "Europe/Berlin")


def test_day_names_do_not_follow_the_locale():
    was = locale.setlocale(locale.LC_TIME)
    try:
        for name in ("de_DE.UTF-8", "C.UTF-8", "C"):
            try:
                locale.setlocale(locale.LC_TIME, name)
            except locale.Error:
                continue
            assert day_and_time(INSTANT_US, "UTC") == "Wed 25 Nov 13:05"
            assert weekday_and_time(INSTANT_US, "UTC") == "Wed 13:05"
            assert short_day(date(2026, 5, 25)) == "25 May 2026"
    finally:
        locale.setlocale(locale.LC_TIME, was)


DAYS = st.dates(min_value=date(1900, 1, 2), max_value=date(9997, 12, 30))


@given(DAYS, DAYS)
def test_a_day_on_the_screen_is_as_strftime_has_it(day: date, today: date) -> None:
    """Reference: datetime.strftime; the tests run in the C locale, as a program does that sets none."""
    assert locale.setlocale(locale.LC_TIME) in ("C", "C.UTF-8", "en_US.UTF-8")
    words = f"{day.day} {day.strftime('%b')}"
    assert short_day(day, today) == (words if day.year == today.year else f"{words} {day.year}")
    assert short_day(day, today) in short_day(day) == f"{words} {day.year}"
    assert len(short_day(day, today)) <= len("28 Nov 2025")


@given(DAYS, DAYS, st.integers(min_value=0, max_value=1439), ZONES)
def test_an_instant_on_the_screen_says_its_day_and_minute(
    day: date, today: date, minute: int, zone: str
) -> None:
    at = datetime(day.year, day.month, day.day, tzinfo=UTC) + timedelta(minutes=minute)
    now = datetime(today.year, today.month, today.day, 12, tzinfo=UTC)
    local = local_datetime(instant_of(at), zone)
    shown = short_instant(instant_of(at), zone, instant_of(now))
    this_year = local.year == local_datetime(instant_of(now), zone).year
    assert shown == f"{local.day} {local.strftime('%b')}{'' if this_year else f' {local.year}'} {local:%H:%M}"
    assert len(shown) <= len("28 Nov 2025 14:05")
    assert weekday_and_time(instant_of(at), zone) == f"{local:%a %H:%M}"


def test_every_day_and_month_has_its_name():
    shown = [day_and_time(INSTANT_US + n * 86_400_000_000, "UTC") for n in range(365)]
    python = [(datetime(2026, 11, 25, tzinfo=UTC) + timedelta(days=n)).ctime() for n in range(365)]

    assert [text.split()[0] for text in shown] == [text[:3] for text in python]
    assert [text.split()[2] for text in shown] == [text[4:7] for text in python]


def test_a_naive_time_is_a_mistake_of_the_program():
    with pytest.raises(ValueError, match="aware"):
        instant_of(datetime(2026, 11, 25, 14, 5))  # noqa: DTZ001 - the very thing that is refused


def test_the_ends_of_the_calendar_are_in_it():
    first, last = datetime(1900, 1, 1, tzinfo=UTC), datetime(9998, 1, 1, tzinfo=UTC)

    assert local_datetime(instant_of(first), "UTC") == first
    assert local_datetime(instant_of(last), "UTC") == last
    for beyond_us in (instant_of(first) - 1, instant_of(last) + 1):
        with pytest.raises(BadInput, match="outside the calendar"):
            local_datetime(beyond_us, "UTC")


@pytest.mark.parametrize("instant_us", [10**18, -(10**18), 10**30])
def test_instants_outside_the_calendar(instant_us):
    with pytest.raises(BadInput, match="outside the calendar"):
        local_datetime(instant_us, "UTC")
