"""Lots are bought and shared again, and units of them are kept for their parts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sqlmodel import col, select

from bench.desk import Desk
from bench.domain.lots import (
    DonorMade,
    LotBought,
    LotPart,
    LotReshared,
    LotUnit,
    Share,
    lot_weights,
    share_lot,
)
from bench.domain.money import read_money, show_money
from bench.domain.party import PartyTyped
from bench.domain.text import clean_line, clean_note
from bench.domain.typed import TypedFields
from bench.domain.ways_out import SOLD
from bench.errors import BadInput, Refused
from bench.store.tables import Lot, Purchase, Sale, Stage, Unit
from bench.work.change import Change, change
from bench.work.known_already import reason_again
from bench.work.lookups import shop_of
from bench.work.names import tells_if_changed
from bench.work.part_rules import covers_parts_out
from bench.work.parties import party_within
from bench.work.purchases import day_or_today, purchase_of
from bench.work.standing import not_an_owners, way_out
from bench.work.units import add_within


def buy_lot(
    desk: Desk,
    *,
    name: str,
    price_text: str,
    units: Sequence[LotUnit],
    seller: PartyTyped | None = None,
    bought_on_text: str = "",
    invoice: str = "",
    note: str = "",
    premium_text: str = "",
    freight_text: str = "",
    again: str = "",
) -> LotBought:
    """Put the units of a lot into the queue, each with its share of the one price.

    Shared by what each is expected to sell for; a donor counts 0 unless something is typed. BadInput where
    only some of the others have an expected price: give each one, or none for equal parts.
    `premium_text`: a buyer's premium on the price, a part of what is paid for the goods. `freight_text`: what
    bringing it here cost, paid to others. Both are shared like the price; nothing typed is none.
    """
    with change(desk, "buy lot") as made:
        currency = shop_of(made.session).currency
        fields = TypedFields()
        called = fields.read("name_of_lot", clean_line, name, "The lot's name")
        price = fields.read("price_text", read_money, price_text, currency)
        premium = _extra(fields, "premium_text", premium_text, currency)
        freight = _extra(fields, "freight_text", freight_text, currency)
        bought = fields.read("bought_on_text", day_or_today, made, bought_on_text, "The day of purchase")
        number = fields.read("invoice", clean_line, invoice, "The invoice number", allow_empty=True)
        words_kept = fields.read("note", clean_note, note, "The note")
        expected = fields.read("", _expected, units, currency)
        party_id = fields.read("name", party_within, made, seller)
        fields.check()
        bought_on = bought.isoformat()
        weights = lot_weights(expected, [unit.donor for unit in units])
        price += premium
        shares = _shares(price, premium, freight, weights)
        lot = made.add(
            Lot(
                name=called,
                price_minor=price,
                premium_minor=premium,
                freight_minor=freight,
                bought_on=bought_on,
                party_id=party_id,
                note=words_kept,
            )
        )
        assert lot.id is not None
        told = []
        for line, (unit, part, value) in enumerate(zip(units, shares, expected, strict=True), 1):
            with fields.line(line):
                added = add_within(
                    made,
                    maker=unit.maker,
                    model=unit.model,
                    serial=unit.serial,
                    route_id=unit.route_id,
                    note=unit.note,
                    tag_text=unit.tag_text,
                    again=again,
                )
                made.get(Unit, added.unit_id, "unit").price_minor = part.price_minor
                made.add(
                    Purchase(
                        unit_id=added.unit_id,
                        lot_id=lot.id,
                        party_id=party_id,
                        bought_on=bought_on,
                        invoice=number,
                        expected_minor=value,
                        donor=int(unit.donor),
                        premium_minor=part.premium_minor,
                        freight_minor=part.freight_minor,
                    )
                )
                told.append(Share(added.unit_id, added.tag, 0, part.price_minor))
        fields.check()
        words = ", ".join(f"{one.tag} {show_money(one.new_minor, currency)}" for one in told)
        told_words = f"Bought lot {lot.name} for {show_money(price, currency)}: {words}"
        made.tells(told_words, reason=reason_again(again))
        return LotBought(lot.id, lot.name, price, tuple(told), currency)


def _extra(fields: TypedFields, field: str, text: str, currency: str) -> int:
    return fields.read(field, read_money, text, currency) if text.strip() else 0


def _shares(price: int, premium: int, freight: int, weights: Sequence[int]) -> list[LotPart]:
    """Each unit's part of a lot's price, the premium in it and the freight on top, adding up exactly."""
    premiums = share_lot(premium, weights)
    bare, freights = share_lot(price - premium, weights), share_lot(freight, weights)
    return [LotPart(one + more, more, sent) for one, more, sent in zip(bare, premiums, freights, strict=True)]


def reshare_lot(desk: Desk, lot_id: int, *, expected: Mapping[int, str] | None = None) -> LotReshared:
    """Share a lot's price again, to the last minor unit. `expected`: unit to what is expected of it now.

    A unit already sold keeps its share: it stands so in the register. Refused where nothing is left to
    share, or where parts have carried more cost away from a unit than its new share.
    """
    with change(desk, "share lot") as made:
        lot = made.get(Lot, lot_id, "lot")
        currency = shop_of(made.session).currency
        fields = TypedFields()
        for unit_id, text in (expected or {}).items():
            purchase = _purchase_in(made, lot, unit_id)
            typed = text.strip()
            worth = fields.read(f"expected_{unit_id}", read_money, typed, currency) if typed else None
            purchase.expected_minor = worth
        fields.check()
        shares = share_again(made, lot)
        tells_if_changed(made, f"Shared lot {lot.name} again: {old_and_new(shares, currency)}")
        return LotReshared(lot_id, lot.name, lot.price_minor, shares, currency)


def share_again(made: Change, lot: Lot) -> tuple[Share, ...]:
    """Share a lot again inside a transaction that does more; every unit's share before and after."""
    made.session.flush()
    rows = _units_of(made, lot)
    free = [(unit, purchase) for unit, purchase in rows if not _is_sold(made, unit)]
    if not free:
        raise Refused(f"Every unit of the lot {lot.name} has been sold.", "Their shares stand as they are.")
    sold = [(unit, purchase) for unit, purchase in rows if _is_sold(made, unit)]
    parts = _shares(
        lot.price_minor - sum(unit.price_minor or 0 for unit, _ in sold),
        lot.premium_minor - sum(purchase.premium_minor for _, purchase in sold),
        lot.freight_minor - sum(purchase.freight_minor for _, purchase in sold),
        _weights(free),
    )
    new = {unit.id: part for (unit, _), part in zip(free, parts, strict=True)}
    shares = []
    for unit, purchase in rows:
        assert unit.id is not None
        old = unit.price_minor or 0
        part = new.get(unit.id)
        if part is not None:
            unit.price_minor = part.price_minor
            purchase.premium_minor, purchase.freight_minor = part.premium_minor, part.freight_minor
            covers_parts_out(made, unit)
        shares.append(Share(unit.id, unit.tag, old, unit.price_minor or 0))
    return tuple(shares)


