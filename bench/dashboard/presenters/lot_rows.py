"""Lots and the units of one lot as rows."""

from __future__ import annotations

from collections.abc import Sequence

from bench.dashboard.presenters.parts import Line, Part, spread, wrap
from bench.dashboard.presenters.rows import Column, Row, cell
from bench.domain.lot_shares import DonorMade, LotBought, Share
from bench.domain.money import at_least, money_or, show_money
from bench.domain.text import for_display
from bench.views.lots import LotBook, LotSheet

LOT_COLUMNS = (
    Column("Lot", 12, grow=1),
    Column("Bought", 10),
    Column("Price", 12, right=True),
    Column("Sold", 6, right=True),
    Column("Seller", 10, grow=1, from_width=64),
)
UNIT_COLUMNS = (
    Column("Unit", 6),
    Column("Model", 12, grow=2),
    Column("Stage", 10, from_width=70),
    Column("Expected", 12, right=True),
    Column("Share", 12, right=True),
    Column("Cost left", 12, right=True, from_width=84),
    Column("", 6),
)


def lots_head(book: LotBook, width: int) -> tuple[Line, ...]:
    """How many lots there are, and the rule they are shared by."""
    count = f"{len(book.lots)} lot{'' if len(book.lots) == 1 else 's'} "
    return (spread((Part(" Lots", "strong"),), (Part(count, "heading"),), width),)


def lot_rows(book: LotBook) -> tuple[Row, ...]:
    """The lots; the key is the lot's number."""
    return tuple(
        Row(
            one.lot_id,
            (
                cell(one.name),
                cell(one.bought_on.isoformat(), "muted"),
                cell(show_money(one.price_minor, book.currency)),
                cell(f"{one.sold} of {one.units}"),
                cell(one.seller, "muted"),
            ),
        )
        for one in book.lots
    )


def lot_unit_rows(lot: LotSheet) -> tuple[Row, ...]:
    """The units of a lot; the key is the unit's number."""
    return tuple(
        Row(
            one.unit_id,
            (
                cell(one.tag),
                cell(one.model),
                cell(one.stage, "muted"),
                cell(money_or(one.expected_minor, lot.currency, "–")),
                cell(show_money(one.share_minor, lot.currency)),
                cell(show_money(one.left_minor, lot.currency), "muted"),
                cell(
                    "donor" if one.donor else "sold" if one.sold else "", "waiting" if one.donor else "good"
                ),
            ),
        )
        for one in lot.lines
    )


def rule_lines(lot: LotSheet, width: int) -> tuple[Line, ...]:
    """The totals and what is missing of them, the lot's note, and the rule that the shares follow."""
    note = [f"Note: {for_display(lot.note)}"] if lot.note else []
    expected = at_least(lot.expected_minor, lot.currency, known=not lot.unexpected)
    totals = f"Total expected {expected}, cost left {show_money(lot.left_minor, lot.currency)}."
    absent = f"No expected price typed of {', '.join(lot.unexpected)}: left out of the total."
    told = (
        (totals, ""),
        *([(absent, "warning")] if lot.unexpected else []),
        *((words, "muted") for words in (*note, lot.rule)),
    )
    return tuple((Part(line, look),) for words, look in told for line in wrap(words, width))


def bought_words(lot: LotBought) -> str:
    """Each unit's share of a new lot."""
    shares = ", ".join(f"{one.tag} {show_money(one.new_minor, lot.currency)}" for one in lot.shares)
    return f"Bought {for_display(lot.name)}: {shares}."


def shared_words(shares: Sequence[Share], currency: str) -> str:
    """What a new sharing changed."""
    words = [
        f"{one.tag} {show_money(one.old_minor, currency)} → {show_money(one.new_minor, currency)}"
        for one in shares
        if one.old_minor != one.new_minor
    ]
    return f"Shared anew: {', '.join(words)}." if words else "Every share stays as it was."


def donor_words(made: DonorMade) -> str:
    """Whether it is kept for its parts now, and what its lot's shares are."""
    words = f"{made.tag} is kept for its parts." if made.donor else f"{made.tag} is to be sold whole."
    return f"{words} {shared_words(made.shares, made.currency)}" if made.shares else words
