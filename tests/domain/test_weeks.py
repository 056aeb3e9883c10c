"""Weeks, days and the cutting of intervals at local midnight."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.durations import HOUR_US
from bench.domain.weeks import IsoWeek, day_bounds_us, local_day, zone_named
from bench.errors import BadInput

DAY_US = 24 * HOUR_US
ZONES = st.sampled_from(
    [
        "UTC",
        "Europe/Berlin",
        "America/New_York",
        "America/Sao_Paulo",
        "America/St_Johns",
        "America/Toronto",
        "America/Havana",
        "Australia/Lord_Howe",
        "Atlantic/Azores",
        "Asia/Beirut",
        "Asia/Kathmandu",
        "Pacific/Apia",
        "Pacific/Kwajalein",
        "Antarctica/Troll",
    ]
)
# 1910 to 2100: local mean times, date lines crossed and rules yet to come are all in.
INSTANTS = st.integers(min_value=-1_893_456_000_000_000, max_value=4_102_444_800_000_000)
DAYS = st.dates(date(1910, 1, 1), date(2100, 1, 1))


@given(INSTANTS, ZONES)
def test_an_instant_lies_within_the_bounds_of_its_day_and_week(instant_us, zone):
    low_us, high_us = day_bounds_us(local_day(instant_us, zone), zone)
    week = IsoWeek.at(instant_us, zone)

    assert low_us <= instant_us < high_us
    assert week.bounds_us(zone)[0] <= low_us <= high_us <= week.bounds_us(zone)[1]


@given(DAYS, ZONES)
def test_days_and_weeks_join_without_gap(day, zone):
    week = IsoWeek.of(day)

    assert day_bounds_us(day, zone)[1] == day_bounds_us(day + timedelta(days=1), zone)[0]
    assert week.bounds_us(zone)[1] == week.next().bounds_us(zone)[0]
    assert week.bounds_us(zone)[0] == day_bounds_us(week.days()[0], zone)[0]


@given(DAYS, st.integers(min_value=0, max_value=500))
def test_weeks_back_and_forth(day, n):
    week = IsoWeek.of(day)

    assert day in week.days()
    assert IsoWeek.parse(str(week)) == week
    assert week.next(n).previous(n) == week
    assert (week.next(n).days()[0] - week.days()[0]).days == 7 * n
    assert n == 0 or week.previous(n) < week < week.next(n)


def test_minutes_that_come_again_after_midnight_stay_with_the_day_begun():
    # St John's 2010-11-07: at 00:01 clocks went back to 23:01 of the day before.
    start_us, _ = day_bounds_us(date(2010, 11, 7), "America/St_Johns")

    assert local_day(start_us + HOUR_US // 2, "America/St_Johns") == date(2010, 11, 7)
    assert local_day(start_us - 1, "America/St_Johns") == date(2010, 11, 6)


@pytest.mark.parametrize("typed", ["2026-W48", " 2026-w48 "])
def test_a_week_is_read(typed):
    assert IsoWeek.parse(typed) == IsoWeek(2026, 48)
    assert str(IsoWeek(2026, 8)) == "2026-W08"


@pytest.mark.parametrize(
    "typed", ["", "2026", "48", "2026-48", "2026W48", "2026-W4", "26-W48", "٢٠٢٦-W48", "x" * 999]
)
def test_what_is_not_a_week(typed):
    with pytest.raises(BadInput, match=r"is not a week.*such as 2026-W48"):
        IsoWeek.parse(typed)


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("2025-W53", "2025 has no week 53. Its weeks run from 01 to 52"),
        ("2026-W54", "2026 has no week 54. Its weeks run from 01 to 53"),
        ("2026-W00", "2026 has no week 0"),
        ("1899-W10", "1899 is not a year for a week"),
        ("9998-W01", "9998 is not a year for a week"),
    ],
)
def test_weeks_that_do_not_exist(typed, why):
    with pytest.raises(BadInput, match=why):
        IsoWeek.parse(typed)


def test_week_53_exists_in_a_long_year():
    assert IsoWeek.parse("2026-W53").next() == IsoWeek(2027, 1)
    assert IsoWeek(2027, 1).previous() == IsoWeek(2026, 53)


@pytest.mark.parametrize("n", [10**6, 10**12, -(10**12)])
def test_weeks_beyond_the_calendar(n):
    with pytest.raises(BadInput):
        IsoWeek(2026, 48).next(n)


@pytest.mark.parametrize("day", [date.min, date(1899, 12, 31), date.max])
def test_days_beyond_the_calendar(day):
    with pytest.raises(BadInput, match="outside the calendar"):
        day_bounds_us(day, "Europe/Berlin")


@pytest.mark.parametrize("zone", ["Pacific/Kiritimati", "Etc/GMT+12"])
def test_the_ends_of_the_calendar_are_in_it(zone):
    for week in (IsoWeek(1900, 1), IsoWeek(9997, 52)):
        low_us, high_us = week.bounds_us(zone)
        assert abs(high_us - low_us - 7 * DAY_US) <= DAY_US
    for day in (date(1900, 1, 1), date(9997, 12, 31)):
        low_us, high_us = day_bounds_us(day, zone)
        assert 0 < high_us - low_us <= DAY_US


@pytest.mark.parametrize(
    "name",
    [
        "",
        "Europe",
        "Europe/Atlantis",
        "../../etc/passwd",
        "/etc/localtime",
        "localtime",
        "posixrules",
        "right/Europe/Berlin",
        "posix/Europe/Berlin",
        "zone.tab",
        "tzdata.zi",
        "leapseconds",
        "Europe/Berlin\0",
        "Europe/Berlin\n",
        "\ud800",
        "x" * 100_000,
    ],
)
def test_what_is_not_a_zone(name):
    with pytest.raises(BadInput, match=r"is not a time zone.*Europe/Berlin") as refused:
        zone_named(name)
    assert len(str(refused.value)) < 200


@pytest.mark.parametrize("name", ["UTC", "Etc/GMT+5", "America/Argentina/Buenos_Aires", "Europe/Berlin"])
def test_a_zone_by_name(name):
    assert zone_named(name).key == name
