"""Lengths of time shown and read."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.durations import (
    HOUR_US,
    MINUTE_US,
    SECOND_US,
    decimal_hours,
    hours_and_minutes,
    read_minutes,
    running_time,
)
from bench.errors import BadInput

LENGTHS = st.integers(min_value=-(10**15), max_value=10**15)


@pytest.mark.parametrize(
    ("us", "shown"),
    [
        (0, "0 min 00"),
        (999_999, "0 min 00"),
        (309 * SECOND_US, "5 min 09"),
        (10 * MINUTE_US - 1, "9 min 59"),
        (10 * MINUTE_US, "10 min"),
        (HOUR_US - 1, "59 min"),
        (HOUR_US, "1 h 00"),
        (HOUR_US + 309 * SECOND_US, "1 h 05"),
        (100 * HOUR_US, "100 h 00"),
        (-1, "0 min 00"),
        (-SECOND_US, "-0 min 01"),
        (-61 * SECOND_US, "-1 min 01"),
    ],
)
def test_a_ticking_time(us, shown):
    assert running_time(us) == shown


@pytest.mark.parametrize(
    ("us", "shown"),
    [
        (0, "0 min"),
        (MINUTE_US // 2 - 1, "0 min"),
        (MINUTE_US // 2, "1 min"),
        (45 * MINUTE_US, "45 min"),
        (60 * MINUTE_US - MINUTE_US // 2, "1 h 00"),
        (65 * MINUTE_US, "1 h 05"),
        (-MINUTE_US // 2 + 1, "0 min"),
        (-MINUTE_US // 2, "-1 min"),
        (-65 * MINUTE_US, "-1 h 05"),
    ],
)
def test_hours_and_minutes(us, shown):
    assert hours_and_minutes(us) == shown


@pytest.mark.parametrize(
    ("us", "shown"),
    [
        (0, "0 h"),
        (1, "<0.1 h"),
        (-1, "<0.1 h"),
        (HOUR_US // 20 - 1, "<0.1 h"),
        (HOUR_US // 20, "0.1 h"),
        (HOUR_US, "1.0 h"),
        (7 * HOUR_US + HOUR_US * 2 // 5, "7.4 h"),
        (118 * HOUR_US + HOUR_US // 4, "118.3 h"),
        (-HOUR_US * 3 // 2, "-1.5 h"),
    ],
)
def test_decimal_hours(us, shown):
    assert decimal_hours(us) == shown


@given(LENGTHS)
def test_what_is_shown_is_never_further_off_than_half_of_its_last_digit(us):
    shown = decimal_hours(us)
    if shown == "<0.1 h":
        assert 0 < abs(us) < HOUR_US // 20
    else:
        assert abs(round(float(shown.removesuffix(" h")) * 10) * (HOUR_US // 10) - us) <= HOUR_US // 20
    *hours, minutes = hours_and_minutes(abs(us)).removesuffix(" min").split(" h ")
    assert (
        abs((int(hours[0]) if hours else 0) * HOUR_US + int(minutes) * MINUTE_US - abs(us)) <= MINUTE_US // 2
    )


@given(st.integers(min_value=0, max_value=10**15))
def test_a_ticking_time_says_what_has_passed_and_no_more(us):
    """Whole seconds below ten minutes, from there whole minutes."""
    shown = running_time(us)
    hours, _, rest = shown.rpartition(" h ")
    minutes, _, seconds = rest.partition(" min")
    said_us = int(hours or 0) * HOUR_US + int(minutes) * MINUTE_US + int(seconds or 0) * SECOND_US
    exact_us = SECOND_US if us < 10 * MINUTE_US else MINUTE_US
    assert said_us == us // exact_us * exact_us
    assert bool(seconds) == (us < 10 * MINUTE_US)
    assert len(shown) <= (8 if us < 100 * HOUR_US else len("277777 h 46"))
    assert int(minutes) < 60


@pytest.mark.parametrize(
    ("typed", "minutes"),
    [
        ("90", 90),
        (" 90 ", 90),
        ("45min", 45),
        ("45 minutes", 45),
        ("1 minute", 1),
        ("45m", 45),
        ("1:30", 90),
        ("0:05", 5),
        ("100:00", 6000),
        ("1h30", 90),
        ("1 h 30 min", 90),
        ("1H30M", 90),
        ("1h", 60),
        ("2 hours", 120),
        ("1 h 5", 65),
        ("1", 1),
        ("100000", 100_000),
    ],
)
def test_minutes_are_read(typed, minutes):
    assert read_minutes(typed) == minutes


@given(st.integers(min_value=1, max_value=100_000))
def test_what_is_shown_can_be_typed_again(minutes):
    assert read_minutes(hours_and_minutes(minutes * MINUTE_US)) == minutes
    assert read_minutes(f"{minutes // 60}:{minutes % 60:02}") == minutes


@pytest.mark.parametrize(
    "typed", ["", "x", "-5", "1:60", "1:5", "1.5", "1h99", "h30", "1:30:00", "NaN", "٩٠", "9" * 99]
)
def test_what_is_not_a_length_of_time(typed):
    with pytest.raises(BadInput, match=r"is not a length of time.*1h30"):
        read_minutes(typed)


@pytest.mark.parametrize("typed", ["0", "0:00", "100001", "1666h41"])
def test_lengths_out_of_range(typed):
    with pytest.raises(BadInput, match="between 1 and 100000 minutes"):
        read_minutes(typed)
