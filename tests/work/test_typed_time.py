"""Typed times: what is meant by each form, over gaps and doubled hours, and what is refused."""

from __future__ import annotations

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.localtime import iso_local
from bench.errors import BadInput
from bench.work.typed_time import read_instant
from tests.work.time_rows import at

BERLIN = "Europe/Berlin"
WEDNESDAY = "2026-11-25T14:05:30+01:00"
MINUTE_US = 60_000_000


def read(text: str, *, now: str = WEDNESDAY, start: str | None = None, zone: str = BERLIN) -> str:
    started_us = None if start is None else at(start)
    return iso_local(read_instant(text, zone=zone, now_us=at(now), started_us=started_us), zone)


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("14:05", "2026-11-25T14:05:00+01:00"),
        (" 9:05 ", "2026-11-25T09:05:00+01:00"),
        ("00:00", "2026-11-25T00:00:00+01:00"),
        ("13:07:09", "2026-11-25T13:07:09+01:00"),
        ("today 13:07", "2026-11-25T13:07:00+01:00"),
        ("yesterday 18:05", "2026-11-24T18:05:00+01:00"),
        ("Yesterday  18:05", "2026-11-24T18:05:00+01:00"),
        ("mon 18:05", "2026-11-23T18:05:00+01:00"),
        ("Tuesday 18:05", "2026-11-24T18:05:00+01:00"),
        ("wed 14:05", "2026-11-25T14:05:00+01:00"),
        ("WED 14:06", "2026-11-18T14:06:00+01:00"),
        ("thurs 14:06", "2026-11-19T14:06:00+01:00"),
        ("2026-11-24 18:05", "2026-11-24T18:05:00+01:00"),
        ("2026-11-24T18:05", "2026-11-24T18:05:00+01:00"),
        ("2026-11-24 18:05:59", "2026-11-24T18:05:59+01:00"),
        ("2026-07-01 18:05", "2026-07-01T18:05:00+02:00"),
        ("2026-11-24T18:05Z", "2026-11-24T19:05:00+01:00"),
        ("2026-11-24 18:05-05:00", "2026-11-25T00:05:00+01:00"),
        ("18:05 +05:30", "2026-11-25T13:35:00+01:00"),
    ],
)
def test_each_form_means_one_instant(text: str, meant: str) -> None:
    assert read(text) == meant


@pytest.mark.parametrize(
    ("text", "start", "meant"),
    [
        # Started on Friday, asked on Wednesday: the first such time after the start, not the last one.
        ("18:05", "2026-11-20T17:02:00+01:00", "2026-11-20T18:05:00+01:00"),
        ("08:30", "2026-11-20T17:02:00+01:00", "2026-11-21T08:30:00+01:00"),
        ("mon 08:30", "2026-11-20T17:02:00+01:00", "2026-11-23T08:30:00+01:00"),
        ("14:00", "2026-11-25T13:00:00+01:00", "2026-11-25T14:00:00+01:00"),
        # A time to the minute may name the very minute of the start; one to the second may not.
        ("13:00", "2026-11-25T13:00:41+01:00", "2026-11-25T13:00:41+01:00"),
        ("13:00:40", "2026-11-24T13:00:41+01:00", "2026-11-25T13:00:40+01:00"),
        ("+45", "2026-11-25T13:00:41+01:00", "2026-11-25T13:45:41+01:00"),
        ("+ 45 min", "2026-11-25T13:00:41+01:00", "2026-11-25T13:45:41+01:00"),
        ("+1:05", "2026-11-25T13:00:41+01:00", "2026-11-25T14:05:41+01:00"),
        ("90 min", "2026-11-25T10:00:00+01:00", "2026-11-25T11:30:00+01:00"),
        ("90m", "2026-11-25T10:00:00+01:00", "2026-11-25T11:30:00+01:00"),
        ("1h30", "2026-11-25T10:00:00+01:00", "2026-11-25T11:30:00+01:00"),
        ("2 H", "2026-11-25T10:00:00+01:00", "2026-11-25T12:00:00+01:00"),
    ],
)
def test_with_a_start_times_follow_it_and_lengths_count_from_it(text: str, start: str, meant: str) -> None:
    now = WEDNESDAY if text != "+1:05" else "2026-11-25T14:06:00+01:00"
    assert read(text, start=start, now=now) == meant


def test_a_time_of_day_may_be_put_on_a_given_day() -> None:
    instant_us = read_instant("18:05", zone=BERLIN, now_us=at(WEDNESDAY), on=date(2026, 11, 17))
    assert iso_local(instant_us, BERLIN) == "2026-11-17T18:05:00+01:00"


