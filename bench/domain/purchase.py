"""How a unit came to the shop, as it is shown."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bench.domain.offers import Finding


@dataclass(frozen=True, slots=True)
class UnitPurchase:
    """Where a unit comes from and what is expected of it. Money in minor units of `currency`.

    `price_minor`: what was paid, or its share of the lot. `premium_minor`: how much of
    it is a buyer's premium; `freight_minor`: paid on top. `shipping_minor`: to its buyer, expected; None: not
    typed. `free_from`: the first day on which it may be
    altered or sold, while its hold period is not over. `findings`: seen at the seller's table, where it
    was looked at before; empty otherwise.
    """

    unit_id: int
    tag: str
    price_minor: int | None
    bought_on: date | None
    free_from: date | None
    invoice: str
    party_id: int | None
    seller: str
    lot_id: int | None
    lot: str
    donor: bool
    expected_minor: int | None
    offer_id: int | None
    findings: tuple[Finding, ...]
    currency: str
    premium_minor: int = 0
    freight_minor: int = 0
    shipping_minor: int | None = None
