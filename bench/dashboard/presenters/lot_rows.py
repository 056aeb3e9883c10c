"""Lots and the units of one lot as rows."""

from __future__ import annotations

from collections.abc import Sequence

from bench.dashboard.presenters.pieces import Line, Part, spread, wrap
from bench.domain.lots import DonorMade, LotBought, Share
from bench.domain.money import at_least, show_money
from bench.domain.text import for_display
from bench.views.lots import LotBook, LotSheet


def lots_head(book: LotBook, width: int) -> tuple[Line, ...]:
    """How many lots there are, and the rule they are shared by."""
    count = f"{len(book.lots)} lot{'' if len(book.lots) == 1 else 's'} "
    return (spread((Part(" Lots", "strong"),), (Part(count, "heading"),), width),)


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
    return f"Shared again: {', '.join(words)}." if words else "Every share stays as it was."


def donor_words(made: DonorMade) -> str:
    """Whether it is kept for its parts now, and what its lot's shares are."""
    words = f"{made.tag} is kept for its parts." if made.donor else f"{made.tag} is to be sold whole."
    return f"{words} {shared_words(made.shares, made.currency)}" if made.shares else words
