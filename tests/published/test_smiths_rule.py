"""Smith's rule gives the least sum of weighted finishing times.

Source: W. E. Smith, Naval Research Logistics Quarterly 3 (1956), 59-66; checked here by trying every order
of up to eight units. The five-job case (sum 79 against 98 on arrival) was computed exhaustively.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from itertools import permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from bench.domain.next_up import Candidate, rank

TODAY = date(2026, 11, 25)
FIVE = {"A": (3, 1), "B": (1, 2), "C": (4, 4), "D": (2, 1), "E": (5, 3)}  # time, weight


def weighted_sum(order: Sequence[tuple[int, int]]) -> int:
    finished = total = 0
    for time, weight in order:
        finished += time
        total += weight * finished
    return total


def candidates(jobs: Sequence[tuple[int, int]]) -> list[Candidate]:
    return [
        Candidate(number, f"{number:05}", to_earn_minor=weight, minutes_left=time)
        for number, (time, weight) in enumerate(jobs)
    ]


def test_the_worked_case() -> None:
    jobs = list(FIVE.values())
    order = [unit.unit_id for unit in rank(candidates(jobs), TODAY)]
    assert "".join(list(FIVE)[number] for number in order) == "BCEDA"
    assert weighted_sum([jobs[number] for number in order]) == 79
    assert weighted_sum(jobs) == 98


@settings(max_examples=12, deadline=None)
@given(jobs=st.lists(st.tuples(st.integers(1, 300), st.integers(0, 500)), min_size=1, max_size=8))
def test_no_other_order_is_better(jobs: list[tuple[int, int]]) -> None:
    order = [jobs[unit.unit_id] for unit in rank(candidates(jobs), TODAY)]
    assert weighted_sum(order) == min(weighted_sum(other) for other in permutations(jobs))


def test_units_due_come_first_the_oldest_of_them_first() -> None:
    units = [
        Candidate(1, "1", 900, 10),
        Candidate(2, "2", 1, 500, due_on=TODAY - timedelta(days=1)),
        Candidate(3, "3", 1, 900, due_on=TODAY - timedelta(days=3)),
        Candidate(4, "4", 5, 500, due_on=TODAY),
        Candidate(5, "5", 700, 0),
        Candidate(6, "6", 1, 900, due_on=TODAY + timedelta(days=1)),
    ]
    ranked = rank(units, TODAY)
    assert [unit.unit_id for unit in ranked] == [3, 2, 4, 5, 1, 6]
    assert [unit.past_due for unit in ranked] == [True, True, *[False] * 4]
    earns_more_tomorrow = Candidate(7, "7", 9_000, 1, due_on=TODAY + timedelta(days=1))
    assert [unit.unit_id for unit in rank([earns_more_tomorrow, units[3]], TODAY)] == [4, 7]
