"""Offers as text: the list of them, and one with what was seen at the seller's table and its price."""

from __future__ import annotations

from collections.abc import Sequence

from bench.domain.localtime import day_and_time
from bench.domain.money import NOT_TYPED, money_or, show_money
from bench.domain.offers import NOT_LOOKED_AT, NOTHING_NOTED
from bench.domain.percent import percent_or
from bench.domain.price_sheet import PriceSheet
from bench.reports.plain_tables import one_line, sections, told, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.reports.walk_away import price_text
from bench.views.kinds import PLAIN, context_of
from bench.views.offers import Offer
from bench.views.tables.offers import OFFERS, offered

SEEN, UNSEEN = "[x]", "[ ]"


def offers_text(offers: Sequence[Offer]) -> str:
    """One line an offer, the newest first."""
    return sections(told(OFFERS, offers, context_of(offers[0]) if offers else PLAIN))


def offer_text(offer: Offer, price: PriceSheet) -> str:
    """One offer with its list and its walk-away price."""
    facts = {
        "State": f"{offer.state} {offer.tag}".rstrip(),
        "Seen": day_and_time(offer.at_us, offer.zone),
        "Serial": offer.serial,
        "Seller": offer.seller,
        "Expected": show_money(offer.expected_minor, offer.currency),
        "Premium": percent_or(offer.premium_per_10000, NOT_TYPED),
        "Freight": money_or(offer.freight_minor, offer.currency, NOT_TYPED),
        "Shipping": money_or(offer.shipping_minor, offer.currency, NOT_TYPED),
    }
    findings = [
        wrapped(f"{SEEN if one.seen else UNSEEN} {one.label}: {_words(one.seen, one.words)}", indent=6)
        for one in offer.findings
    ]
    return sections(
        one_line(f"Offer {offer.offer_id}, {offered(offer)}"),
        "\n".join(wrapped(f"{name:<12}{value}", indent=12) for name, value in facts.items() if value),
        "\n".join(wrapped(line) for line in offer.note.split("\n")) if offer.note else "",
        under("At the seller's table", "\n".join(findings)),
        price_text(price).rstrip("\n"),
    )


def offers_json(offers: Sequence[Offer]) -> str:
    """The offers as a JSON document."""
    return json_text("offers", {"offers": [facts_of(offer, offer.zone) for offer in offers]})


def offer_json(offer: Offer, price: PriceSheet) -> str:
    """One offer as a JSON document, its walk-away price under `price`."""
    facts = facts_of(offer, offer.zone)
    return json_text("offer", {**facts, "price": facts_of(price, offer.zone)})


def _words(seen: bool, words: str) -> str:
    return words or (NOTHING_NOTED if seen else NOT_LOOKED_AT)
