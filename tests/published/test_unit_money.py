"""Margin, margin per hour, break-even and most to pay.

Sources: the sums 350-35-180-25-3-20 = 87 in 2.5 h -> 34.80 an hour and 60 -> 100: margin 40 %, checked by
arithmetic. Break-even and walk-away are inverses of the sums themselves: one minor unit either way must
tip them. Tolerance: none, money is exact.
"""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from bench.domain.durations import HOUR_US
from bench.domain.margin_tax import margin_tax_minor
from bench.domain.most_to_pay import TimeGuess, most_to_pay_for
from bench.domain.unit_money import (
    MoneyLine,
    UnitMoney,
    break_even_minor,
    fee_minor,
    labour_minor,
    per_hour_minor,
)


def money(sold: bool, hands_on_us: int) -> UnitMoney:
    cost_so_far = (
        MoneyLine("price", 18_000, "purchase"),
        MoneyLine("parts", 2_500, "parts"),
        MoneyLine("c", 300, "m"),
    )
    brought = (
        MoneyLine("price", 35_000, "sales"),
        MoneyLine("fee", -3_500, "sales"),
        MoneyLine("s", -2_000, "s"),
    )
    return UnitMoney(
        1, "10014", "EUR", cost_so_far, brought if sold else (), hands_on_us, 2_000, sold, 35_000, 0
    )


def test_margin_per_hour_of_the_worked_case() -> None:
    unit = money(sold=True, hands_on_us=HOUR_US * 5 // 2)
    assert (unit.cost_so_far_minor, unit.margin_minor, unit.per_hour_minor) == (20_800, 8_700, 3_480)
    assert unit.labour_minor == 5_000


def test_nothing_is_earned_before_the_sale_or_without_time() -> None:
    assert money(sold=False, hands_on_us=HOUR_US).margin_minor is None
    assert money(sold=False, hands_on_us=HOUR_US).per_hour_minor is None
    assert money(sold=True, hands_on_us=0).per_hour_minor is None


def test_halves_go_up() -> None:
    assert labour_minor(HOUR_US // 2, 1) == 1
    assert per_hour_minor(1, 2 * HOUR_US) == 1
    assert per_hour_minor(-1, 2 * HOUR_US) == 0
    assert fee_minor(10, 500, 3) == 4


@given(
    cost_so_far=st.integers(0, 10**6),
    purchase=st.integers(0, 10**6),
    fee=st.integers(0, 3_000),
    fixed=st.integers(0, 2_000),
    tax=st.integers(0, 2_700),
)
def test_break_even_is_the_first_price_that_brings_the_cost_back(
    cost_so_far: int, purchase: int, fee: int, fixed: int, tax: int
) -> None:
    def left(price: int) -> int:
        return price - fee_minor(price, fee, fixed) - margin_tax_minor(purchase, price, tax) - cost_so_far

    price = break_even_minor(cost_so_far, purchase, fee, fixed, tax)
    assert left(price) >= 0
    assert price == 0 or left(price - 1) < 0


@given(
    expected=st.integers(0, 10**6),
    fee=st.integers(0, 3_000),
    parts=st.integers(0, 10**5),
    minutes=st.integers(0, 600),
    tax=st.integers(0, 2_700),
    wanted=st.integers(0, 10**5),
)
def test_at_the_walk_away_price_the_wanted_margin_is_just_left(
    expected: int, fee: int, parts: int, minutes: int, tax: int, wanted: int
) -> None:
    answer = most_to_pay_for(
        expected_minor=expected,
        fee_per_10000=fee,
        fee_fixed_minor=100,
        parts_minor=parts,
        consumables_minor=250,
        time=TimeGuess(minutes * 60_000_000, 2 * minutes * 60_000_000, 3),
        rate_minor_per_hour=2_500,
        reserve_per_10000=800,
        wanted_margin_minor=wanted,
        tax_per_10000=tax,
    )

    def left(price: int) -> int:
        costs = fee_minor(expected, fee, 100) + parts + 250 + labour_minor(minutes * 60_000_000, 2_500)
        reserve = fee_minor(expected, 800, 0)
        return expected - costs - reserve - wanted - margin_tax_minor(price, expected, tax) - price

    assert left(answer.price_minor) >= 0 or answer.price_minor == 0
    assert left(answer.price_minor + 1) < 0
    assert answer.price_80_minor <= answer.price_minor
    if answer.price_minor:
        assert sum(line.amount_minor for line in answer.lines) in (answer.price_minor, answer.price_minor + 1)


def test_it_says_how_sure_it_is() -> None:
    def based_on(jobs: int) -> str:
        return most_to_pay_for(
            expected_minor=1,
            fee_per_10000=0,
            fee_fixed_minor=0,
            parts_minor=0,
            consumables_minor=0,
            time=TimeGuess(0, 0, jobs),
            rate_minor_per_hour=0,
            reserve_per_10000=0,
            wanted_margin_minor=0,
        ).based_on

    assert "estimate" in based_on(0)
    assert "1 finished job " in based_on(1)
    assert "40 finished jobs" in based_on(40)
