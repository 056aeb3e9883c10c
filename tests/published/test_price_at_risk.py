"""The price at which money is lost in at most a set share of cases, against fresh cases of the same shop.

Sources: the empirical quantile as the estimate of value at risk by historical simulation (J. C. Hull,
Options, Futures, and Other Derivatives, chapter on value at risk: from memory).

Cases drawn by Python's own generator.
"""

from __future__ import annotations

import random

import pytest

from bench.domain.price_sheet import FEW_SALES, Fetched, price_at_risk, risk_words

HOUR_US = 3_600_000_000


def fetched(*shares: float) -> list[Fetched]:
    return [Fetched(number, round(20_000 * share), 20_000) for number, share in enumerate(shares)]


def price(
    units: list[Fetched], *, times_us: tuple[int, ...] = (0,), chance: int = 2_000, **more: int
) -> int | None:
    known = {
        "fee_per_10000": 0,
        "fee_fixed_minor": 0,
        "rate_minor_per_hour": 0,
        "tax_per_10000": 0,
        "costs_minor": 0,
    }
    return price_at_risk(
        expected_minor=10_000, fetched=units, times_us=times_us, chance_per_10000=chance, **{**known, **more}
    ).price_minor


def test_the_worked_case() -> None:
    # Of five units 50, 80, 90, 100 and 120 % of the expected price came: at 80.00 one loses, at 50.00 none.
    units = fetched(0.9, 0.5, 1.2, 0.8, 1.0)
    assert price(units) == 8_000
    assert price(units, chance=0) == 5_000
    assert price(units, chance=10_000) == 12_000
    # 10 % and 1.00 of fees, 5.00 of parts, an hour at 10.00: 80 - 8 - 1 - 5 - 10 = 56.00
    more = {"fee_per_10000": 1_000, "fee_fixed_minor": 100, "costs_minor": 500, "rate_minor_per_hour": 1_000}
    assert price(units, times_us=(HOUR_US,), **more) == 5_600
    # A sixth of the margin: p + (80 - p) / 6 <= 75 at p = 74.00
    assert price(units, costs_minor=500, tax_per_10000=2_000) == 7_400


def test_few_units_tell_nothing() -> None:
    answer = price_at_risk(
        expected_minor=10_000,
        fetched=fetched(1.0) * (FEW_SALES - 1),
        times_us=(0,),
        costs_minor=0,
        fee_per_10000=0,
        fee_fixed_minor=0,
        rate_minor_per_hour=0,
        tax_per_10000=0,
        chance_per_10000=2_000,
    )
    assert answer.price_minor is None
    assert "cannot be told yet: 4 of 5" in risk_words(answer, "EUR")


@pytest.mark.parametrize("chance", [500, 1_000, 2_000, 5_000])
def test_fresh_cases_lose_in_that_share(chance: int) -> None:
    luck = random.Random(chance)

    def case() -> tuple[float, int]:
        # One in ten comes back and brings nothing in the end.
        share = 0.0 if luck.random() < 0.1 else luck.lognormvariate(-0.05, 0.2)
        return share, round(luck.lognormvariate(0.5, 0.4) * HOUR_US)

    lost = judged = 0
    for _ in range(60):
        past = [case() for _ in range(80)]
        most = price(
            fetched(*(share for share, _ in past)),
            times_us=tuple(time_us for _, time_us in past),
            chance=chance,
            rate_minor_per_hour=1_500,
        )
        assert most is not None
        for _ in range(60):
            share, time_us = case()
            judged += 1
            lost += 10_000 * share - 1_500 * time_us / HOUR_US < most - 1
    if chance <= 1_000:
        # Where one in ten brings nothing, no price but none keeps the chance below that.
        assert lost / judged <= 0.15
    else:
        assert lost / judged == pytest.approx(chance / 10_000, abs=0.03)
