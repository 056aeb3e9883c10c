"""A sold unit comes back: into the queue, linked to its sale; further hours count against it."""

from __future__ import annotations

from bench.domain.money import read_money, show_money
from bench.domain.selling import Returned
from bench.domain.text import clean_line
from bench.domain.typed_fields import TypedFields
from bench.errors import BadInput, NotFound, Refused
from bench.store.tables import Comeback, Sale, Stage, Unit
from bench.work.change import Change, change
from bench.work.desk import Desk
from bench.work.ending import comes_back
from bench.work.lookups import shop_of
from bench.work.moves import move_within
from bench.work.selling import came_back, is_out, last_sale


def take_return(desk: Desk, unit_id: int, *, reason: str, refund_text: str, stage_id: int) -> Returned:
    """Take a sold unit back into the queue at a working stage, with the reason and what was refunded.

    An empty refund is none, as for a repair under warranty. It is never more than is left of the price.
    NotFound when the unit was never sold, Refused when it is back already.
    """
    with change(desk, "return") as made:
        unit = made.get(Unit, unit_id, "unit")
        sale = last_sale(made, unit_id)
        if sale is None:
            raise NotFound(f"Unit {unit.tag} was never sold.", "Only a sold unit can come back.")
        earlier = came_back(made, sale)
        if earlier and not is_out(made, unit):
            raise Refused(f"Unit {unit.tag} is back already.", "It can come back again once it has left.")
        currency = shop_of(made.session).currency
        fields, typed = TypedFields(), refund_text.strip()
        why = fields.read("reason", clean_line, reason, "The reason for the return")
        refund = fields.read("refund_text", read_money, typed, currency) if typed else 0
        fields.check()
        _within_price(sale, earlier, refund, currency)
        stage = _working_stage(made, stage_id)
        if (unit.back_us or 0) < sale.sold_us and not is_out(made, unit):
            comes_back(made, unit)
        if unit.stage_id != stage_id:
            move_within(made, unit, stage)
        assert sale.id is not None
        row = made.add(
            Comeback(
                sale_id=sale.id, at_us=made.now_us, person_id=desk.person_id, reason=why, refund_minor=refund
            )
        )
        given = f", {show_money(refund, currency)} refunded" if refund else ""
        made.tells(f"Took {unit.tag} back to {stage.name}{given}", unit_id=unit_id, reason=why)
        assert row.id is not None
        return Returned(row.id, sale.id, unit_id, unit.tag, stage.name, refund, currency)


def _within_price(sale: Sale, earlier: list[Comeback], refund: int, currency: str) -> None:
    left = sale.price_minor - sum(one.refund_minor for one in earlier)
    if refund > left:
        raise BadInput(
            f"A refund of {show_money(refund, currency)} is more than is left of the price, "
            f"{show_money(left, currency)}.",
            "Give at most that.",
            field="refund_text",
        )


def _working_stage(made: Change, stage_id: int) -> Stage:
    stage = made.get(Stage, stage_id, "stage")
    if stage.final:
        raise Refused(f"{stage.name} is where units leave.", "Choose a stage at which work goes on.")
    return stage
