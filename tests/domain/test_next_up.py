"""The reason beside a unit's place, and the sums in it."""

from __future__ import annotations

import pytest

from bench.domain.next_up import hourly_minor, minutes_to_spend, reason_for, time_left_us


@pytest.mark.parametrize(
    ("us", "minutes"), [(0, 1), (1, 1), (60_000_000, 1), (60_000_001, 2), (3_600_000_000, 60)]
)
def test_time_left_is_rounded_up_and_never_nothing(us: int, minutes: int) -> None:
    assert minutes_to_spend(us) == minutes


def test_by_the_hour() -> None:
    # 84.00 in 95 min: 84 x 60 / 95 = 53.0526
    assert hourly_minor(8_400, 95) == 5_305
    assert hourly_minor(1, 120) == 1  # 0.5: halves go up
    assert hourly_minor(-8_400, 95) == -5_305


def reason(*, days: int = 0, known: bool = True) -> str:
    return reason_for(
        to_earn_minor=8_400, minutes_left=95, days_past_due=days, expectation_known=known, currency="EUR"
    )


def test_the_reason_in_one_sentence() -> None:
    assert reason() == "Earns 84.00 EUR more in 1 h 35 hands-on, 53.05 EUR per hour."
    assert reason(days=1).startswith("Past due by 1 day; earns 84.00 EUR")
    assert reason(days=3).startswith("Past due by 3 days; ")
    assert reason(known=False) == "No expected price typed: counted as earning nothing."
    assert (
        reason(days=2, known=False)
        == "Past due by 2 days; no expected price typed: counted as earning nothing."
    )


def test_past_its_estimate_a_task_counts_with_what_such_tasks_took_beyond() -> None:
    assert time_left_us(30, 10, ()) == 20
    assert time_left_us(30, 30, (20, 40, 50)) == 15  # 10 and 20 beyond
    assert time_left_us(30, 60, (20, 40, 50)) == 15  # nobody took longer: half the estimate
