"""Which copies are kept: seven days, five weeks, twelve months, told by the shop's zone."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.copies import (
    BEFORE_ERASING,
    BEFORE_UPGRADE,
    BY_HAND,
    DAILY,
    DAYS,
    MONTHS,
    WEEKS,
    WHY,
    FileCopy,
    copy_named,
    name_of,
    of_day,
    to_drop,
)
from bench.domain.localtime import instant_of
from bench.domain.weeks import IsoWeek, local_day

ZONE = "Europe/Berlin"
SECOND_US = 1_000_000


def at(day: date, hour: int = 9) -> int:
    return instant_of(datetime(day.year, day.month, day.day, hour, tzinfo=ZoneInfo(ZONE)))


def copy(day: date, why: str = DAILY, hour: int = 9) -> FileCopy:
    taken = copy_named(name_of(at(day, hour), why))
    assert taken is not None
    return taken


def kept(copies: Iterable[FileCopy]) -> set[FileCopy]:
    every = set(copies)
    return every - set(to_drop(every, ZONE))


def days_of(copies: Iterable[FileCopy]) -> list[date]:
    return sorted({local_day(one.at_us, ZONE) for one in copies}, reverse=True)


def test_daily_use_for_two_years_keeps_the_days_weeks_and_months_that_are_named() -> None:
    """Worked by hand on a calendar: the last day is Thursday 26 November 2026."""
    last = date(2026, 11, 26)
    copies: set[FileCopy] = set()
    for n in range(730, -1, -1):
        copies = kept({*copies, copy(last - timedelta(days=n))})
    assert days_of(copies) == [
        *(date(2026, 11, day) for day in (26, 25, 24, 23, 22, 21, 20)),  # seven days
        date(2026, 11, 15),  # Sundays: with this week's and last week's, five weeks
        date(2026, 11, 8),
        date(2026, 11, 1),
        date(2026, 10, 31),  # last days of months: with November's, twelve
        date(2026, 9, 30),
        date(2026, 8, 31),
        date(2026, 7, 31),
        date(2026, 6, 30),
        date(2026, 5, 31),
        date(2026, 4, 30),
        date(2026, 3, 31),
        date(2026, 2, 28),
        date(2026, 1, 31),
        date(2025, 12, 31),
    ]


days = st.integers(0, 900).map(lambda n: date(2025, 1, 1) + timedelta(days=n))


@given(st.sets(days, min_size=1, max_size=120))
def test_each_of_the_newest_days_weeks_and_months_has_its_newest_copy(used: set[date]) -> None:
    copies = {copy(day, hour=hour) for day in used for hour in (9, 17)}
    left = kept(copies)
    for span, most in (
        (lambda one: local_day(one.at_us, ZONE), DAYS),
        (lambda one: IsoWeek.at(one.at_us, ZONE), WEEKS),
        (lambda one: local_day(one.at_us, ZONE).replace(day=1), MONTHS),
    ):
        for newest in sorted({span(one) for one in copies}, reverse=True)[:most]:
            assert max((one for one in copies if span(one) == newest), key=lambda one: one.at_us) in left
    assert len(left) <= DAYS + WEEKS + MONTHS


@given(st.sets(days, min_size=1, max_size=120))
def test_giving_up_day_by_day_comes_to_the_same_as_all_at_once(used: set[date]) -> None:
    step_by_step: set[FileCopy] = set()
    for day in sorted(used):
        step_by_step = kept({*step_by_step, copy(day)})
    assert step_by_step == kept(copy(day) for day in used)


@given(st.lists(st.tuples(days, st.sampled_from(list(WHY)), st.integers(0, 23)), min_size=1, max_size=80))
def test_the_newest_daily_copy_and_every_one_made_by_hand_stay(taken: list[tuple[date, str, int]]) -> None:
    copies = {copy(*one) for one in taken}
    left = kept(copies)
    daily = [one for one in copies if one.why == DAILY]
    assert {one for one in copies if one.why == BY_HAND} <= left
    assert left
    if daily:
        assert max(daily, key=lambda one: one.at_us) in left
    assert kept(left) == left


def test_what_was_taken_before_something_risky_stays_for_seven_days_of_use() -> None:
    first = date(2026, 11, 2)
    risky = {copy(first, BEFORE_UPGRADE, 8), copy(first - timedelta(days=90), BEFORE_ERASING)}
    six = {copy(first + timedelta(days=n)) for n in range(6)}
    assert risky <= kept(risky | six)
    seven = six | {copy(first + timedelta(days=6))}
    assert risky & kept(risky | seven) == {copy(first, BEFORE_UPGRADE, 8)}
    eight = seven | {copy(first + timedelta(days=7))}
    assert not risky & kept(risky | eight)


def test_the_day_is_the_shops() -> None:
    """23:30 UTC on the 25th is half past midnight on the 26th in Berlin in winter."""
    late = instant_of(datetime(2026, 11, 25, 23, 30, tzinfo=ZoneInfo("UTC")))
    taken = copy_named(name_of(late, DAILY))
    assert taken is not None
    assert of_day([taken], date(2026, 11, 26), ZONE)
    assert not of_day([taken], date(2026, 11, 25), ZONE)
    assert not of_day([copy(date(2026, 11, 26), BY_HAND)], date(2026, 11, 26), ZONE)


@given(
    st.integers(at(date(1970, 1, 2)), at(date(2199, 1, 1))), st.sampled_from(list(WHY)), st.integers(1, 99)
)
def test_a_name_says_when_and_why(at_us: int, why: str, number: int) -> None:
    name = name_of(at_us, why, number)
    assert copy_named(name) == FileCopy(name, at_us - at_us % SECOND_US, why)


@pytest.mark.parametrize(
    "name",
    [
        "workshop.bench",
        "2026-11-26T09-00-00Z.other.bench",
        "2026-13-26T09-00-00Z.daily.bench",
        "2026-11-26T09-00-00Z.daily.bench-wal",
        "2026-11-26T09-00-00Z.daily.bench.txt",
        ".2026-11-26T09-00-00Z.daily.bench",
        "",
    ],
)
def test_other_files_are_none_of_ours(name: str) -> None:
    assert copy_named(name) is None
