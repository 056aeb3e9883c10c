"""Stock comes in and is counted. The consumables themselves are kept next door and handed out here too."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

from sqlmodel import Session, col, select

from bench.desk import Desk
from bench.domain.dates import read_day
from bench.domain.localtime import FIRST_YEAR, LAST_YEAR
from bench.domain.money import MOST_MINOR, read_money, show_money
from bench.domain.quantities import MOST_UNITS, THOUSANDTHS, read_quantity, show_quantity
from bench.domain.stock_levels import Counted, Restocked, StockLine, StockTaken
from bench.domain.text import clean_line, quoted
from bench.domain.typed import TypedFields, read_field, read_whole
from bench.domain.weeks import day_bounds_us
from bench.errors import BadInput
from bench.store.engine import plain_connection
from bench.store.tables import Consumable, Movement
from bench.views.stock import stock_lines
from bench.work.change import Change, change
from bench.work.consumables import add_consumable as add_consumable
from bench.work.consumables import edit_consumable as edit_consumable
from bench.work.consumables import remove_consumable as remove_consumable
from bench.work.issuing import count_down, layers_of
from bench.work.lookups import shop_of, today

MOST_PACKS = 100_000


def restock(
    desk: Desk,
    consumable_id: int,
    *,
    packs_text: str = "",
    quantity_text: str = "",
    price_text: str = "",
    supplier: str = "",
    date_text: str = "",
    expires_text: str = "",
) -> Restocked:
    """Take in what has arrived, in packs or in the base unit, for the price paid for all of it.

    An empty price is 0, an empty date today, an empty expiry that date plus the shelf life.
    """
    with change(desk, "restock") as made:
        consumable = made.get(Consumable, consumable_id, "consumable")
        shop = shop_of(made.session)
        now, fields, price = today(made), TypedFields(), price_text.strip()
        quantity = fields.read("packs_text", typed_amount, consumable, packs_text, quantity_text)
        cost = fields.read("price_text", read_money, price, shop.currency) if price else 0
        received = fields.read("date_text", _received_on, date_text, now)
        expires_on = fields.read("expires_text", read_day, expires_text, now, "The expiry")
        source = fields.read("supplier", clean_line, supplier, "The supplier", allow_empty=True)
        fields.check()
        expires = receipt(made, consumable, quantity, cost, source, received, expires_on)
        amount = show_quantity(quantity, consumable.base_unit)
        made.tells(f"Restocked {consumable.name}: {amount} for {show_money(cost, shop.currency)}")
        line = _line(made, consumable_id)
        return Restocked(
            consumable_id=consumable_id,
            name=consumable.name,
            base_unit=consumable.base_unit,
            quantity=quantity,
            left=line.on_hand,
            cost_minor=cost,
            currency=shop.currency,
            received_on=received,
            expires_on=expires,
            low=line.low,
        )


def count_stock(desk: Desk, consumable_id: int, *, quantity_text: str, reason: str) -> Counted:
    """Set the level to what was counted, by one movement of the difference, with the reason.

    What is missing goes out of the oldest receipts first; what was found comes in at the unit cost of the
    newest one, or at 0 where there is none. A count that agrees with the book leaves a line in the journal.
    """
    with change(desk, "count") as made:
        consumable = made.get(Consumable, consumable_id, "consumable")
        unit = consumable.base_unit
        fields = TypedFields()
        counted = fields.read("quantity_text", read_quantity, quantity_text, unit, allow_zero=True)
        why = fields.read("reason", clean_line, reason, "The reason")
        fields.check()
        difference = _set_level(made, consumable, counted, why, "quantity_text")
        words = f"Counted {consumable.name}: {show_quantity(counted, unit)}"
        made.tells(f"{words}, the book said {show_quantity(counted - difference, unit)}", reason=why)
        low = _line(made, consumable_id).low
        return Counted(consumable_id, consumable.name, unit, counted, difference, low)


def take_stock(desk: Desk, *, counted: Mapping[int, str], reason: str) -> StockTaken:
    """Set the level of each to what was counted, as typed, all for one reason and undone as one.

    What nothing was typed for was not counted, and stays as it is. A fault is that of the field `counted_N`.
    """
    with change(desk, "stocktake") as made:
        typed = {number: text for number, text in counted.items() if text.strip()}
        if not typed:
            raise BadInput("Nothing was counted.", "Type what lies there of one consumable at least.")
        fields = TypedFields()
        shelf = {number: made.get(Consumable, number, "consumable") for number in typed}
        levels = {
            number: fields.read(
                f"counted_{number}", read_quantity, text, shelf[number].base_unit, allow_zero=True
            )
            for number, text in typed.items()
        }
        why = fields.read("reason", clean_line, reason, "The reason")
        fields.check()
        off = []
        for number, level in levels.items():
            if _set_level(made, shelf[number], level, why, f"counted_{number}"):
                off.append(shelf[number].name)
        apart = f", other than the book said: {', '.join(off)}" if off else ", all as the book said"
        made.tells(f"Stocktake of {len(levels)} consumables{apart}", reason=why)
        return StockTaken(len(levels), tuple(off))


def _set_level(made: Change, consumable: Consumable, counted: int, reason: str, field: str) -> int:
    """Book the difference to what was counted, typed into `field`; answers it, in thousandths."""
    assert consumable.id is not None
    booked = sum(layer.quantity for layer in layers_of(made.session, consumable.id))
    difference = counted - booked
    if difference < 0:
        count_down(made, consumable, -difference, reason)
    elif difference > 0:
        _count_up(made, consumable.id, difference, reason, field)
    made.recorder.looked_at("consumable", consumable.id)
    return difference


def receipt(
    made: Change,
    consumable: Consumable,
    quantity: int,
    cost_minor: int,
    supplier: str,
    received: date,
    expires_on: date | None,
) -> date | None:
    """Book in what arrived, inside a transaction that may do more; answers when it expires.

    `quantity`: thousandths of the base unit. `expires_on` None: that day plus the shelf life.
    """
    assert consumable.id is not None
    zone = shop_of(made.session).zone
    expires = _expires_on(expires_on, consumable, received)
    made.add(
        Movement(
            consumable_id=consumable.id,
            kind="receipt",
            quantity=quantity,
            cost_minor=cost_minor,
            at_us=made.now_us if received == today(made) else day_bounds_us(received, zone)[0],
            person_id=made.desk.person_id,
            supplier=supplier,
            expires_on=expires.isoformat() if expires else None,
        )
    )
    return expires


def typed_amount(consumable: Consumable, packs_text: str, quantity_text: str) -> int:
    """The amount typed in packs or in the base unit, in thousandths of that; BadInput for both or neither."""
    packs_typed, quantity_typed = packs_text.strip(), quantity_text.strip()
    if bool(packs_typed) == bool(quantity_typed):
        what = "both" if packs_typed else "neither"
        raise BadInput(f"Packs and amount: {what} was given.", "Give one of the two.")
    if quantity_typed:
        return read_field("quantity_text", read_quantity, quantity_typed, consumable.base_unit)
    quantity = consumable.pack_quantity * read_whole(packs_typed, "The number of packs", 1, MOST_PACKS)
    if quantity > MOST_UNITS * THOUSANDTHS:
        amount = show_quantity(quantity, consumable.base_unit)
        raise BadInput(f"{quoted(packs_text)} packs are {amount}.", "Look for a slip.")
    return quantity


def _received_on(text: str, now: date) -> date:
    day = read_day(text, now, "The date")
    if day is None:
        return now
    if day > now:
        raise BadInput(f"The date {day} is still to come.", "Give the day on which it arrived.")
    if day.year < FIRST_YEAR:
        raise BadInput(f"The date {day} is too long ago.", f"Give a year from {FIRST_YEAR}.")
    return day


def _expires_on(day: date | None, consumable: Consumable, received: date) -> date | None:
    if day is None:
        shelf_life = consumable.shelf_life_days
        return None if shelf_life is None else received + timedelta(days=shelf_life)
    if not received <= day <= date(LAST_YEAR, 12, 31):
        raise BadInput(
            f"The expiry {day} does not follow the day it arrived, {received}.",
            "Look at the label again.",
            field="expires_text",
        )
    return day


def _count_up(made: Change, consumable_id: int, quantity: int, reason: str, field: str) -> None:
    newest = _newest_receipt(made.session, consumable_id)
    cost = 0
    if newest is not None:
        # Half a minor unit upwards, as when stock is drawn.
        cost = (2 * newest.cost_minor * quantity + newest.quantity) // (2 * newest.quantity)
    if cost > MOST_MINOR:
        raise BadInput(
            "At the newest receipt's price this would be worth too much.",
            "Look for a slip.",
            field=field,
        )
    made.add(
        Movement(
            consumable_id=consumable_id,
            kind="count",
            quantity=quantity,
            cost_minor=cost,
            at_us=made.now_us,
            person_id=made.desk.person_id,
            expires_on=newest.expires_on if newest else None,
            reason=reason,
        )
    )


def _newest_receipt(session: Session, consumable_id: int) -> Movement | None:
    taken_back = select(Movement.reverses_id).where(col(Movement.reverses_id).is_not(None))
    statement = (
        select(Movement)
        .where(
            Movement.consumable_id == consumable_id,
            Movement.kind == "receipt",
            col(Movement.id).not_in(taken_back),
        )
        .order_by(col(Movement.at_us).desc(), col(Movement.id).desc())
        .limit(1)
    )
    return session.exec(statement).first()


def _line(made: Change, consumable_id: int) -> StockLine:
    made.session.flush()
    return stock_lines(plain_connection(made.session), made.now_us, consumable_id)[0]
