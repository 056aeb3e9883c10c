"""What was ordered arrives: on the shelf with its cost, or it is wrong, broken, sent back and refunded.

A cost that was paid for nothing stands on the unit the part was for, else on the shop, less what came back.
"""

from __future__ import annotations

from datetime import date

from bench.desk import Desk
from bench.domain.amounts import Minor
from bench.domain.dates import read_day
from bench.domain.money import read_money, show_money
from bench.domain.orders import ARRIVED, FAULTY, REFUNDED, SENT_BACK, OrderTold
from bench.domain.text import clean_line
from bench.domain.typed import TypedFields
from bench.errors import BadInput, Refused
from bench.store.tables import Component, Consumable, PartsOrder, Stage, Unit
from bench.work.change import Change, change
from bench.work.components import goes, last_move, on_the_shelf, onto_shelf
from bench.work.lookups import shop_of, today
from bench.work.order_rules import goes_on, past_day, told
from bench.work.stock import receipt


def take_in(
    desk: Desk,
    order_id: int,
    *,
    price_text: str = "",
    freight_text: str = "",
    serial: str = "",
    place: str = "",
    arrived_text: str = "",
    expires_text: str = "",
    found: str = "",
    note: str = "",
) -> OrderTold:
    """Take in what was ordered: a part lies on the shelf with its cost, a consumable is booked in.

    `found`: wrong or broken, where it is that. Empty prices are those of the order; BadInput where none is.
    """
    with change(desk, "take in order") as made:
        order, fields, now = goes_on(made, order_id, ARRIVED), TypedFields(), today(made)
        price, freight = _cost(made, fields, order, price_text, freight_text)
        arrived = fields.read("arrived_text", past_day, arrived_text, now, "The day it arrived") or now
        its_serial = fields.read("serial", clean_line, serial, "The serial number", allow_empty=True)
        its_place = fields.read("place", clean_line, place, "The place on the shelf", allow_empty=True)
        state = fields.read("found", _finding, found) if found else ARRIVED
        said = fields.read("note", clean_line, note, "The note", allow_empty=True)
        expires = fields.read("expires_text", read_day, expires_text, now, "The expiry")
        fields.check()
        order.price_minor, order.freight_minor = price, freight
        order.arrived_on, order.state = arrived.isoformat(), ARRIVED
        order.ordered_on = order.ordered_on or arrived.isoformat()
        if order.consumable_id is None:
            _on_to_the_shelf(made, order, price + freight, its_serial, its_place)
        else:
            _book_in(made, order, price + freight, arrived, expires, state)
        if state == ARRIVED:
            order.note = said or order.note
            return told(made, order, "Took in")
        _complains(order, state, arrived, price + freight, said)
        return told(made, order, f"Took in, {state}:", reason=said)


def complain(
    desk: Desk, order_id: int, *, found: str, note: str = "", owed_text: str = "", found_text: str = ""
) -> OrderTold:
    """Say that what arrived is the wrong part or a broken one, and what the supplier owes for it.

    `owed_text`: empty for price and freight. What waited for it waits again.
    """
    with change(desk, "complain") as made:
        order, fields, now = made.get(PartsOrder, order_id, "order"), TypedFields(), today(made)
        state = fields.read("found", _finding, found)
        said = fields.read("note", clean_line, note, "What is the matter", allow_empty=True)
        day = fields.read("found_text", past_day, found_text, now, "The day it was seen") or now
        owed = (order.price_minor or 0) + order.freight_minor
        if owed_text.strip():
            owed = fields.read("owed_text", read_money, owed_text, shop_of(made.session).currency)
        fields.check()
        if order.component_id is None or order.state != ARRIVED:
            raise Refused(
                f"{order.what} of order {order_id} is not here as a part ({order.state}).",
                "Take it in first, and say then what is the matter with it.",
            )
        _complains(order, state, day, owed, said)
        return told(made, order, f"{state.capitalize()} part:", reason=said)


