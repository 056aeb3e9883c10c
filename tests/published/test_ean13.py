"""The check digit of EAN-13 against python-stdnum (`stdnum.ean`), by GS1's General Specifications."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from stdnum import ean

from bench.domain.tags import ean_check_digit, is_ean


@given(st.text("0123456789", min_size=12, max_size=12))
def test_the_check_digit_is_stdnums(body: str) -> None:
    assert ean_check_digit(body) == ean.calc_check_digit(body)


@given(st.text("0123456789", min_size=13, max_size=13))
def test_thirteen_digits_pass_where_stdnum_passes_them(number: str) -> None:
    assert is_ean(number) == ean.is_valid(number)


def test_the_worked_example_of_gs1() -> None:
    """GS1, "How to calculate a check digit manually": 629104150021 has the check digit 3."""
    assert ean_check_digit("629104150021") == "3"
