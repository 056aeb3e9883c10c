"""Where a unit comes from, and what is expected of it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from bench.desk import Desk
from bench.domain.amounts import Minor
from bench.domain.offers import Finding, findings_in
from bench.domain.selling import hold_ends
from bench.domain.weeks import local_day
from bench.views.binder import Query
from bench.views.particulars import no_such_unit
from bench.views.shop import facts
from bench.views.trade import settings


@dataclass(frozen=True, slots=True)
class UnitPurchase:
    """Where a unit comes from and what is expected of it. Money in minor units of `currency`.

    `price_minor`: what was paid, or its share of the lot. `premium_minor`: how much of
    it is a buyer's premium; `freight_minor`: paid on top. `shipping_minor`: to its buyer, expected; None: not
    typed. `free_from`: the first day on which it may be
    altered or sold, while its waiting period is not over. `findings`: seen at the seller's table, where it
    was looked at before; empty otherwise.
    """

    unit_id: int
    tag: str
    price_minor: Minor | None
    bought_on: date | None
    free_from: date | None
    invoice: str
    party_id: int | None
    seller: str
    lot_id: int | None
    lot: str
    donor: bool
    expected_minor: Minor | None
    offer_id: int | None
    findings: tuple[Finding, ...]
    currency: str
    premium_minor: Minor = 0
    freight_minor: Minor = 0
    shipping_minor: Minor | None = None


# Until when the waiting period lasts is worked out after.
_PURCHASE = Query(
    UnitPurchase,
    """
SELECT unit.id AS unit_id, unit.tag, unit.price_minor, purchase.bought_on,
       NULL AS free_from,
       COALESCE(purchase.invoice, '') AS invoice, purchase.party_id, COALESCE(party.name, '') AS seller,
       purchase.lot_id, COALESCE(lot.name, '') AS lot, COALESCE(purchase.donor, 0) AS donor,
       COALESCE(purchase.premium_minor, 0) AS premium_minor,
       COALESCE(purchase.freight_minor, 0) AS freight_minor, purchase.shipping_minor,
       purchase.expected_minor, offer.id AS offer_id, COALESCE(offer.findings, '') AS findings, shop.currency
FROM unit CROSS JOIN shop
LEFT JOIN purchase ON purchase.unit_id = unit.id LEFT JOIN party ON party.id = purchase.party_id
LEFT JOIN lot ON lot.id = purchase.lot_id
LEFT JOIN offer ON offer.unit_id = unit.id AND offer.removed = 0
WHERE unit.id = :unit_id AND unit.removed = 0
""",
    findings=lambda kept: findings_in(kept) if kept else (),
)


def read_purchase(desk: Desk, unit_id: int) -> UnitPurchase:
    """Where a unit comes from. NotFound when there is no such unit."""
    with desk.store.read() as connection:
        purchase = _PURCHASE.first(connection, unit_id=unit_id)
        hold_days, zone = settings(connection).hold_days, facts(connection).zone
    if purchase is None:
        raise no_such_unit(unit_id)
    free_from = hold_ends(purchase.bought_on, hold_days)
    over = free_from is not None and free_from <= local_day(desk.clock.now_us(), zone)
    return replace(purchase, free_from=None if over else free_from)
