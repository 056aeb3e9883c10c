"""A unit is sold: price, fee, tax, buyer and warranty in one step, and its way out of the queue."""

from __future__ import annotations

from datetime import date

from sqlmodel import col, select

from bench.desk import Desk
from bench.domain.dates import read_day
from bench.domain.margin_tax import margin_tax_minor
from bench.domain.money import money_or, read_money, show_money
from bench.domain.party import PartyTyped
from bench.domain.safety import FINDINGS
from bench.domain.selling import Sold, warranty_until
from bench.domain.text import clean_line, clean_note
from bench.domain.typed import TypedFields, read_field, read_whole
from bench.domain.unit_money import fee_minor
from bench.domain.ways_out import PARTS, SCRAPPED, SOLD, WORDS
from bench.errors import BadInput, CellAlarm, NotFound, Refused
from bench.store.tables import Channel, Purchase, Sale, Trade, Unit
from bench.work.change import Change, change
from bench.work.gates import may_alter, may_be_sold
from bench.work.lookups import shop_of, stages_in_order, today
from bench.work.moves import Moved, OpenTasks, move_within
from bench.work.names import tells_if_changed
from bench.work.parties import party_within
from bench.work.standing import is_out, is_sold, last_sale, not_an_owners, way_out
from bench.work.trade import MOST_WARRANTY_DAYS, trade_of


def sell_unit(
    desk: Desk,
    unit_id: int,
    *,
    price_text: str,
    channel_id: int | None = None,
    buyer_name: str = "",
    buyer_address: str = "",
    buyer_contact: str = "",
    private: bool = True,
    sold_on_text: str = "",
    shipping_text: str = "",
    invoice: str = "",
    warranty_days_text: str = "",
    note: str = "",
    open_tasks: OpenTasks = "ask",
    reason: str = "",
) -> Sold:
    """Sell a unit and move it to the final stage, through every gate of a move.

    `shipping_text`: what the shop pays to send it, 0 for nothing; nothing typed is not known. `note`: what
    goes along, such as a charger; it is erased with the buyer's data. An empty day is today, an empty
    warranty the shop's. The fee is the channel's, the tax that on the margin where the shop has turned it
    on. Raises TasksOpen, ClosingFirst, Refused as a move does; Refused when it is sold already.
    """
    with change(desk, "sell") as made:
        unit = made.get(Unit, unit_id, "unit")
        _not_sold(made, unit)
        may_alter(made, unit)
        currency = shop_of(made.session).currency
        trade = trade_of(made)
        buyer = PartyTyped(buyer_name, buyer_address, buyer_contact, private=private)
        fields, shipping = TypedFields(), shipping_text.strip()
        price = fields.read("price_text", read_money, price_text, currency)
        sent_minor = fields.read("shipping_text", read_money, shipping, currency) if shipping else None
        sold_on = fields.read("sold_on_text", _day_of_sale, made, unit, sold_on_text)
        days = fields.read("warranty_days_text", _warranty_days, trade, warranty_days_text)
        number = fields.read("invoice", clean_line, invoice, "The invoice", allow_empty=True)
        goes_along = fields.read("note", clean_note, note, "What goes along")
        party_id = fields.read("name", party_within, made, buyer)
        fields.check()
        sale = Sale(
            unit_id=unit_id,
            party_id=party_id,
            channel_id=channel_id,
            sold_on=sold_on.isoformat(),
            sold_us=made.now_us,
            person_id=desk.person_id,
            price_minor=price,
            fee_minor=_fee(made, channel_id, price),
            shipping_minor=sent_minor or 0,
            shipping_known=int(sent_minor is not None),
            tax_minor=_tax(trade, unit, price),
            invoice=number,
            note=goes_along,
        )
        until = warranty_until(sold_on, days)
        sale.warranty_until = until.isoformat() if until else None
        moved = _out(made, unit, open_tasks, reason)
        made.add(sale)
        made.tells(
            f"Sold {unit.tag} for {show_money(price, currency)}", unit_id=unit_id, reason=reason.strip()
        )
        assert sale.id is not None
        return Sold(
            sale_id=sale.id,
            unit_id=unit_id,
            tag=unit.tag,
            sold_on=sold_on,
            price_minor=price,
            fee_minor=sale.fee_minor,
            shipping_minor=sent_minor,
            tax_minor=sale.tax_minor,
            warranty_until=until,
            currency=currency,
            finished=moved.finished if moved else 0,
            skipped=moved.skipped if moved else 0,
            low=moved.low if moved else (),
        )