def _weights(free: Sequence[tuple[Unit, Purchase]]) -> tuple[int, ...]:
    expected = [purchase.expected_minor for _, purchase in free]
    donors = [bool(purchase.donor) for _, purchase in free]
    unknown = [unit.tag for unit, purchase in free if not purchase.donor and purchase.expected_minor is None]
    if unknown and any(expected):
        raise BadInput(
            f"Of {', '.join(unknown)} no price is expected, of others there is.",
            "Type the expected price of each.",
        )
    return lot_weights(expected, donors)


def _units_of(made: Change, lot: Lot) -> list[tuple[Unit, Purchase]]:
    statement = (
        select(Unit, Purchase)
        .join(Purchase, col(Purchase.unit_id) == Unit.id)
        .where(Purchase.lot_id == lot.id, Unit.removed == 0)
        .order_by(col(Purchase.id))
    )
    return list(made.session.exec(statement))


def _is_sold(made: Change, unit: Unit) -> bool:
    """Whether its share stands: it was sold, or left as scrap, in parts or for the shop's use."""
    statement = select(Sale.id).where(Sale.unit_id == unit.id, Sale.removed == 0)
    out = way_out(made, unit)
    return made.session.exec(statement).first() is not None or (out is not None and out.way != SOLD)


def _purchase_in(made: Change, lot: Lot, unit_id: int) -> Purchase:
    unit = made.get(Unit, unit_id, "unit")
    purchase = purchase_of(made, unit_id)
    if purchase.lot_id != lot.id:
        raise BadInput(f"Unit {unit.tag} is not of the lot {lot.name}.", "Name one of its own units.")
    if _is_sold(made, unit):
        raise Refused(f"Unit {unit.tag} has been sold and keeps its share.", "Leave it out.")
    return purchase


def _expected(units: Sequence[LotUnit], currency: str) -> list[int | None]:
    """What is expected of each, None where nothing was typed: of all that are kept whole, or of none."""
    typed = [unit.expected_text.strip() for unit in units]
    whole = [text for unit, text in zip(units, typed, strict=True) if not unit.donor]
    if any(whole) and not all(whole):
        place = next(at for at, unit in enumerate(units) if not unit.donor and not typed[at])
        raise BadInput(
            f"Unit {place + 1} of the lot ({units[place].model}) has no expected price, others have.",
            "Give each one, or none for equal parts.",
            field=f"expected_text_{place + 1}",
        )
    fields = TypedFields()
    values = [
        fields.read(f"expected_text_{number}", read_money, text, currency) if text else None
        for number, text in enumerate(typed, 1)
    ]
    fields.check()
    return [0 if one is None and unit.donor else one for one, unit in zip(values, units, strict=True)]


def old_and_new(shares: Sequence[Share], currency: str) -> str:
    """Each unit's share before and after, as words for the journal."""
    return ", ".join(
        f"{one.tag} {show_money(one.old_minor, currency)} → {show_money(one.new_minor, currency)}"
        for one in shares
    )


def make_donor(desk: Desk, unit_id: int, *, expected_text: str = "", reshare: bool = False) -> DonorMade:
    """Keep a unit for its parts. No cost moves and the unit stays where it stands.

    `expected_text`: what its parts are worth, 0 when nothing is typed. `reshare`: its lot is shared again in
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
            shares = share_again(made, lot)
            words += f"; shared lot {lot.name} again: {old_and_new(shares, currency)}"
        made.tells(words, unit_id=unit_id)
        return DonorMade(unit_id, unit.tag, donor, purchase.expected_minor, purchase.lot_id, shares, currency)
