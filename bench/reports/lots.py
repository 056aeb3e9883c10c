"""Lots as text and JSON: the list of them, one opened, and what a sharing changed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bench.domain.lot_shares import Share
from bench.domain.money import at_least, show_money
from bench.reports.plain_tables import one_line, sections, told, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.views.kinds import Context, context_of
from bench.views.lots import LotBook, LotSheet
from bench.views.tables.lots import LOT_UNITS, LOTS, SHARES

_NO_INSTANTS = "UTC"  # lots hold days, no times of day


@dataclass(frozen=True, slots=True)
class LotTotal:
    """What a lot's units add up to; null where something of it was not typed."""

    complete: bool
    unexpected: tuple[str, ...]
    expected_minor: int | None
    expected_at_least_minor: int
    left_minor: int


def lots_text(book: LotBook) -> str:
    """One line a lot, the newest first."""
    return sections(told(LOTS, book.lots, context_of(book)))


def lot_text(sheet: LotSheet) -> str:
    """A lot's units with the share of each and the cost still on it."""
    price = show_money(sheet.price_minor, sheet.currency)
    expected = at_least(sheet.expected_minor, sheet.currency, known=not sheet.unexpected)
    left = show_money(sheet.left_minor, sheet.currency)
    missing = f"No expected price typed of {', '.join(sheet.unexpected)}: left out of the total."
    seller = f" from {sheet.seller}" if sheet.seller else ""
    return sections(
        one_line(f"Lot {sheet.lot_id}, {sheet.name}: {price} on {sheet.bought_on}{seller}"),
        "\n".join(wrapped(line) for line in sheet.note.split("\n")) if sheet.note else "",
        told(LOT_UNITS, sheet.lines, context_of(sheet)),
        wrapped(f"Total expected {expected}, cost left {left}."),
        wrapped(missing) if sheet.unexpected else "",
        wrapped(sheet.rule),
    )


def shares_text(shares: Sequence[Share], currency: str) -> str:
    """Every unit's share before and after a sharing."""
    return sections(under(SHARES.title, told(SHARES, shares, Context(currency))))


def lots_json(book: LotBook) -> str:
    """The lots as a JSON document."""
    return json_text("lots", facts_of(book, _NO_INSTANTS))


def lot_json(sheet: LotSheet) -> str:
    """One lot as a JSON document, its totals included; null where something they sum was not typed."""
    total = LotTotal(
        complete=not sheet.unexpected,
        unexpected=sheet.unexpected,
        expected_minor=None if sheet.unexpected else sheet.expected_minor,
        expected_at_least_minor=sheet.expected_minor,
        left_minor=sheet.left_minor,
    )
    facts = {**facts_of(sheet, _NO_INSTANTS), "total": facts_of(total, _NO_INSTANTS)}
    return json_text("lot", facts)
