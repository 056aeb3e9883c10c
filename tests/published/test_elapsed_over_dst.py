"""Elapsed time and the cutting of days and weeks where clocks change.

Sources: the IANA time zone database, its changes written out here with their offsets (so that no zone
arithmetic of the project stands on both sides), and read a second time by another reader of it, dateutil.tz.
Tolerance: none, whole microseconds.
"""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from dateutil import tz as other_reader

from bench.domain.durations import HOUR_US
from bench.domain.localtime import instant_of, iso_local
from bench.domain.timers import elapsed_us
from bench.domain.weeks import IsoWeek, day_bounds_us, local_day


def by_day(start_us, stop_us, zone):
    """The days an interval touches, each with its part: cut at their bounds, as the week cuts them."""
    parts, day = [], local_day(start_us, zone)
    while (low_us := day_bounds_us(day, zone)[0]) < stop_us:
        part_us = min(stop_us, day_bounds_us(day, zone)[1]) - max(start_us, low_us)
        if part_us > 0:
            parts.append((day, part_us))
        day += timedelta(days=1)
    return parts


def instant(written: str) -> int:
    """The instant of a time written with its offset, counted from the epoch without any zone."""
    moment = datetime.fromisoformat(written)
    assert moment.utcoffset() is not None
    since = moment - datetime(1970, 1, 1, tzinfo=UTC)
    return (since.days * 86_400 + since.seconds) * 1_000_000 + since.microseconds


@pytest.mark.parametrize(
    ("zone", "start", "stop", "hours", "parts"),
    [
        ("Europe/Berlin", "2026-03-28T22:00+01:00", "2026-03-29T06:00+02:00", 7, [2, 5]),
        ("Europe/Berlin", "2026-10-24T22:00+02:00", "2026-10-25T06:00+01:00", 9, [2, 7]),
        ("America/New_York", "2026-03-08T01:00-05:00", "2026-03-08T04:00-04:00", 2, [2]),
        ("America/New_York", "2026-10-31T23:00-04:00", "2026-11-01T03:00-05:00", 5, [1, 4]),
        ("Australia/Sydney", "2026-04-05T01:30+11:00", "2026-04-05T04:30+10:00", 4, [4]),
        ("Australia/Sydney", "2026-10-03T20:00+10:00", "2026-10-04T04:00+11:00", 7, [4, 3]),
        ("Australia/Lord_Howe", "2026-04-04T23:00+11:00", "2026-04-05T03:00+10:30", 4.5, [1, 3.5]),
        ("Australia/Lord_Howe", "2026-10-04T01:00+10:30", "2026-10-04T03:00+11:00", 1.5, [1.5]),
        ("Asia/Kolkata", "2026-03-28T22:00+05:30", "2026-03-29T06:00+05:30", 8, [2, 6]),
        ("Asia/Kathmandu", "2026-10-24T22:45+05:45", "2026-10-25T06:00+05:45", 7.25, [1.25, 6]),
        # 30 December 2011 was left out: the clock went from 29 to 31 December.
        ("Pacific/Apia", "2011-12-29T22:00-10:00", "2011-12-31T02:00+14:00", 4, [2, 2]),
        # Midnight was left out: 00:00 became 01:00.
        ("America/Sao_Paulo", "2018-11-03T22:00-03:00", "2018-11-04T03:00-02:00", 4, [2, 2]),
        # The hour before midnight came twice.
        ("America/Sao_Paulo", "2018-02-17T22:00-02:00", "2018-02-18T01:00-03:00", 4, [3, 1]),
        # The hour after midnight came twice.
        ("America/Havana", "2026-10-31T23:00-04:00", "2026-11-01T02:00-05:00", 4, [1, 3]),
    ],
)
def test_elapsed_and_its_days(zone, start, stop, hours, parts):
    start_us, stop_us = instant(start), instant(stop)
    split = by_day(start_us, stop_us, zone)

    assert elapsed_us(start_us, stop_us) == hours * HOUR_US
    assert [part for _, part in split] == [part * HOUR_US for part in parts]
    assert split[0][0] == date.fromisoformat(start[:10])
    assert split[-1][0] == date.fromisoformat(stop[:10])


def test_wall_times_of_one_zone_become_instants_before_they_are_subtracted():
    # Python subtracts two times of one zone as wall times: 8 hours where 7 passed.
    berlin = ZoneInfo("Europe/Berlin")
    start = datetime(2026, 3, 28, 22, tzinfo=berlin)
    stop = datetime(2026, 3, 29, 6, tzinfo=berlin)

    assert stop - start == timedelta(hours=8)
    assert instant_of(stop) - instant_of(start) == 7 * HOUR_US


