"""Offers: units looked at before paying are kept with all that was typed, and bought or declined."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.money import read_money, show_money
from bench.domain.offers import (
    BOUGHT,
    DECLINED,
    OPEN,
    STATES,
    OfferTyped,
    findings_in,
    findings_note,
    keep_findings,
)
from bench.domain.percent import read_percent, show_percent
from bench.domain.text import clean_line, clean_note
from bench.domain.typed import TypedFields, read_field
from bench.domain.unit_money import fee_minor
from bench.errors import Refused
from bench.store.tables import Channel, Purchase, Route, Unit
from bench.store.tables import Offer as OfferRow
from bench.work.change import Change, change, together
from bench.work.known_already import reason_again
from bench.work.lookups import shop_of
from bench.work.names import tells_if_changed
from bench.work.parties import party_within
from bench.work.purchases import day_or_today
from bench.work.units import UnitAdded, add_within


def save_offer(desk: Desk, typed: OfferTyped) -> int:
    """Keep what was seen of a unit before paying; answers the offer's number. BadInput for what is amiss."""
    with change(desk, "offer") as made:
        offer = OfferRow(at_us=made.now_us, model="", expected_minor=0)
        _fill(made, offer, typed)
        made.add(offer)
        assert offer.id is not None
        made.tells(f"Looked at {_name(offer)}, offer {offer.id}")
        return offer.id


def edit_offer(desk: Desk, offer_id: int, typed: OfferTyped) -> None:
    """Set an open offer right; what is typed replaces what was."""
    with change(desk, "edit offer") as made:
        offer = _open_offer(made, offer_id)
        _fill(made, offer, typed)
        tells_if_changed(made, f"Edited offer {offer_id}, {_name(offer)}")


def leave_offer(desk: Desk, offer_id: int, reason: str = "") -> None:
    """Walk away from an offer; it stays to be read."""
    with change(desk, "leave offer") as made:
        offer = _open_offer(made, offer_id)
        offer.state = DECLINED
        why = read_field("reason", clean_line, reason, "The reason", allow_empty=True)
        made.tells(f"Left offer {offer_id}, {_name(offer)}", reason=why)


def keep_and_leave(desk: Desk, offer_id: int | None, typed: OfferTyped, reason: str = "") -> int:
    """Put an offer down (None) or set it right, and walk away from it: both or neither. Its number."""
    with together(desk) as joint:
        if offer_id is None:
            offer_id = save_offer(joint, typed)
        else:
            edit_offer(joint, offer_id, typed)
        leave_offer(joint, offer_id, reason)
        return offer_id


def buy_offer(
    desk: Desk,
    offer_id: int,
    *,
    price_text: str,
    premium_text: str | None = None,
    freight_text: str | None = None,
    shipping_text: str | None = None,
    tag_text: str = "",
    due_text: str = "",
    bought_on_text: str = "",
    invoice: str = "",
    again: str = "",
) -> UnitAdded:
    """Buy what was looked at: it goes into the queue with all that was typed, the findings in its note.

    `price_text`: without the buyer's premium, which goes on top of it. `premium_text` in percent,
    `freight_text`, `shipping_text` to its buyer: None takes what the offer knows, empty is not typed.
    An empty day is today. BadInput for what cannot be read, Refused for an offer bought or left already.
    """
    with change(desk, "buy") as made:
        offer = _open_offer(made, offer_id)
        currency, fields = shop_of(made.session).currency, TypedFields()
        paid = fields.read("price_text", read_money, price_text, currency)
        _fill_extras(
            offer,
            fields,
            currency,
            premium_text=premium_text,
            freight_text=freight_text,
            shipping_text=shipping_text,
        )
        bought_on = fields.read("bought_on_text", day_or_today, made, bought_on_text, "The day of purchase")
        number = fields.read("invoice", clean_line, invoice, "The invoice number", allow_empty=True)
        added = fields.read(
            "",
            add_within,
            made,
            maker=offer.maker,
            model=offer.model,
            serial=offer.serial,
            route_id=_route_kept(made, offer),
            note="\n".join(part for part in (offer.note, findings_note(findings_in(offer.findings))) if part),
            due_text=due_text,
            tag_text=tag_text,
            again=again,
        )
        fields.check()
        premium = fee_minor(paid, offer.premium_per_10000 or 0, 0)
        paid += premium
        made.get(Unit, added.unit_id, "unit").price_minor = paid
        made.add(
            Purchase(
                unit_id=added.unit_id,
                party_id=offer.party_id,
                bought_on=bought_on.isoformat(),
                invoice=number,
                expected_minor=offer.expected_minor,
                premium_minor=premium,
                freight_minor=offer.freight_minor or 0,
                shipping_minor=offer.shipping_minor,
            )
        )
        offer.state, offer.unit_id = BOUGHT, added.unit_id
        price = show_money(paid, currency)
        with_it = f" with {show_percent(offer.premium_per_10000 or 0)} premium" if premium else ""
        words = f"Bought {_name(offer)} for {price}{with_it} as {added.tag}"
        made.tells(words, unit_id=added.unit_id, reason=reason_again(again))
        return added


