"""An offer as the texts of its form, and the sum beside them."""

from __future__ import annotations

from bench.dashboard.presenters.offer_rows import asked_look, asked_words, doubt_look, short_words
from bench.dashboard.presenters.parts import Line, Part, fit, wrap
from bench.domain.money import money_or, show_money
from bench.domain.offers import NOTHING_NOTED
from bench.domain.percent import percent_or
from bench.domain.price_sheet import PriceSheet
from bench.views.offers import Offer

AMOUNT = 10


def offer_values(offer: Offer) -> dict[str, str]:
    """What the form begins with, by field; the seller is only typed to name another one."""
    asking = money_or(offer.asking_minor, offer.currency)
    return {
        "model": offer.model,
        "maker": offer.maker,
        "serial": offer.serial,
        "note": offer.note,
        "route": str(offer.route_id or ""),
        "channel": str(offer.channel_id or ""),
        "expected_text": show_money(offer.expected_minor, offer.currency),
        "parts_text": show_money(offer.parts_minor, offer.currency) if offer.parts_minor else "",
        "asking_text": asking,
        **extra_values(offer),
        **{f"finding_{one.item}": one.words or (NOTHING_NOTED if one.seen else "") for one in offer.findings},
    }


def extra_values(offer: Offer) -> dict[str, str]:
    """What a purchase takes besides its price, by field; empty where it was not typed."""
    return {
        "premium_text": percent_or(offer.premium_per_10000),
        "freight_text": money_or(offer.freight_minor, offer.currency),
        "shipping_text": money_or(offer.shipping_minor, offer.currency),
    }


def sum_lines(price: PriceSheet | str, width: int, most_doubts: int) -> tuple[Line, ...]:
    """The sum at the median and, careful, at the 80th percentile; a sentence while it cannot be reckoned.

    `most_doubts`: for how many sentences on how sure it is there is room.
    """
    if isinstance(price, str):
        return tuple((Part(line, "muted"),) for line in wrap(price, width))
    names = width - 2 * (AMOUNT + 1)
    answer = price.answer
    head = (Part(" " * names), Part(fit(" median", AMOUNT + 1, right=True), "muted"))
    lines: list[Line] = [(*head, Part(fit(" careful", AMOUNT + 1, right=True), "muted"))]
    for line, careful in zip(answer.lines, answer.careful_lines, strict=True):
        lines.append(
            _line(
                short_words(line),
                _bare(line.amount_minor or 0, price),
                _bare(careful.amount_minor or 0, price),
                names,
            )
        )
    most, careful_most = _bare(answer.price_minor, price), _bare(answer.careful_price_minor, price)
    lines.append(_line("walk away at", most, careful_most, names, "heading"))
    if price.asking_minor is not None:
        lines.append((Part(asked_words(price), asked_look(price)),))
    lines.append((Part(f"all in {price.currency}; careful: time at 80th percentile", "muted"),))
    for doubt in price.doubts[:most_doubts]:
        lines += [(Part(line, doubt_look(price, doubt)),) for line in wrap(doubt, width)]
    more = len(price.doubts) - most_doubts
    lines += [(Part(f"and {more} more to doubt, see the offer", "warning"),)] if more > 0 else []
    return tuple(lines)


def _line(words: str, shown: str, careful: str, names: int, look: str = "") -> Line:
    return (
        Part(fit(words, names), look),
        Part(" " + fit(shown, AMOUNT, right=True), look),
        Part(" " + fit(careful, AMOUNT, right=True), look or "muted"),
    )


def _bare(minor: int, price: PriceSheet) -> str:
    return show_money(minor, price.currency).removesuffix(f" {price.currency}")
