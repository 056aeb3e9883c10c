"""The rules of timers."""

import pytest

from bench.domain.durations import HOUR_US, MINUTE_US
from bench.domain.timers import (
    check_interval,
    clock_step_us,
    elapsed_us,
    forgotten_after_us,
    is_forgotten,
)
from bench.errors import BadInput


def test_elapsed_time_is_never_negative():
    assert elapsed_us(5, 12) == 7
    assert elapsed_us(12, 5) == 0


def test_the_limit_is_a_multiple_of_the_estimate_but_never_short():
    assert forgotten_after_us(60) == 3 * HOUR_US
    assert forgotten_after_us(10) == 2 * HOUR_US
    assert forgotten_after_us(0) == 2 * HOUR_US
    assert forgotten_after_us(60, times=2, least_minutes=15) == 2 * HOUR_US


def test_a_timer_is_forgotten_once_past_its_limit():
    limit_us = forgotten_after_us(60)

    assert not is_forgotten(1_000, 1_000 + limit_us, 60)
    assert is_forgotten(1_000, 1_001 + limit_us, 60)


def test_keep_lets_the_limit_run_anew():
    limit_us = forgotten_after_us(60, 3, 120)
    kept_us = limit_us + 10 * MINUTE_US

    assert not is_forgotten(0, kept_us + limit_us, 60, 3, 120, kept_us)
    assert is_forgotten(0, kept_us + limit_us + 1, 60, 3, 120, kept_us)
    # A keep from before this start, such as of an earlier run, changes nothing.
    assert is_forgotten(kept_us, kept_us + limit_us + 1, 60, 3, 120, 0)


@pytest.mark.parametrize(
    ("wall_us", "steady_us", "step_us"),
    [
        (60_000_000, 60_000_000, 0),
        (62_000_000, 60_000_000, 0),
        (62_000_001, 60_000_000, 2_000_001),
        (58_000_000, 60_000_000, 0),
        (57_999_999, 60_000_000, -2_000_001),
        (-3_540_000_000, 60_000_000, -3_600_000_000),
    ],
)
def test_a_clock_that_was_set_is_noticed(wall_us, steady_us, step_us):
    assert clock_step_us(1_000, 1_000 + wall_us, 7, 7 + steady_us) == step_us


def test_the_tolerance_is_the_callers():
    assert clock_step_us(0, 11, 0, 0, tolerance_us=10) == 11


def test_a_sound_interval_passes_and_may_be_empty_or_open():
    for start_us, stop_us in ((1, 2), (2, 2), (1, 3), (3, 3), (1, None), (3, None)):
        assert check_interval(start_us, stop_us, now_us=3) is None


@pytest.mark.parametrize(
    ("start_us", "stop_us", "why"),
    [
        (2, 1, "stop lies before the start"),
        (1, 4, "stop lies in the future"),
        (4, 5, "start lies in the future"),
    ],
)
def test_unsound_intervals(start_us, stop_us, why):
    with pytest.raises(BadInput, match=why):
        check_interval(start_us, stop_us, now_us=3)