def _open_offer(made: Change, offer_id: int) -> OfferRow:
    offer = made.get(OfferRow, offer_id, "offer")
    if offer.state != OPEN:
        raise Refused(f"Offer {offer_id} is {STATES[offer.state]} already.", "Make a new one, or undo that.")
    return offer


def _route_kept(made: Change, offer: OfferRow) -> int | None:
    """The offer's route, unless it was removed since: the unit then comes without tasks."""
    route = made.session.get(Route, offer.route_id) if offer.route_id is not None else None
    return route.id if route is not None and not route.removed else None


def _fill(made: Change, offer: OfferRow, typed: OfferTyped) -> None:
    currency = shop_of(made.session).currency
    if typed.route_id is not None:
        made.get(Route, typed.route_id, "route")
    if typed.channel_id is not None:
        made.get(Channel, typed.channel_id, "channel")
    fields, parts = TypedFields(), typed.parts_text.strip()
    party_id = fields.read("name", party_within, made, typed.seller)
    offer.maker = fields.read("maker", clean_line, typed.maker, "The maker", allow_empty=True)
    offer.model = fields.read("model", clean_line, typed.model, "The model")
    offer.serial = fields.read("serial", clean_line, typed.serial, "The serial number", allow_empty=True)
    offer.note = fields.read("note", clean_note, typed.note, "The note")
    offer.route_id, offer.channel_id = typed.route_id, typed.channel_id
    offer.asking_minor = fields.read("asking_text", _amount, typed.asking_text, currency)
    offer.expected_minor = fields.read("expected_text", read_money, typed.expected_text, currency)
    offer.parts_minor = fields.read("parts_text", read_money, parts, currency) if parts else 0
    _fill_extras(
        offer,
        fields,
        currency,
        premium_text=typed.premium_text,
        freight_text=typed.freight_text,
        shipping_text=typed.shipping_text,
    )
    offer.findings = fields.read("", keep_findings, typed.findings)
    offer.party_id = party_id or offer.party_id
    fields.check()


def _fill_extras(
    offer: OfferRow,
    fields: TypedFields,
    currency: str,
    *,
    premium_text: str | None,
    freight_text: str | None,
    shipping_text: str | None,
) -> None:
    """What a purchase takes besides its price. None leaves a field as it is, empty makes it not typed."""
    if premium_text is not None:
        offer.premium_per_10000 = fields.read("premium_text", _share, premium_text)
    if freight_text is not None:
        offer.freight_minor = fields.read("freight_text", _amount, freight_text, currency)
    if shipping_text is not None:
        offer.shipping_minor = fields.read("shipping_text", _amount, shipping_text, currency)


def _share(text: str) -> int | None:
    return read_percent(text, "The buyer's premium") if text.strip() else None


def _amount(text: str, currency: str) -> int | None:
    return read_money(text, currency) if text.strip() else None


def _name(offer: OfferRow) -> str:
    return f"{offer.maker} {offer.model}".strip()
