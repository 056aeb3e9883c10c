"""Instants shown in local time, and back."""

import locale
from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.localtime import clock_time, day_and_time, instant_of, iso_local, local_datetime
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
    finally:
        locale.setlocale(locale.LC_TIME, was)


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
