"""Whose a unit is that was brought in for repair, set right after it was taken in."""

from __future__ import annotations

from sqlmodel import select

from bench.desk import Desk
from bench.domain.party import PartyTyped
from bench.domain.ways_out import HANDED_BACK
from bench.errors import BadInput, Refused
from bench.store.tables import Purchase, Unit, WayOut
from bench.work.change import Change, change
from bench.work.names import tells_if_changed
from bench.work.parties import party_within
from bench.work.repair_jobs import job_at_hand
from bench.work.standing import is_out, last_sale


def set_owner(desk: Desk, unit_id: int, owner: PartyTyped) -> None:
    """Set right whose a unit is; where nothing is typed, it is the shop's own.

    BadInput for an owner without a name or a unit with a price, Refused for a unit that was bought or has
    left, and for one whose repair was handed back and that would be the shop's own.
    """
    with change(desk, "owner") as made:
        unit = made.get(Unit, unit_id, "unit")
        owner_within(made, unit, owner)
        tells_if_changed(made, f"Set right whose {unit.tag} is", unit_id)


def owner_within(made: Change, unit: Unit, owner: PartyTyped | None) -> None:
    """The same inside a transaction that does more; None leaves it as it is."""
    if owner is None:
        return
    party_id = _party(made, owner)
    if party_id is None and unit.owner_id is not None:
        _was_not_handed_back(made, unit)
        _is_not_in_repair(made, unit)
    if party_id is not None and unit.owner_id is None:
        _was_not_bought(made, unit)
    unit.owner_id = party_id
    no_price_of_an_owners(unit)


def no_price_of_an_owners(unit: Unit) -> None:
    """Pass, or raise BadInput: nothing is paid for what somebody else owns."""
    if unit.owner_id is not None and unit.price_minor is not None:
        raise BadInput(
            f"Unit {unit.tag} is its owner's: nothing was paid for it.",
            "Leave the price empty; what the repair costs is typed when it is handed back.",
            field="price_text",
        )


def _party(made: Change, owner: PartyTyped) -> int | None:
    try:
        return party_within(made, owner)
    except BadInput as error:
        fault = error.faults[0]
        raise fault.of_field("owner_contact" if fault.field == "contact" else "owner") from None


def _was_not_handed_back(made: Change, unit: Unit) -> None:
    statement = select(WayOut.id).where(
        WayOut.unit_id == unit.id, WayOut.way == HANDED_BACK, WayOut.removed == 0
    )
    if made.session.exec(statement).first() is not None:
        raise Refused(
            f"Unit {unit.tag} was handed back to its owner: it was not the shop's.",
            "Name another owner, or take the unit in anew.",
        )


def _is_not_in_repair(made: Change, unit: Unit) -> None:
    assert unit.id is not None
    if job_at_hand(made, unit.id) is not None:
        raise Refused(
            f"Unit {unit.tag} is here for its owner's repair.",
            "Name another owner, or undo the repair first.",
        )


def _was_not_bought(made: Change, unit: Unit) -> None:
    assert unit.id is not None
    bought = made.session.exec(select(Purchase.id).where(Purchase.unit_id == unit.id)).first()
    if bought is not None or last_sale(made, unit.id) is not None:
        raise Refused(f"Unit {unit.tag} was bought: it is the shop's own.", "Take its purchase back first.")
    if is_out(made, unit):
        raise Refused(f"Unit {unit.tag} has left as the shop's own.", "Move it back to a stage first.")
