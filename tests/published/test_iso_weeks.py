"""Week numbers over four hundred years, the length of the Gregorian cycle.

Sources: date.isocalendar of the standard library; the rule of ISO 8601 itself, written out here (a week
belongs to the year of its Thursday); the C library's %G-W%V; dates read from date.isocalendar that trip
people up. Tolerance: none, these are whole numbers.
"""

from datetime import date, timedelta

import pytest

from bench.domain.weeks import IsoWeek

FIRST = date(1970, 1, 1)
DAYS = [FIRST + timedelta(days=n) for n in range(146_097)]


def test_every_day_of_four_hundred_years_lies_in_the_week_of_the_standard_library():
    weeks = map(IsoWeek.of, DAYS)

    assert all((w.year, w.week) == day.isocalendar()[:2] for w, day in zip(weeks, DAYS, strict=True))


def test_a_week_belongs_to_the_year_of_its_thursday():
    for day in DAYS[::7]:  # a Thursday each: 1970-01-01 was one
        week = IsoWeek.of(day)
        assert (week.year, week.week) == (day.year, (day.timetuple().tm_yday - 1) // 7 + 1)


def test_weeks_follow_each_other_without_gap_over_four_hundred_years():
    week, days = IsoWeek(1970, 1), []
    for _ in range(146_097 // 7):
        days.extend(week.days())
        week = week.next()

    assert days == [date(1969, 12, 29) + timedelta(days=n) for n in range(146_097)]
    assert week == IsoWeek(2370, 1)


def test_the_written_form_is_the_one_of_the_c_library():
    sample = DAYS[::61]

    assert [str(IsoWeek.of(day)) for day in sample] == [day.strftime("%G-W%V") for day in sample]


def test_years_of_53_weeks_are_71_in_four_hundred():
    # The Gregorian cycle has 20,871 weeks = 400 x 52 + 71.
    long_years = {week.year for week in map(IsoWeek.of, DAYS[::7]) if week.week == 53}

    assert len(long_years) == 71
    assert {2004, 2009, 2015, 2020, 2026, 2032} <= long_years


@pytest.mark.parametrize(
    ("day", "week", "weekday"),
    [
        ("2005-01-01", "2004-W53", 6),
        ("2008-12-29", "2009-W01", 1),
        ("2010-01-03", "2009-W53", 7),
        ("2020-12-31", "2020-W53", 4),
        ("2021-01-03", "2020-W53", 7),
        ("2024-12-30", "2025-W01", 1),
        ("2026-12-31", "2026-W53", 4),
    ],
)
def test_awkward_dates(day, week, weekday):
    found = IsoWeek.of(date.fromisoformat(day))

    assert str(found) == week
    assert found.days()[weekday - 1] == date.fromisoformat(day)
