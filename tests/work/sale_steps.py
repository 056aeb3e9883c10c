"""Steps that several tests of selling share: a bought unit, a trading shop, a sale."""

from __future__ import annotations

from typing import Any

from bench.desk import Desk
from bench.domain.selling import Sold
from bench.store.tables import Component, Lot, Part, Party, Purchase
from bench.views.shop import read_stages
from bench.work.selling import sell_unit
from bench.work.trade import add_channel, edit_trade
from bench.work.units import add_unit
from tests.work.looked_into import looked_into, looked_into_if_need_be

BUYER = {
    "buyer_name": "Quendolin Buyer",
    "buyer_address": "7 Nowhere Lane",
    "buyer_contact": "q@example.org",
}
MARKET = 2  # the number of the channel that `trading` adds


def stage(desk: Desk, name: str) -> int:
    """The number of a stage."""
    return next(one.stage_id for one in read_stages(desk) if one.name == name)


def trading(desk: Desk, **typed: Any) -> None:
    """Margin tax at 20 %, a year's warranty, and a second channel with fees of 10 % and 0.50."""
    wanted: dict[str, Any] = {
        "margin_scheme": True,
        "margin_tax_text": "20",
        "hold_days_text": "0",
        "keep_private_text": "6",
        "risk_reserve_text": "10",
        "wanted_margin_text": "",
        "warranty_text": "365",
        "loss_chance_text": "20",
    }
    edit_trade(desk, **{**wanted, **typed})
    assert add_channel(desk, "market", share_text="10", fixed_text="0.50") == MARKET


def stocked(desk: Desk, price_text: str = "300", **more: Any) -> int:
    """A unit without tasks and without a drive, so that nothing holds up its sale."""
    added = add_unit(desk, maker="Maker", model="Model", price_text=price_text, **more)
    return looked_into(desk, added.unit_id)


def sell(desk: Desk, unit_id: int, price_text: str = "700", **typed: Any) -> Sold:
    """A sale to a private person, sent for nothing unless told otherwise."""
    looked_into_if_need_be(desk, unit_id)
    return sell_unit(desk, unit_id, price_text=price_text, **{"shipping_text": "0", **BUYER, **typed})


def bought_from(
    desk: Desk,
    unit_id: int,
    name: str,
    bought_on: str,
    *,
    lot: str = "",
    donor: bool = False,
    private: bool = True,
) -> int:
    """Say behind the use cases' backs who a unit came from; answers the party's number."""
    with desk.store.write() as session:
        party = Party(name=name, address=f"{name} Street", private=int(private))
        session.add(party)
        session.flush()
        assert party.id is not None
        lot_id = None
        if lot:
            row = Lot(name=lot, price_minor=30_000, bought_on=bought_on, party_id=party.id)
            session.add(row)
            session.flush()
            lot_id = row.id
        session.add(
            Purchase(
                unit_id=unit_id,
                lot_id=lot_id,
                party_id=None if lot else party.id,
                bought_on=bought_on,
                invoice="P-1",
                donor=int(donor),
            )
        )
        return party.id


def part(desk: Desk, name: str, cost_minor: int, *, to: int | None = None, out_of: int | None = None) -> None:
    """A part that came or went, behind the use cases' backs."""
    with desk.store.write() as session:
        component = Component(name=name)
        session.add(component)
        session.flush()
        session.add(
            Part(
                component_id=component.id,
                name=name,
                from_unit_id=out_of,
                to_unit_id=to,
                cost_minor=cost_minor,
                at_us=desk.clock.now_us(),
                person_id=desk.person_id,
            )
        )