# Berlin 2026: 29 Mar 02->03, 25 Oct 03->02. Source: IANA tz database through zoneinfo.
@pytest.mark.parametrize(
    ("text", "start", "meant"),
    [
        ("2026-10-25 02:30", None, "2026-10-25T02:30:00+02:00"),
        ("2026-10-25 02:30 second", None, "2026-10-25T02:30:00+01:00"),
        ("2026-10-25 02:30+01:00", None, "2026-10-25T02:30:00+01:00"),
        ("2026-10-25 02:30+02:00", None, "2026-10-25T02:30:00+02:00"),
        ("02:15", "2026-10-25T02:45:00+02:00", "2026-10-25T02:15:00+01:00"),
        ("02:50", "2026-10-25T02:45:00+02:00", "2026-10-25T02:50:00+02:00"),
        ("02:50 second", "2026-10-25T02:45:00+02:00", "2026-10-25T02:50:00+01:00"),
        ("2026-10-25 02:15", "2026-10-25T02:45:00+02:00", "2026-10-25T02:15:00+01:00"),
        ("+60", "2026-10-25T02:45:00+02:00", "2026-10-25T02:45:00+01:00"),
    ],
)
def test_of_an_hour_passed_twice_one_is_chosen(text: str, start: str | None, meant: str) -> None:
    assert read(text, start=start) == meant


@pytest.mark.parametrize(
    ("zone", "text", "start"),
    [
        (BERLIN, "2026-03-29 02:00", None),
        (BERLIN, "2026-03-29 02:59:59", None),
        (BERLIN, "02:30", "2026-03-29T01:30:00+01:00"),
        ("Australia/Lord_Howe", "2026-10-04 02:15", None),  # clocks move by 30 minutes there
        ("Pacific/Apia", "2011-12-30 12:00", None),  # a whole day left out
    ],
)
def test_a_time_the_clocks_left_out_is_named(zone: str, text: str, start: str | None) -> None:
    with pytest.raises(BadInput, match=r"never was: the clocks of .* went forward"):
        read(text, start=start, zone=zone)


def test_either_end_of_a_gap_is_a_time() -> None:
    assert read("2026-03-29 01:59:59") == "2026-03-29T01:59:59+01:00"
    assert read("2026-03-29 03:00") == "2026-03-29T03:00:00+02:00"
    assert read("2026-10-04 02:30", zone="Australia/Lord_Howe") == "2026-10-04T02:30:00+11:00"


@pytest.mark.parametrize(
    ("text", "start", "says"),
    [
        ("", None, "not a time"),
        ("soon", None, "not a time"),
        ("1430", None, "not a time"),
        ("25:30", None, "not a time"),
        ("14:60", None, "not a time"),
        ("14:5", None, "not a time"),
        ("monkey 18:05", None, "not a time"),
        ("24.11. 18:05", None, "not a time"),
        ("2026-11-24", None, "not a time"),
        ("١٤:٣٠", None, "not a time"),
        ("14:05 third", None, "not a time"),
        ("14:05+15:00", None, "not a time"),
        ("2026-02-30 12:00", None, "not in the calendar"),
        ("2026-13-01 12:00", None, "not in the calendar"),
        ("0001-01-01 12:00", None, "outside the calendar"),
        ("9999-12-31 23:59-12:00", None, "outside the calendar"),
        ("14:05 second", None, "only once"),
        ("14:06", None, r"read as Wed 25 Nov 14:06, lies in the future"),
        ("2026-11-26 08:00", None, "lies in the future"),
        ("13:00", "2026-11-25T13:30:00+01:00", r"read as Thu 26 Nov 13:00, lies in the future"),
        ("+90", "2026-11-25T13:30:00+01:00", "lies in the future"),
        ("+45", None, "no start to count from"),
        ("1h30", None, "no start to count from"),
        ("+", "2026-11-25T13:30:00+01:00", "not a length"),
        ("+0", "2026-11-25T13:30:00+01:00", "0 minutes"),
        ("90 minutes or so", "2026-11-25T10:00:00+01:00", "not a length"),
    ],
)
def test_what_cannot_be_used_gets_a_sentence(text: str, start: str | None, says: str) -> None:
    with pytest.raises(BadInput, match=says) as caught:
        read(text, start=start)
    assert caught.value.remedy.endswith(".")


ZONES = st.sampled_from(["Europe/Berlin", "America/New_York", "Australia/Lord_Howe", "Asia/Kolkata", "UTC"])
MINUTES = st.integers(min_value=at("1980-01-01T00:00Z") // MINUTE_US, max_value=at(WEDNESDAY) // MINUTE_US)


@given(ZONES, MINUTES)
def test_an_instant_written_with_its_offset_is_read_back(zone: str, minute: int) -> None:
    instant_us = minute * MINUTE_US
    local = datetime.fromtimestamp(minute * 60, tz=UTC).astimezone(ZoneInfo(zone))
    text = local.isoformat(sep=" ", timespec="minutes")
    assert read_instant(text, zone=zone, now_us=at(WEDNESDAY)) == instant_us


@given(ZONES, MINUTES)
def test_every_instant_can_be_typed_without_an_offset(zone: str, minute: int) -> None:
    """Plainly, or as the second of its kind."""
    local = datetime.fromtimestamp(minute * 60, tz=UTC).astimezone(ZoneInfo(zone))
    text = local.strftime("%Y-%m-%d %H:%M") + (" second" if local.fold else "")
    assert read_instant(text, zone=zone, now_us=at(WEDNESDAY)) == minute * MINUTE_US
