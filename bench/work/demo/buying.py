"""The demo's purchases, lots and offers as rows."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass, field

from bench.domain.durations import HOUR_US, MINUTE_US
from bench.domain.offers import BOUGHT, DECLINED, findings_in, findings_note
from bench.domain.percent import read_percent
from bench.domain.tags import tag_from_number
from bench.domain.weeks import local_day
from bench.store.demo_data import DemoUnit
from bench.store.demo_trade import DemoOffer
from bench.store.tables import Lot, Offer, Purchase
from bench.work.demo.ground import Ground, Line
from bench.work.demo.story import Moments
from bench.work.demo.terms import units_of_lot

LOOKED_AT_US = 35 * MINUTE_US  # before it was bought
LEFT_AFTER_US = 20 * MINUTE_US


@dataclass
class BuyingRows:
    """Lots, purchases and offers, and the journal's lines about them."""

    lots: list[Lot] = field(default_factory=list)
    purchases: list[Purchase] = field(default_factory=list)
    offers: list[Offer] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)


def buying_rows(ground: Ground, moments: Moments) -> BuyingRows:
    """Rows of all that was bought or looked at."""
    rows = BuyingRows()
    lots = {lot["name"]: number for number, lot in enumerate(ground.demo.trade.lots, start=1)}
    rows.lots += [_lot(ground, moments, number) for number in lots.values()]
    for number, one in ground.demo.trade.purchases.items():
        rows.purchases.append(
            Purchase(
                unit_id=ground.unit_ids[number],
                lot_id=lots.get(one.lot),
                party_id=ground.terms.parties[one.seller],
                bought_on=_day(ground, moments, number),
                invoice=one.invoice,
                expected_minor=ground.terms.money(one.expected),
                donor=int(one.donor == "yes"),
                freight_minor=ground.terms.freights.get(number, 0),
            )
        )
    seen = sorted(_seen(ground, moments), key=lambda seen: seen[0])
    for offer_id, (at_us, offer) in enumerate(seen, start=1):
        rows.offers.append(_offer(ground, offer, offer_id, at_us))
        rows.lines += _offer_lines(ground, offer, offer_id, at_us)
    rows.lines += _lines(ground, moments)
    return rows


def note_of(ground: Ground, unit: DemoUnit) -> str:
    """A unit's note: with it, what was found before it was bought."""
    offer = _offer_of(ground, unit.number)
    if offer is None:
        return unit.note
    found = findings_note(findings_in(json.dumps(offer.findings)))
    return "\n".join(part for part in (offer.note, found) if part)


def _lot(ground: Ground, moments: Moments, lot_id: int) -> Lot:
    lot = ground.demo.trade.lots[lot_id - 1]
    return Lot(
        id=lot_id,
        name=lot["name"],
        price_minor=ground.terms.money(lot["price"]),
        freight_minor=ground.terms.money(lot["freight"]),
        bought_on=_day(ground, moments, units_of_lot(ground.demo.trade, lot["name"])[0]),
        party_id=ground.terms.parties[lot["seller"]],
        note=lot["note"],
    )


def _lines(ground: Ground, moments: Moments) -> Iterator[Line]:
    """How each unit came in, as the use case that brought it tells it."""
    terms, trade = ground.terms, ground.demo.trade
    for unit in ground.demo.units:
        came, tag = moments.came(unit.number), tag_from_number(unit.number)
        unit_id, purchase = ground.unit_ids[unit.number], trade.purchases.get(unit.number)
        name = f"{unit.maker} {unit.model}"
        if purchase is not None and purchase.lot:
            continue
        if _offer_of(ground, unit.number) is not None:
            words = f"Bought {name} for {terms.shown(terms.prices[unit.number] or 0)} as {tag}"
            yield Line(came.at_us, came.who, "buy", words, unit_id)
            continue
        yield Line(came.at_us, came.who, "add unit", f"Added {tag} {name}", unit_id)
        if purchase is not None:
            yield Line(came.at_us, came.who, "purchase", f"Corrected where {tag} comes from", unit_id)
    for lot in trade.lots:
        numbers = units_of_lot(trade, lot["name"])
        came = moments.came(numbers[0])
        shares = [f"{tag_from_number(one)} {terms.shown(terms.prices[one] or 0)}" for one in numbers]
        price = terms.shown(terms.money(lot["price"]))
        words = f"Bought lot {lot['name']} for {price}: {', '.join(shares)}"
        yield Line(came.at_us, came.who, "buy lot", words)


def _seen(ground: Ground, moments: Moments) -> Iterator[tuple[int, DemoOffer]]:
    for one in ground.demo.trade.offers:
        if one.unit:
            yield moments.came(one.unit).at_us - LOOKED_AT_US, one
        else:
            yield ground.now_us - one.hours_ago * HOUR_US, one


def _offer(ground: Ground, one: DemoOffer, offer_id: int, at_us: int) -> Offer:
    unit, terms = ground.units.get(one.unit), ground.terms
    return Offer(
        id=offer_id,
        at_us=at_us,
        maker=unit.maker if unit else one.maker,
        model=unit.model if unit else one.model,
        serial=unit.serial if unit else one.serial,
        note=one.note,
        route_id=ground.routes[one.route],
        channel_id=terms.channels[one.channel].id,
        party_id=terms.parties[one.seller],
        asking_minor=terms.money(one.asking),
        expected_minor=terms.money(one.expected),
        parts_minor=terms.money(one.parts),
        premium_per_10000=read_percent(one.premium, "The premium") if one.premium else None,
        freight_minor=terms.money(one.freight) if one.freight else None,
        shipping_minor=terms.money(one.shipping) if one.shipping else None,
        findings=json.dumps(one.findings, ensure_ascii=False),
        state=one.state,
        unit_id=ground.unit_ids[one.unit] if one.state == BOUGHT else None,
    )


def _offer_lines(ground: Ground, one: DemoOffer, offer_id: int, at_us: int) -> Iterator[Line]:
    unit = ground.units.get(one.unit)
    name = f"{unit.maker} {unit.model}" if unit else f"{one.maker} {one.model}"
    yield Line(at_us, one.who, "offer", f"Looked at {name}, offer {offer_id}")
    if one.state == DECLINED:
        at_us += LEFT_AFTER_US
        yield Line(at_us, one.who, "leave offer", f"Left offer {offer_id}, {name}", reason=one.reason)


def _offer_of(ground: Ground, number: int) -> DemoOffer | None:
    return next((one for one in ground.demo.trade.offers if one.unit == number), None)


def _day(ground: Ground, moments: Moments, number: int) -> str:
    return local_day(moments.came(number).at_us, ground.demo.zone).isoformat()
