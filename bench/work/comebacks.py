"""A sold unit comes back, linked to its sale: for repair, for less money, or for good.

Without a refund, or with a part of the price given back, the sale stands and the unit is the buyer's: it is
handed back. With the whole price given back the sale is undone and the unit is the shop's again, to be sold
again. Either can be said otherwise, as where something was kept back of the price.
"""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.money import read_money, show_money
from bench.domain.selling import Returned
from bench.domain.text import clean_line
from bench.domain.typed import TypedFields
from bench.errors import BadInput, NotFound, Refused
from bench.store.tables import Comeback, Sale, Stage, Unit
from bench.work.change import Change, change
from bench.work.gates import comes_back
from bench.work.lookups import shop_of
from bench.work.moves import move_within
from bench.work.names import tells_if_changed
from bench.work.standing import came_back, is_out, last_sale


def take_return(
    desk: Desk,
    unit_id: int,
    *,
    reason: str,
    refund_text: str,
    stage_id: int,
    fee_back_text: str = "",
    postage_text: str = "",
    ours: bool | None = None,
) -> Returned:
    """Take a sold unit back into the queue at a working stage, with the reason and what was refunded.

    An empty refund is none, as for a repair under warranty. It is never more than is left of the price.
    `fee_back_text`: what the channel gave back of its fee, nothing for none. `postage_text`: what the way
    back cost the shop; nothing typed is not known. `ours`: the sale is undone; None goes by the refund.
    NotFound when the unit was never sold, Refused when it is back already.
    """
    with change(desk, "return") as made:
        unit = made.get(Unit, unit_id, "unit")
        sale = _sale_of(made, unit)
        earlier = came_back(made, sale)
        if earlier and not is_out(made, unit):
            raise Refused(f"Unit {unit.tag} is back already.", "It can come back again once it has left.")
        if any(one.undoes for one in earlier):
            raise Refused(f"The sale of unit {unit.tag} was undone already.", "Sell it again first.")
        stage = _working_stage(made, stage_id)
        assert sale.id is not None
        row = Comeback(sale_id=sale.id, at_us=made.now_us, person_id=desk.person_id, reason="")
        _fill(made, row, sale, earlier, reason, refund_text, fee_back_text, postage_text, ours)
        if (unit.back_us or 0) < sale.sold_us and not is_out(made, unit):
            comes_back(made, unit)
        if unit.stage_id != stage_id:
            move_within(made, unit, stage)
        made.add(row)
        currency = shop_of(made.session).currency
        given = f", {show_money(row.refund_minor, currency)} refunded" if row.refund_minor else ""
        whose = "" if row.undoes else "; its sale stands"
        made.tells(f"Took {unit.tag} back to {stage.name}{given}{whose}", unit_id=unit_id, reason=row.reason)
        return _returned(row, sale, unit, stage, currency)


def correct_return(
    desk: Desk,
    unit_id: int,
    *,
    reason: str,
    refund_text: str,
    fee_back_text: str = "",
    postage_text: str = "",
    ours: bool | None = None,
) -> Returned:
    """Set a unit's last return right, as when a repair fails and the price is given back after all.

    What is typed replaces what was. NotFound when it never came back; Refused once it was sold again.
    """
    with change(desk, "correct return") as made:
        unit = made.get(Unit, unit_id, "unit")
        sale = _sale_of(made, unit)
        returns = sorted(came_back(made, sale), key=lambda one: (one.at_us, one.id or 0))
        if not returns:
            raise NotFound(f"Unit {unit.tag} has not come back.", "Record its return first.")
        *earlier, row = returns
        undid = row.undoes
        _fill(made, row, sale, earlier, reason, refund_text, fee_back_text, postage_text, ours)
        if row.undoes != undid and is_out(made, unit):
            raise Refused(
                f"Unit {unit.tag} has left again: whose it is stays as it was.",
                "Move it back to a stage first.",
            )
        tells_if_changed(made, f"Corrected the return of {unit.tag}", unit_id)
        stage = made.get(Stage, unit.stage_id, "stage")
        return _returned(row, sale, unit, stage, shop_of(made.session).currency)


def _fill(
    made: Change,
    row: Comeback,
    sale: Sale,
    earlier: list[Comeback],
    reason: str,
    refund_text: str,
    fee_back_text: str,
    postage_text: str,
    ours: bool | None,
) -> None:
    currency = shop_of(made.session).currency
    fields = TypedFields()
    row.reason = fields.read("reason", clean_line, reason, "The reason for the return")
    row.refund_minor = fields.read("refund_text", _amount, refund_text, currency) or 0
    row.fee_back_minor = fields.read("fee_back_text", _amount, fee_back_text, currency) or 0
    row.postage_minor = fields.read("postage_text", _amount, postage_text, currency)
    fields.check()
    back, price, fee = row.fee_back_minor, "the price", "the fee"
    price_left = sale.price_minor - sum(one.refund_minor for one in earlier)
    fee_left = sale.fee_minor - sum(one.fee_back_minor for one in earlier)
    fields.read("refund_text", _within, price_left, row.refund_minor, "A refund", price, currency)
    fields.read("fee_back_text", _within, fee_left, back, "A fee given back", fee, currency)
    fields.check()
    whole = row.refund_minor > 0 and row.refund_minor == price_left
    row.undoes = int(whole if ours is None else ours)


def _within(left: int, given: int, what: str, whole: str, currency: str) -> None:
    if given > left:
        raise BadInput(
            f"{what} of {show_money(given, currency)} is more than is left of {whole}, "
            f"{show_money(left, currency)}.",
            "Give at most that.",
        )


def _sale_of(made: Change, unit: Unit) -> Sale:
    assert unit.id is not None
    sale = last_sale(made, unit.id)
    if sale is None:
        raise NotFound(f"Unit {unit.tag} was never sold.", "Only a sold unit can come back.")
    return sale


def _returned(row: Comeback, sale: Sale, unit: Unit, stage: Stage, currency: str) -> Returned:
    assert row.id is not None
    assert sale.id is not None
    assert unit.id is not None
    return Returned(
        comeback_id=row.id,
        sale_id=sale.id,
        unit_id=unit.id,
        tag=unit.tag,
        stage=stage.name,
        refund_minor=row.refund_minor,
        currency=currency,
        fee_back_minor=row.fee_back_minor,
        postage_minor=row.postage_minor,
        undoes=bool(row.undoes),
    )


def _amount(text: str, currency: str) -> int | None:
    return read_money(text, currency) if text.strip() else None


def _working_stage(made: Change, stage_id: int) -> Stage:
    stage = made.get(Stage, stage_id, "stage")
    if stage.final:
        raise Refused(f"{stage.name} is where units leave.", "Choose a stage at which work goes on.")
    return stage
