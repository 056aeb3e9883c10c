"""Offers: units looked at before paying."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.amounts import Instant, Minor
from bench.domain.offers import OPEN, Finding, findings_in
from bench.errors import NotFound
from bench.views.binder import Query


@dataclass(frozen=True, slots=True)
class Offer:
    """A unit looked at before paying. Money in minor units of `currency`; `asking_minor`: the seller's price.

    `premium_per_10000`: a buyer's premium on the price. `freight_minor`: to bring it here. `shipping_minor`:
    to send it to its buyer. None of these three: not typed. `state`: open, bought or left. `tag` names the
    unit it became.
    """

    offer_id: int
    at_us: Instant
    maker: str
    model: str
    serial: str
    note: str
    route_id: int | None
    route: str
    channel_id: int | None
    channel: str
    party_id: int | None
    seller: str
    asking_minor: Minor | None
    expected_minor: Minor
    parts_minor: Minor
    findings: tuple[Finding, ...]
    state: str
    unit_id: int | None
    tag: str
    currency: str
    zone: str
    premium_per_10000: int | None = None
    freight_minor: Minor | None = None
    shipping_minor: Minor | None = None


_OFFER = """
SELECT offer.id AS offer_id, offer.at_us, offer.maker, offer.model, offer.serial, offer.note,
       offer.route_id, COALESCE(route.name, '') AS route, offer.channel_id,
       COALESCE(channel.name, '') AS channel, offer.party_id, COALESCE(party.name, '') AS seller,
       offer.asking_minor, offer.expected_minor, offer.parts_minor, offer.findings,
       CASE offer.state WHEN 'left' THEN 'declined' ELSE offer.state END AS state,
       offer.unit_id, COALESCE(unit.tag, '') AS tag, shop.currency, shop.zone,
       offer.premium_per_10000, offer.freight_minor, offer.shipping_minor
FROM offer CROSS JOIN shop LEFT JOIN route ON route.id = offer.route_id
LEFT JOIN channel ON channel.id = offer.channel_id LEFT JOIN party ON party.id = offer.party_id
LEFT JOIN unit ON unit.id = offer.unit_id
WHERE offer.removed = 0 AND {which} ORDER BY offer.at_us DESC, offer.id DESC
"""
_OFFERS = Query(Offer, _OFFER.replace("{which}", "TRUE"), findings=findings_in)
_OFFERS_IN = Query(Offer, _OFFER.replace("{which}", "offer.state = :state"), findings=findings_in)
_ONE = Query(Offer, _OFFER.replace("{which}", "offer.id = :offer_id"), findings=findings_in)


def read_offers(desk: Desk, state: str | None = OPEN) -> tuple[Offer, ...]:
    """The offers in that state (open, bought, left), or all for None, the newest first."""
    with desk.store.read() as connection:
        return _OFFERS_IN.all(connection, state=state) if state else _OFFERS.all(connection)


def read_offer(desk: Desk, offer_id: int) -> Offer:
    """One offer. NotFound when there is none of that number."""
    with desk.store.read() as connection:
        return offer(connection, offer_id)


def offer(connection: sqlite3.Connection, offer_id: int) -> Offer:
    """The same, within a snapshot that other reads share."""
    found = _ONE.first(connection, offer_id=offer_id)
    if found is None:
        raise NotFound(f"There is no offer with number {offer_id}.", "It may have been undone.")
    return found
