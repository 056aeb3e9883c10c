"""Offers as text: the list of them, one with what was seen of it, and the most to pay line by line."""

from __future__ import annotations

from collections.abc import Sequence

from bench.domain.localtime import day_and_time
from bench.domain.money import NOT_TYPED, money_or, show_money
from bench.domain.offers import NOT_LOOKED_AT, NOTHING_NOTED
from bench.domain.percent import percent_or, show_percent
from bench.domain.price_sheet import PriceRows, PriceSheet
from bench.domain.unit_money import total
from bench.reports.plain_tables import one_line, sections, told, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.views.kinds import PLAIN, context_of
from bench.views.offers import Offer
from bench.views.tables.offers import BEHIND, OFFERS, SUM, offered, price_lines


def price_text(sheet: PriceSheet) -> str:
    """The price, the sum at the median time and at the careful one, and how sure it is."""
    answer, currency = sheet.answer, sheet.currency
    head = [f"Most to pay: {show_money(answer.price_minor, currency)}"]
    if sheet.risk.price_minor is not None:
        head.append(
            f"With at most {show_percent(sheet.risk.chance_per_10000)} chance of a loss: "
            f"{show_money(sheet.risk.price_minor, currency)}"
        )
    if total(answer.lines) < 0:
        head.append("The total is below zero: it pays at no price.")
    if sheet.asking_minor is not None:
        head.append(f"Asked: {show_money(sheet.asking_minor, currency)}")
    return sections(
        one_line(f"Route: {sheet.route or 'none chosen'}; channel: {sheet.channel or 'none chosen'}"),
        "\n".join(head),
        told(SUM, price_lines(sheet), context_of(sheet)),
        "\n".join(wrapped(doubt) for doubt in sheet.doubts),
    )


def price_json(sheet: PriceSheet) -> str:
    """The most to pay as a JSON document."""
    return json_text("most_to_pay", facts_of(sheet, "UTC"))  # it holds no instant


def price_rows_text(rows: PriceRows) -> str:
    """The rows behind one line."""
    return sections(under(rows.title, told(BEHIND, rows.rows, context_of(rows))))


SEEN, UNSEEN = "[x]", "[ ]"


def offers_text(offers: Sequence[Offer]) -> str:
    """One line an offer, the newest first."""
    return sections(told(OFFERS, offers, context_of(offers[0]) if offers else PLAIN))


def offer_text(offer: Offer, price: PriceSheet) -> str:
    """One offer with its list and its most to pay."""
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
    """One offer as a JSON document, its most to pay under `price`."""
    facts = facts_of(offer, offer.zone)
    return json_text("offer", {**facts, "price": facts_of(price, offer.zone)})


def _words(seen: bool, words: str) -> str:
    return words or (NOTHING_NOTED if seen else NOT_LOOKED_AT)
