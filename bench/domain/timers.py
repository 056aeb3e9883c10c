"""The rules of timers, on instants and durations in whole microseconds; whoever asks brings the clock."""

from bench.domain.durations import MINUTE_US
from bench.errors import BadInput

DEFAULT_TIMES = 3
DEFAULT_LEAST_MINUTES = 120
CLOCK_TOLERANCE_US = 2_000_000


def elapsed_us(start_us: int, stop_us_or_now: int) -> int:
    """The time between two instants, never negative: a clock set back shows 0 until it has caught up."""
    return max(0, stop_us_or_now - start_us)


def forgotten_after_us(
    estimate_minutes: int, times: int = DEFAULT_TIMES, least_minutes: int = DEFAULT_LEAST_MINUTES
) -> int:
    """How long a timer may run before the program asks: a multiple of the estimate, with a floor."""
    return max(estimate_minutes * times, least_minutes) * MINUTE_US


def is_forgotten(
    started_us: int,
    now_us: int,
    estimate_minutes: int,
    times: int = DEFAULT_TIMES,
    least_minutes: int = DEFAULT_LEAST_MINUTES,
    kept_us: int | None = None,
) -> bool:
    """Whether to ask about a running timer: past the limit since its start, or since someone said keep."""
    since_us = started_us if kept_us is None else max(started_us, kept_us)
    return now_us - since_us > forgotten_after_us(estimate_minutes, times, least_minutes)


def clock_step_us(
    wall_before_us: int,
    wall_now_us: int,
    steady_before_us: int,
    steady_now_us: int,
    tolerance_us: int = CLOCK_TOLERANCE_US,
) -> int:
    """By how much the wall clock was set (+ forward, - back) between two looks; 0 within the tolerance.

    The steady clock must go on while the computer sleeps, or waking up looks like a step forward.
    """
    step_us = (wall_now_us - wall_before_us) - (steady_now_us - steady_before_us)
    return step_us if abs(step_us) > tolerance_us else 0


def check_interval(start_us: int, stop_us: int | None, now_us: int) -> None:
    """Pass a time entry whose start, stop and now come in that order; BadInput says which does not."""
    if start_us > now_us:
        raise BadInput("The start lies in the future.", "Give a time that has passed.", field="stop_text")
    if stop_us is None:
        return
    if stop_us < start_us:
        raise BadInput("The stop lies before the start.", "Correct one of the two times.", field="stop_text")
    if stop_us > now_us:
        raise BadInput("The stop lies in the future.", "Give a time that has passed.", field="stop_text")
