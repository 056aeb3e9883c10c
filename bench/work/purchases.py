"""Correct where a unit comes from: who it was bought from, when, and what it is expected to sell for."""

from __future__ import annotations

from datetime import date

from sqlmodel import select

from bench.desk import Desk
from bench.domain.dates import read_day
from bench.domain.money import read_money
from bench.domain.party import PartyTyped
from bench.domain.text import clean_line
from bench.domain.typed import TypedFields, read_field
from bench.errors import BadInput, Refused
from bench.store.tables import Drive, Purchase, Unit
from bench.work.change import Change, change
from bench.work.lookups import shop_of, today
from bench.work.names import tells_if_changed
from bench.work.part_rules import covers_parts_out
from bench.work.parties import party_within
from bench.work.standing import not_an_owners
from bench.work.turned_out import turned_out


def edit_purchase(
    desk: Desk,
    unit_id: int,
    *,
    expected_text: str,
    bought_on_text: str,
    invoice: str,
    seller: PartyTyped | None = None,
    premium_text: str | None = None,
    freight_text: str | None = None,
    shipping_text: str | None = None,
) -> None:
    """Correct what is expected of a unit, and when and by which invoice it was bought.

    `premium_text`: a buyer's premium; it is a part of the price paid, which grows with it. `freight_text`:
    what bringing it here cost, paid to others and no part of that price. Empty for none, None leaves them.
    `shipping_text`: what sending it to its buyer is expected to cost; empty is not typed.
    What is typed replaces what was, a seller only where one is typed. A lot's shares stay as they are until
    it is shared again.
    """
    with change(desk, "purchase") as made:
        unit = made.get(Unit, unit_id, "unit")
        not_an_owners(unit)
        purchase = purchase_of(made, unit_id)
        expected, currency, fields = expected_text.strip(), shop_of(made.session).currency, TypedFields()
        worth = fields.read("expected_text", read_money, expected, currency) if expected else None
        bought_on = fields.read("bought_on_text", _day_gone, made, bought_on_text, "The day of purchase")
        number = fields.read("invoice", clean_line, invoice, "The invoice number", allow_empty=True)
        party_id = fields.read("name", party_within, made, seller)
        fields.check()
        purchase.expected_minor = worth
        purchase.bought_on = bought_on.isoformat() if bought_on else None
        purchase.invoice = number
        if party_id is not None:
            purchase.party_id = party_id
        if premium_text is not None:
            _premium(made, unit, purchase, premium_text)
        if freight_text is not None:
            purchase.freight_minor = _typed(made, "freight_text", freight_text)
        if shipping_text is not None:
            sent = shipping_text.strip()
            purchase.shipping_minor = (
                read_field("shipping_text", read_money, sent, currency) if sent else None
            )
        covers_parts_out(made, unit)
        then = "".join(turned_out(made, one) for one in _where_its_drives_are(made, unit_id))
        tells_if_changed(made, f"Corrected where {unit.tag} comes from{then}", unit_id)


def _where_its_drives_are(made: Change, unit_id: int) -> list[int]:
    """The units in which drives are now that came in this one."""
    drives = select(Drive.unit_id).where(Drive.came_in_unit_id == unit_id, Drive.removed == 0)
    return sorted({one for one in made.session.exec(drives) if one is not None})


def _premium(made: Change, unit: Unit, purchase: Purchase, text: str) -> None:
    """Set a buyer's premium, and the price paid of which it is a part."""
    premium = _typed(made, "premium_text", text)
    if premium == purchase.premium_minor:
        return
    if purchase.lot_id is not None:
        raise Refused(f"The premium of unit {unit.tag} is its share of its lot's.", "Leave it as it is.")
    if unit.price_minor is None:
        raise BadInput(
            f"Of unit {unit.tag} no price paid is typed.", "Type the price first.", field="premium_text"
        )
    unit.price_minor += premium - purchase.premium_minor
    purchase.premium_minor = premium


def _typed(made: Change, field: str, text: str) -> int:
    return read_field(field, read_money, text, shop_of(made.session).currency) if text.strip() else 0


def purchase_of(made: Change, unit_id: int) -> Purchase:
    """The row of where a unit comes from, made where there is none yet."""
    found = made.session.exec(select(Purchase).where(Purchase.unit_id == unit_id)).first()
    return found if found is not None else made.add(Purchase(unit_id=unit_id))


def day_or_today(made: Change, text: str, what: str) -> date:
    """The day typed, today for nothing typed; BadInput for one that is still to come."""
    return _day_gone(made, text, what) or today(made)


def _day_gone(made: Change, text: str, what: str) -> date | None:
    day = read_day(text, today(made), what)
    if day is not None and day > today(made):
        raise BadInput(f"{day} is still to come.", "Give the day on which it was bought.")
    return day
