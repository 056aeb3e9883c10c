"""Rates of returns and failing tests, and the reserve that follows them in place of a flat share."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.domain.most_to_pay import RESERVE
from bench.errors import BadInput
from bench.views.most_to_pay import read_most_to_pay
from bench.views.price_rows import read_price_rows
from bench.views.rates import read_rates
from bench.work.comebacks import take_return
from bench.work.outcomes import end_test
from tests.clocks import HandSetClock
from tests.work.sale_steps import sell, stage, stocked

DAYS = 24 * 60


def sold(desk: Desk, count: int) -> list[int]:
    units = [stocked(desk) for _ in range(count)]
    for unit_id in units:
        sell(desk, unit_id, "200")
    return units


def reserve(desk: Desk) -> tuple[int, str]:
    sheet = read_most_to_pay(desk, expected_text="100", route_id=None, channel_id=None)
    line = next(one for one in sheet.answer.lines if one.words == "risk reserve")
    return -line.amount_minor, line.note


def test_the_flat_share_holds_until_enough_sales_tell(desk: Desk, clock: HandSetClock) -> None:
    assert reserve(desk) == (1000, "10 % of the expected price, the shop's setting")
    units = sold(desk, 29)
    take_return(
        desk, units[0], reason="dark", refund_text="50", postage_text="10", stage_id=stage(desk, "received")
    )
    clock.advance(minutes=40 * DAYS)
    assert reserve(desk) == (1000, "10 % of the expected price, the shop's setting; 29 of 30 sales tell yet")
    assert read_rates(desk).returns.reserve_per_10000 is None


def test_then_the_returns_tell_it(desk: Desk, clock: HandSetClock) -> None:
    units = sold(desk, 40)
    take_return(
        desk, units[0], reason="dark", refund_text="50", postage_text="10", stage_id=stage(desk, "received")
    )
    assert read_rates(desk).returns.sales == 0  # none had time to come back
    clock.advance(minutes=40 * DAYS)
    sold(desk, 3)
    found = read_rates(desk, 200)
    returns = found.returns
    # scipy: binomtest(1, 40), exact: 0.00063..0.13159; 60 of 200 were lost
    assert (returns.sales, returns.lost_per_10000, returns.reserve_per_10000) == (40, 3000, 395)
    assert returns.rate is not None
    assert (returns.rate.low_per_10000, returns.rate.high_per_10000) == (6, 1316)
    assert (found.claim_sales, found.claim_sales_without, found.flat_per_10000) == (236, 149, 1000)
    assert reserve(desk) == (395, "3.95 % of the expected price, by 1 returns of 40 sales")
    rows = read_price_rows(desk, RESERVE, route_id=None, channel_id=None).rows
    assert rows[-1].unit_id == units[0]
    assert rows[-1].amount_minor == -6000


def test_a_sale_that_was_undone_lost_its_fees_and_what_it_fetched_less(
    desk: Desk, clock: HandSetClock
) -> None:
    (unit_id,) = sold(desk, 1)
    clock.advance(minutes=10)
    take_return(
        desk, unit_id, reason="dark", refund_text="200", postage_text="10", stage_id=stage(desk, "received")
    )
    clock.advance(minutes=10)
    sell(desk, unit_id, "170")
    clock.advance(minutes=40 * DAYS)
    (back,) = read_rates(desk).returns.back
    assert back.lost_minor == 1000 + 3000


def test_how_often_a_test_fails_at_first(desk: Desk) -> None:
    for outcomes in (("failed", "passed"), ("passed", "failed"), ("broken off",)):
        unit_id = stocked(desk)
        for outcome in outcomes:
            end_test(desk, unit_id, kind="soak", outcome=outcome)
    (soak,) = read_rates(desk).tests
    assert soak.kind == "soak"
    assert soak.rate is not None
    assert (soak.rate.events, soak.rate.trials, soak.rate.share_per_10000) == (1, 2, 5000)


@pytest.mark.parametrize("share", [0, 10_000, -1])
def test_a_share_that_cannot_be_claimed(desk: Desk, share: int) -> None:
    with pytest.raises(BadInput, match="cannot be claimed"):
        read_rates(desk, share)
