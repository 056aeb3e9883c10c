"""A trading workshop whose names upset careless documents: an offer, a lot, parts, a sale and a return."""

from __future__ import annotations

from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.lots import LotUnit
from bench.domain.offers import OfferTyped
from bench.domain.party import PartyTyped
from bench.work.buying import save_offer
from bench.work.comebacks import take_return
from bench.work.lots import buy_lot, make_donor
from bench.work.moves import hold_unit, move_unit
from bench.work.parts import fit_part, take_part
from bench.work.selling import sell_unit
from bench.work.trade import add_channel
from tests.clocks import HandSetClock
from tests.work.looked_into import looked_into_if_need_be
from tests.work.sale_steps import stage
from tests.work.trade_steps import CHARGER_LEAD, set_rate, set_trade, work_on

MODEL = '[/] "One" 修理 =1+1'
FIRM = "+Firm; [bold]x[/bold]"


@dataclass(frozen=True)
class Trading:
    """The numbers of what the scene holds."""

    offer_id: int
    lot_id: int
    sold_id: int
    back_id: int
    donor_id: int


def trade(desk: Desk, clock: HandSetClock) -> Trading:
    """Three units of a lot for 120.00: one sold, one back after a return, one a donor of parts."""
    set_rate(desk, "30")
    set_trade(desk, margin_scheme=True, wanted_margin_text="40")
    post = add_channel(desk, "=by post", share_text="12.5", fixed_text="0.35")
    firm = PartyTyped(FIRM, private=False)
    offer_id = save_offer(
        desk,
        OfferTyped(
            MODEL,
            "300",
            maker="@Maker",
            serial="=S",
            note="first line\n=second [b]",
            route_id=CHARGER_LEAD,
            channel_id=post,
            asking_text="150",
            seller=firm,
            findings={"screen": "two [dead] pixels", "powers_on": ""},
        ),
    )
    units = [
        LotUnit("@Maker", MODEL, expected_text="200", route_id=CHARGER_LEAD, serial="=S1"),
        LotUnit("@Maker", MODEL, expected_text="200", route_id=CHARGER_LEAD),
        LotUnit("@Maker", MODEL, expected_text="80"),
    ]
    lot = buy_lot(desk, name="=lot [1]", price_text="120", units=units, seller=firm, note="=pallet [b]")
    sold_id, back_id, donor_id = (one.unit_id for one in lot.shares)
    work_on(desk, clock, sold_id, 20)
    fit_part(desk, sold_id, name="[battery]", cost_text="35.90", supplier="=Supplier", serial="B")
    make_donor(desk, donor_id, expected_text="60")
    take_part(desk, donor_id, name="=screen", cost_text="10", to_unit_id=back_id)
    take_part(desk, donor_id, name="memory", cost_text="2")
    for unit_id, price in ((sold_id, "230"), (back_id, "210")):
        looked_into_if_need_be(desk, unit_id)
        sell_unit(
            desk,
            unit_id,
            price_text=price,
            channel_id=post,
            shipping_text="0",
            open_tasks="skip",
            reason="-x",
        )
    clock.advance(minutes=60)
    take_return(
        desk,
        back_id,
        reason="=key [E]",
        refund_text="210",
        postage_text="0",
        stage_id=stage(desk, "received"),
    )
    hold_unit(desk, donor_id, "@strip [later]")
    move_unit(desk, back_id, stage(desk, "inspected"))
    clock.advance(minutes=30)
    return Trading(offer_id, lot.lot_id, sold_id, back_id, donor_id)