def set_shipping(desk: Desk, unit_id: int, shipping_text: str) -> None:
    """Type what sending a unit to its buyer cost, for its last sale; 0 for nothing, nothing for not known.

    NotFound for a unit that was never sold; BadInput for what cannot be read.
    """
    with change(desk, "shipping") as made:
        unit = made.get(Unit, unit_id, "unit")
        sale = last_sale(made, unit_id)
        if sale is None:
            raise NotFound(f"Unit {unit.tag} was never sold.", "Record its sale first.")
        currency = shop_of(made.session).currency
        shipping = shipping_text.strip()
        sent = read_field("shipping_text", read_money, shipping, currency) if shipping else None
        sale.shipping_known, sale.shipping_minor = int(sent is not None), sent or 0
        tells_if_changed(made, f"Shipping of {unit.tag}: {money_or(sent, currency, 'not known')}", unit_id)


def set_shipping_through(desk: Desk, channel_id: int | None, shipping_text: str) -> int:
    """Type what sending took, for every sale through a channel of which it is not known; answers how many.

    As of sales kept by an older program, which wrote 0 whether that was typed or nothing was. None: sales
    without a channel. NotFound where there is no such sale; BadInput for what cannot be read.
    """
    with change(desk, "shipping") as made:
        currency = shop_of(made.session).currency
        through = "no channel" if channel_id is None else made.get(Channel, channel_id, "channel").name
        sent = read_field("shipping_text", read_money, shipping_text, currency)
        same = col(Sale.channel_id).is_not_distinct_from(channel_id)
        sales = made.session.exec(select(Sale).where(same, Sale.shipping_known == 0, Sale.removed == 0)).all()
        if not sales:
            raise NotFound(f"The shipping of every sale through {through} is known.", "Nothing is to type.")
        for sale in sales:
            sale.shipping_known, sale.shipping_minor = 1, sent
        words = f"Shipping of {len(sales)} sale{'' if len(sales) == 1 else 's'} through {through}"
        made.tells(f"{words}: {show_money(sent, currency)}")
        return len(sales)


def _not_sold(made: Change, unit: Unit) -> None:
    not_an_owners(unit)
    assert unit.id is not None
    sale = last_sale(made, unit.id)
    if sale is not None and is_sold(made, unit):
        raise Refused(
            f"Unit {unit.tag} was sold already, on {sale.sold_on}.",
            "Hand it back to its buyer; if the sale is undone, record the refund on its return first.",
        )


def _day_of_sale(made: Change, unit: Unit, text: str) -> date:
    now = today(made)
    day = read_day(text, now, "The day of the sale") or now
    bought_on = made.session.exec(select(Purchase.bought_on).where(Purchase.unit_id == unit.id)).first()
    if day > now:
        raise BadInput(f"The day of the sale, {day}, is still to come.", "Record the sale when it is made.")
    if bought_on and day.isoformat() < bought_on:
        raise BadInput(
            f"Unit {unit.tag} was bought on {bought_on}, after that day.", "Correct the day of the sale."
        )
    return day


def _fee(made: Change, channel_id: int | None, price_minor: int) -> int:
    if channel_id is None:
        return 0
    channel = made.get(Channel, channel_id, "channel")
    return fee_minor(price_minor, channel.fee_per_10000, channel.fee_fixed_minor)


def _tax(trade: Trade, unit: Unit, price_minor: int) -> int:
    if not trade.margin_scheme:
        return 0
    return margin_tax_minor(unit.price_minor or 0, price_minor, trade.margin_tax_per_10000)


def _warranty_days(trade: Trade, text: str) -> int:
    if not text.strip():
        return trade.warranty_days
    return read_whole(text, "The warranty in days", 0, MOST_WARRANTY_DAYS)


def _out(made: Change, unit: Unit, open_tasks: OpenTasks, reason: str) -> Moved | None:
    """The way out of the queue; None for a unit that was moved out before its sale was recorded."""
    if unit.cell_finding is not None:
        raise CellAlarm(
            f"Unit {unit.tag} has {FINDINGS[unit.cell_finding]} on record: it is not sold.",
            "Keep it apart; clear the finding with a reason when it is dealt with.",
        )
    if is_out(made, unit):
        _sold_where_it_is(made, unit)
        return None
    final = next((stage for stage in stages_in_order(made.session) if stage.final and stage.sells), None)
    if final is None:
        raise Refused("The shop has no stage at which units leave sold.", "Mark one in the settings first.")
    return move_within(made, unit, final, open_tasks=open_tasks, reason=reason, way=SOLD)


def _sold_where_it_is(made: Change, unit: Unit) -> None:
    """Note as sold what was moved out before, or kept for the shop; not what is scrapped or in parts."""
    out = way_out(made, unit)
    if out is None:
        return
    if out.way in (SCRAPPED, PARTS):
        raise Refused(f"Unit {unit.tag} was {WORDS[out.way]}.", "Move it back to a stage first.")
    if out.way != SOLD:
        may_be_sold(made.session, unit)
    out.way = SOLD
