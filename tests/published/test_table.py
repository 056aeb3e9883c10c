"""The list of checks in the docs is the list of checks that are run."""

from __future__ import annotations

from bench.domain.calculators.registry import CALCULATORS
from tests.published.table import CASES, LIMITS, README, limits_table, table


def test_the_table_is_current() -> None:
    assert README.read_text(encoding="utf-8") == table(), "run `python -m tests.published.table`"


def test_the_list_of_limits_is_current() -> None:
    written = LIMITS.read_text(encoding="utf-8")
    assert written == limits_table(), "run `python -m tests.published.table`"
    assert "| pack.cell_wh | 20 | Wh | 49 CFR 173.185(c)(1)(i)" in written


def test_every_calculator_has_at_least_three_cases_with_source_and_reason() -> None:
    assert list(CASES) == [calculator.name for calculator in CALCULATORS]
    for calculator, cases in CASES.items():
        assert len(cases) >= 3, calculator
        assert len({case.case for case in cases}) == len(cases), calculator
        for case in cases:
            assert case.source, case.case
            assert case.why, case.case
            assert case.tolerance >= 0, case.case


def test_a_wrong_value_would_be_noticed() -> None:
    # No tolerance is so wide that the check could not fail: twice the value is always outside.
    for cases in CASES.values():
        for case in cases:
            if isinstance(case.expected, float) and case.expected:
                assert case.tolerance < abs(case.expected), case.case
