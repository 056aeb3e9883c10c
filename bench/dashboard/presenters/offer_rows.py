"""Offers, the sum of the most to pay and the list at the seller's table, as rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from bench.dashboard.presenters.pieces import Line, Part, spread, wrap
from bench.dashboard.presenters.rows import Row, cell, room, rows_of
from bench.domain.money import NOT_TYPED, money_or, show_money
from bench.domain.most_to_pay import FEW_JOBS
from bench.domain.offers import NOT_LOOKED_AT, NOTHING_NOTED, OPEN
from bench.domain.percent import percent_or, show_percent
from bench.domain.price_sheet import PriceRows, PriceSheet, risk_words
from bench.domain.text import for_display
from bench.views.columns import Table
from bench.views.kinds import context_of
from bench.views.offers import Offer
from bench.views.tables.offers import BEHIND, SUM, asked_look, asked_words, offered, price_lines

FINDINGS = Table[Any]("findings", "At the seller's table", (room("", 30), room("", 16, grow=1)))


def offers_head(
    offers: Sequence[Offer], price: PriceSheet | None, width: int, *, every: bool
) -> tuple[Line, ...]:
    """How many offers there are, and the most to pay for the one under the cursor."""
    are_open = sum(one.state == OPEN for one in offers)
    shown = "all offers" if every else "open offers"
    left = (Part(" Buying", "strong"), Part(f"  {shown}, {are_open} open", "muted"))
    right: Line = ()
    if price is not None:
        most = show_money(price.answer.price_minor, price.currency)
        right = (Part("most to pay "), Part(f"{most} ", "heading"))
    return (spread(left, right, width),)


def sum_rows(sheet: PriceSheet) -> Sequence[Row]:
    """Every line at the median and at the 80th percentile, and the price; a key names what a line opens."""
    return rows_of(SUM, price_lines(sheet), context_of(sheet))


def doubt_lines(sheet: PriceSheet | None, width: int) -> tuple[Line, ...]:
    """How sure the price is, and how the asking price lies to it."""
    if sheet is None:
        return ()
    doubts: list[Line] = [
        (Part(line, doubt_look(sheet, doubt)),) for doubt in sheet.doubts for line in wrap(doubt, width)
    ]
    if sheet.asking_minor is not None:
        doubts.insert(0, (Part(asked_words(sheet), asked_look(sheet)),))
    return tuple(doubts)


def doubt_look(sheet: PriceSheet, doubt: str) -> str:
    """The look of a sentence on how sure the price is: enough finished jobs are no doubt."""
    if doubt == risk_words(sheet.risk, sheet.currency):
        return "warning" if sheet.risk.price_minor is None else "good"
    return "good" if doubt == sheet.answer.based_on and sheet.time.jobs >= FEW_JOBS else "warning"


def price_line(sheet: PriceSheet) -> Line:
    """The most to pay, and how the asking price lies to it."""
    answer = sheet.answer
    price = show_money(answer.price_minor, sheet.currency)
    careful = show_money(answer.price_80_minor, sheet.currency)
    line = [Part("Most to pay ", "strong"), Part(price, "heading"), Part(f", at 80 % {careful}", "muted")]
    if sheet.risk.price_minor is not None:
        at_risk = show_money(sheet.risk.price_minor, sheet.currency)
        line.append(Part(f", {show_percent(sheet.risk.chance_per_10000)} loss at {at_risk}", "muted"))
    if sheet.asking_minor is not None:
        line += [Part("  "), Part(asked_words(sheet), asked_look(sheet))]
    return tuple(line)


def finding_rows(offer: Offer) -> tuple[Row, ...]:
    """What was seen at the seller's table, who sells it, and the note."""
    rows = [
        Row(
            one.item,
            (
                cell(one.label),
                cell(
                    one.words or (NOTHING_NOTED if one.seen else NOT_LOOKED_AT),
                    "" if one.words else "good" if one.seen else "warning",
                ),
            ),
        )
        for one in offer.findings
    ]
    facts = (
        ("serial number", offer.serial),
        ("seller", offer.seller),
        ("route", offer.route),
        ("channel", offer.channel),
        ("buyer's premium", percent_or(offer.premium_per_10000, NOT_TYPED)),
        ("inward freight", money_or(offer.freight_minor, offer.currency, NOT_TYPED)),
        ("shipping to the buyer", money_or(offer.shipping_minor, offer.currency, NOT_TYPED)),
        ("note", offer.note),
    )
    return (*rows, *(Row(name, (cell(name, "muted"), cell(words))) for name, words in facts if words))


def behind_rows(behind: PriceRows) -> tuple[Row, ...]:
    """The rows behind a line of the sum; the key is the row's place, and its unit where it has one."""
    rows = rows_of(BEHIND, behind.rows, context_of(behind))
    return tuple(replace(row, key=(at, row.key)) for at, row in enumerate(rows))


def behind_head(behind: PriceRows, width: int) -> tuple[Line, ...]:
    """What these rows are."""
    return (
        spread((Part(f" {behind.title}", "strong"),), (Part(f"{len(behind.rows)} rows ", "muted"),), width),
    )


def offer_name(offer: Offer) -> str:
    """The unit that is offered."""
    return for_display(offered(offer))
