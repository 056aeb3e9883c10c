"""Offers, and the rows behind a line of a price, as tables."""

from __future__ import annotations

from bench.domain.offers import OPEN
from bench.domain.price_sheet import PriceRow
from bench.views.columns import Column, Table
from bench.views.kinds import COUNT, INSTANT, MONEY, MONEY_OR_LENGTH, SAID, SHARE, Said, figure_of
from bench.views.offers import Offer

EXTRAS_FROM = 90


def offered(offer: Offer) -> str:
    """The unit that is offered."""
    return f"{offer.maker} {offer.model}".strip()


def _state(offer: Offer) -> Said:
    if offer.state == OPEN:
        return Said("open")
    return Said(f"✓ {offer.tag}", "good") if offer.tag else Said(offer.state, "muted")


OFFERS = Table[Offer](
    "offers",
    "Offers",
    (
        Column("No.", "offer_id", COUNT, 3, from_width=70, look="muted"),
        Column("Seen", "at_us", INSTANT, from_width=112, look="muted"),
        Column("Unit", offered, width=16, grow=2),
        Column("Asked", "asking_minor", MONEY),
        Column("Expected", "expected_minor", MONEY, from_width=56, look="muted"),
        Column("Premium", "premium_per_10000", SHARE, from_width=EXTRAS_FROM, look="muted"),
        Column("Freight", "freight_minor", MONEY, 9, from_width=EXTRAS_FROM, look="muted"),
        Column("Shipping", "shipping_minor", MONEY, 9, from_width=EXTRAS_FROM, look="muted"),
        Column("", _state, SAID, 7),
    ),
    key="offer_id",
    empty="No offers.",
)
BEHIND = Table[PriceRow](
    "price_rows",
    "Rows",
    (
        Column("", "words", width=20, grow=1),
        Column("", "detail", width=20, grow=1, look="muted"),
        Column("", figure_of, MONEY_OR_LENGTH, 14),
    ),
    key="unit_id",
    empty="None yet.",
)