@pytest.mark.parametrize(
    ("zone", "day", "begins", "hours"),
    [
        ("Europe/Berlin", "2026-03-29", "2026-03-29T00:00:00+01:00", 23),
        ("Europe/Berlin", "2026-10-25", "2026-10-25T00:00:00+02:00", 25),
        ("America/New_York", "2026-03-08", "2026-03-08T00:00:00-05:00", 23),
        ("America/New_York", "2026-11-01", "2026-11-01T00:00:00-04:00", 25),
        ("Australia/Sydney", "2026-04-05", "2026-04-05T00:00:00+11:00", 25),
        ("Australia/Sydney", "2026-10-04", "2026-10-04T00:00:00+10:00", 23),
        ("Australia/Lord_Howe", "2026-04-05", "2026-04-05T00:00:00+11:00", 24.5),
        ("Australia/Lord_Howe", "2026-10-04", "2026-10-04T00:00:00+10:30", 23.5),
        ("Asia/Kathmandu", "2026-03-29", "2026-03-29T00:00:00+05:45", 24),
        ("Pacific/Apia", "2011-12-30", "2011-12-31T00:00:00+14:00", 0),
        ("America/Sao_Paulo", "2018-11-04", "2018-11-04T01:00:00-02:00", 23),
        ("America/Sao_Paulo", "2018-02-17", "2018-02-17T00:00:00-02:00", 25),
        ("America/Havana", "2026-11-01", "2026-11-01T00:00:00-04:00", 25),
        # 23:30 became 00:30: the day begins inside the gap's far side.
        ("America/Toronto", "1919-03-31", "1919-03-31T00:30:00-04:00", 23.5),
        # One minute past midnight it became 23:01 again: the day had begun.
        ("America/St_Johns", "2010-11-07", "2010-11-07T00:00:00-02:30", 25),
    ],
)
def test_when_a_day_begins_and_how_long_it_is(zone, day, begins, hours):
    start_us, stop_us = day_bounds_us(date.fromisoformat(day), zone)

    assert start_us == instant(begins)
    assert iso_local(start_us, zone) == begins
    assert stop_us - start_us == hours * HOUR_US


@pytest.mark.parametrize(
    ("zone", "week", "hours"),
    [
        ("Europe/Berlin", "2026-W13", 167),
        ("Europe/Berlin", "2026-W14", 168),
        ("Europe/Berlin", "2026-W43", 169),
        ("America/New_York", "2026-W10", 167),
        ("America/New_York", "2026-W44", 169),
        ("Australia/Sydney", "2026-W14", 169),
        ("Australia/Lord_Howe", "2026-W14", 168.5),
        ("Asia/Kolkata", "2026-W13", 168),
        ("Pacific/Apia", "2011-W52", 144),
    ],
)
def test_hours_of_a_week(zone, week, hours):
    start_us, stop_us = IsoWeek.parse(week).bounds_us(zone)

    assert stop_us - start_us == hours * HOUR_US
    assert sum(part for _, part in by_day(start_us, stop_us, zone)) == hours * HOUR_US


def test_an_entry_across_the_end_of_a_week_is_cut_there():
    # Berlin, from Saturday 22:00 over the lost hour and the end of W13 to Monday 02:00.
    start_us, stop_us = instant("2026-03-28T22:00+01:00"), instant("2026-03-30T02:00+02:00")
    split = by_day(start_us, stop_us, "Europe/Berlin")
    by_week = {}
    for day, part in split:
        by_week[str(IsoWeek.of(day))] = by_week.get(str(IsoWeek.of(day)), 0) + part

    assert by_week == {"2026-W13": 25 * HOUR_US, "2026-W14": 2 * HOUR_US}
    assert IsoWeek.parse("2026-W13").bounds_us("Europe/Berlin")[1] == instant("2026-03-30T00:00+02:00")


@pytest.mark.parametrize(
    "zone",
    [
        "Europe/Berlin",
        "Europe/London",
        "America/New_York",
        "America/Havana",
        "America/Sao_Paulo",
        "Australia/Sydney",
        "Australia/Lord_Howe",
        "Asia/Kolkata",
        "Asia/Kathmandu",
        "Asia/Beirut",
        "Africa/Cairo",
        "Atlantic/Azores",
        "Pacific/Apia",
        "Pacific/Chatham",
        "UTC",
    ],
)
@pytest.mark.parametrize("year", [2011, 2018, 2026])
def test_another_reader_of_the_database_sees_days_begin_and_end_there(zone, year):
    clock = other_reader.gettz(zone)
    epoch = datetime(1970, 1, 1, tzinfo=UTC)
    for n in range(365):
        day = date(year, 1, 1) + timedelta(days=n)
        start_us, stop_us = day_bounds_us(day, zone)
        if start_us == stop_us:
            assert (zone, day) == ("Pacific/Apia", date(2011, 12, 30))
            continue
        first = (epoch + timedelta(microseconds=start_us)).astimezone(clock)
        last = (epoch + timedelta(microseconds=stop_us - 1)).astimezone(clock)
        before = (epoch + timedelta(microseconds=start_us - 1)).astimezone(clock)
        assert first.date() == last.date() == day == local_day(start_us, zone)
        assert before.date() < day
