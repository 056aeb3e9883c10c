"""Offers, and the rows behind a line of a price, as tables."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass

from bench.domain.amounts import Minor
from bench.domain.money import show_money
from bench.domain.offers import OPEN
from bench.domain.price_sheet import PriceRow, PriceSheet
from bench.domain.unit_money import MoneyLine
from bench.views.columns import Column, Table
from bench.views.kinds import COUNT, INSTANT, MONEY, MONEY_OR_LENGTH, SAID, SHARE, Said, figure_of
from bench.views.offers import Offer

EXTRAS_FROM = 90
MOST_TO_PAY = "most to pay"


@dataclass(frozen=True, slots=True)
class PriceLine:
    """A line of a price's sum, at the median and at the 80th percentile of time.

    `key`: what it opens, or None, and its place. `look`: of the price itself, that of its words.
    """

    key: tuple[str | None, Hashable]
    words: str
    amount_50_minor: Minor | None
    amount_80_minor: Minor | None
    note: str = ""
    look: str = ""
    note_look: str = "muted"


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
        Column("", _state, SAID, 8),
    ),
    key="offer_id",
    empty="No offers.",
)
SUM = Table[PriceLine](
    "sum",
    "Most to pay",
    (
        Column("Line", "words", width=20, grow=1, look=lambda line: line.look and "strong"),
        Column("50 %", "amount_50_minor", MONEY, look=lambda line: line.look),
        Column("80 %", "amount_80_minor", MONEY, look=lambda line: line.look or "muted"),
        Column(
            "Based on",
            "note",
            width=16,
            grow=2,
            from_width=78,
            look=lambda line: line.note_look,
            beneath=True,
        ),
    ),
    key="key",
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


def price_lines(sheet: PriceSheet) -> tuple[PriceLine, ...]:
    """Every line of the sum, and the price; beside it how the asking price lies to it."""
    answer = sheet.answer
    lines = zip(answer.lines, answer.lines_80, strict=True)
    return (
        *(
            PriceLine(
                (line.opens or None, at), _words(line), line.amount_minor, careful.amount_minor, line.note
            )
            for at, (line, careful) in enumerate(lines)
        ),
        PriceLine(
            (None, MOST_TO_PAY),
            "most to pay",
            answer.price_minor,
            answer.price_80_minor,
            asked_words(sheet),
            look="heading",
            note_look=asked_look(sheet),
        ),
    )


def asked_words(sheet: PriceSheet) -> str:
    """How far the asking price lies from the most to pay."""
    over = sheet.over_minor
    if over is None:
        return ""
    if over > 0:
        return f"! asks {show_money(over, sheet.currency)} too much"
    return f"✓ asks {show_money(-over, sheet.currency)} less" if over else "✓ asks just that"


def asked_look(sheet: PriceSheet) -> str:
    """Its look."""
    over = sheet.over_minor
    return "" if over is None else "alert" if over > 0 else "good"


def _words(line: MoneyLine) -> str:
    """A line's words as short as they can be understood."""
    return line.words.partition(",")[0].replace("tax on the margin", "margin tax")
