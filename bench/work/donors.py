"""Donors: units kept for their parts. Marking one moves nothing; its lot can be shared anew with it."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.lots import DonorMade, Share
from bench.domain.money import read_money
from bench.errors import Refused
from bench.store.tables import Lot, Stage, Unit
from bench.work.change import change
from bench.work.lookups import shop_of
from bench.work.lots import old_and_new, share_anew
from bench.work.purchases import purchase_of
from bench.work.standing import not_an_owners


def make_donor(desk: Desk, unit_id: int, *, expected_text: str = "", reshare: bool = False) -> DonorMade:
    """Keep a unit for its parts. No cost moves and the unit stays where it stands.

    `expected_text`: what its parts are worth, 0 when nothing is typed. `reshare`: its lot is shared anew in
    the same step.
    """
    return _mark(desk, unit_id, donor=True, expected_text=expected_text or "0", reshare=reshare)


def end_donor(desk: Desk, unit_id: int, *, expected_text: str, reshare: bool = False) -> DonorMade:
    """Sell a donor whole after all, with what it is expected to sell for."""
    return _mark(desk, unit_id, donor=False, expected_text=expected_text, reshare=reshare)


def _mark(desk: Desk, unit_id: int, *, donor: bool, expected_text: str, reshare: bool) -> DonorMade:
    with change(desk, "donor") as made:
        unit = made.get(Unit, unit_id, "unit")
        not_an_owners(unit)
        purchase = purchase_of(made, unit_id)
        if bool(purchase.donor) == donor:
            is_one = "is a donor already" if donor else "is no donor"
            raise Refused(f"Unit {unit.tag} {is_one}.", "There is nothing to change.")
        if made.get(Stage, unit.stage_id, "stage").final:
            raise Refused(f"Unit {unit.tag} has left the queue.", "Move it back to a stage first.")
        currency = shop_of(made.session).currency
        purchase.donor = int(donor)
        purchase.expected_minor = read_money(expected_text, currency)
        shares: tuple[Share, ...] = ()
        words = f"{unit.tag} is now a donor" if donor else f"{unit.tag} is no longer a donor"
        if reshare and purchase.lot_id is not None:
            lot = made.get(Lot, purchase.lot_id, "lot")
            shares = share_anew(made, lot)
            words += f"; shared lot {lot.name} anew: {old_and_new(shares, currency)}"
        made.tells(words, unit_id=unit_id)
        return DonorMade(unit_id, unit.tag, donor, purchase.expected_minor, purchase.lot_id, shares, currency)
