"""A lot of three, from its purchase to two sales, a donor and a return: the profit by hand."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.lots import LotUnit
from bench.views.lots import read_lot
from bench.views.next_up import read_ranking
from bench.views.unit_money import read_unit_money
from bench.work.comebacks import take_return
from bench.work.lots import buy_lot, make_donor
from bench.work.parts import fit_part, take_part
from bench.work.selling import sell_unit
from bench.work.trade import add_channel
from tests.work.looked_into import looked_into_if_need_be
from tests.work.sale_steps import stage
from tests.work.trade_steps import set_trade


def test_the_profit_of_a_lot_by_hand(desk: Desk) -> None:
    set_trade(desk, margin_scheme=True)
    post = add_channel(desk, "by post", share_text="12.5", fixed_text="0.35")
    units = [
        LotUnit("", model, expected_text=text) for model, text in (("A", "200"), ("B", "200"), ("C", "80"))
    ]
    lot = buy_lot(desk, name="three boxes", price_text="120", units=units)
    a, b, c = (one.unit_id for one in lot.shares)
    # 120.00 by 200 : 200 : 20 are 57.142857, 57.142857 and 5.714286: the cent left goes to the third.
    make_donor(desk, c, expected_text="20", reshare=True)
    assert [line.share_minor for line in read_lot(desk, lot.lot_id).lines] == [5_714, 5_714, 572]
    take_part(desk, c, name="screen", cost_text="5", to_unit_id=a)
    fit_part(desk, b, name="battery", cost_text="35.90")
    for unit_id, price in ((a, "230"), (b, "210")):
        looked_into_if_need_be(desk, unit_id)
        sell_unit(desk, unit_id, price_text=price, channel_id=post)
    take_return(desk, b, reason="key E fails", refund_text="210", stage_id=stage(desk, "received"))
    assert [line.unit_id for line in read_ranking(desk).lines] == [b]
    looked_into_if_need_be(desk, b)
    sell_unit(desk, b, price_text="180", channel_id=post)

    # A  230 - 29.10 fees - 28.81 tax (172.86 / 6)                      - 57.14 -  5.00 screen  = 109.95
    # B  210 - 26.60 fees - 210 refund + 180 - 22.85 - 20.48 (122.86/6) - 57.14 - 35.90 battery =  17.03
    # C                                                                  - 5.72 +  5.00 screen  =  -0.72
    money = [read_unit_money(desk, unit_id) for unit_id in (a, b, c)]
    assert [one.margin_minor for one in money] == [10_995, 1_703, None]
    assert [one.proceeds_minor - one.cost_so_far_minor for one in money] == [10_995, 1_703, -72]
    # And as cash: 230 + 180 taken, 78.55 fees, 49.29 tax, 120.00 for the lot, 35.90 for the battery.
    assert (
        sum(one.proceeds_minor - one.cost_so_far_minor for one in money)
        == 41_000 - 7_855 - 4_929 - 12_000 - 3_590
    )