def send_back(desk: Desk, order_id: int, *, sent_text: str = "", note: str = "") -> OrderTold:
    """Send a wrong or broken part back; its cost stands on the unit it was for, else on the shop."""
    with change(desk, "send back") as made:
        order, fields, now = goes_on(made, order_id, SENT_BACK), TypedFields(), today(made)
        sent = fields.read("sent_text", past_day, sent_text, now, "The day it was sent") or now
        said = fields.read("note", clean_line, note, "The note", allow_empty=True)
        fields.check()
        assert order.component_id is not None
        component, _ = on_the_shelf(made, order.component_id)
        goes(made, component, SENT_BACK, note=said, bears=_bearer(made, order))
        order.state, order.sent_back_on = SENT_BACK, sent.isoformat()
        return told(made, order, "Sent back")


def refund_order(desk: Desk, order_id: int, *, refund_text: str, note: str = "") -> OrderTold:
    """Take in what the supplier gave back, 0 for nothing; it is credited where the part's cost stands."""
    with change(desk, "refund part") as made:
        order, fields = goes_on(made, order_id, REFUNDED), TypedFields()
        currency = shop_of(made.session).currency
        back = fields.read("refund_text", _given_back, refund_text, currency)
        said = fields.read("note", clean_line, note, "The note", allow_empty=True)
        fields.check()
        order.state, order.refunded_us = REFUNDED, made.now_us
        order.refund_minor, order.owed_minor = back, 0
        order.refund_unit_id = _credited_to(made, order)
        order.note = said or order.note
        return told(made, order, f"{show_money(back, currency)} back for")


def _cost(
    made: Change, fields: TypedFields, order: PartsOrder, price_text: str, freight_text: str
) -> tuple[Minor, Minor]:
    currency = shop_of(made.session).currency
    price, freight = order.price_minor, order.freight_minor
    if price_text.strip():
        price = fields.read("price_text", read_money, price_text, currency)
    elif price is None:
        what = f"The price of {order.what} is empty."
        fields.wrong(BadInput(what, "Type 0 if it cost nothing.", field="price_text"))
    if freight_text.strip():
        freight = fields.read("freight_text", read_money, freight_text, currency)
    return price or 0, freight


def _on_to_the_shelf(made: Change, order: PartsOrder, cost: Minor, serial: str, place: str) -> None:
    component = onto_shelf(
        made,
        name=order.what,
        cost_minor=cost,
        maker_number=order.maker_number,
        serial=serial,
        place=place,
        supplier=order.supplier,
        fault_id=order.fault_id,
    )
    order.component_id = component.id


def _book_in(
    made: Change, order: PartsOrder, cost: Minor, arrived: date, expires: date | None, state: str
) -> None:
    if state in FAULTY:
        raise Refused(
            f"{order.what} that is {state} is not booked in.",
            "Cancel the order with the reason, and order it again.",
        )
    assert order.consumable_id is not None
    consumable = made.get(Consumable, order.consumable_id, "consumable")
    receipt(made, consumable, order.quantity or 0, cost, order.supplier, arrived, expires)


def _complains(order: PartsOrder, state: str, day: date, owed: Minor, note: str) -> None:
    order.state, order.found, order.faulty_on, order.owed_minor = state, state, day.isoformat(), owed
    order.note = note or order.note


def _bearer(made: Change, order: PartsOrder) -> int | None:
    """The unit that bears the cost of a part that is gone: the one it was for, while that is here."""
    unit = made.session.get(Unit, order.unit_id) if order.unit_id is not None else None
    if unit is None or unit.removed or made.get(Stage, unit.stage_id, "stage").final:
        return None
    return unit.id


def _credited_to(made: Change, order: PartsOrder) -> int | None:
    """Where the cost of the part stands: on the unit it is in, on the one that bears it, else on the shop."""
    if order.component_id is None:
        return None
    component = made.get(Component, order.component_id, "part")
    if component.gone:
        return component.bears_unit_id
    last = last_move(made, order.component_id)
    return last.to_unit_id if last is not None else None


def _finding(text: str) -> str:
    word = text.strip().casefold()
    if word not in FAULTY:
        raise BadInput(f"A part is {' or '.join(FAULTY)}.", "Choose one of the two.")
    return word


def _given_back(text: str, currency: str) -> Minor:
    if not text.strip():
        raise BadInput("What came back is empty.", "Type 0 if nothing comes back.")
    return read_money(text, currency)
