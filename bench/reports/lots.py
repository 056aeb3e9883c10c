"""Lots, their shares, and parts with the shelf, as text and JSON."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bench.domain.lots import Share
from bench.domain.money import at_least, money_or, show_money
from bench.reports.plain_tables import one_line, sections, told, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.views.gone_parts import GoneParts
from bench.views.kinds import Context, context_of
from bench.views.lots import LotBook, LotSheet
from bench.views.parts import Shelf, UnitParts
from bench.views.tables.lots import LOT_UNITS, LOTS, SHARES
from bench.views.tables.parts import GONE, IN_IT, PARTS, SHELF, parts_of

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


def parts_text(parts: UnitParts) -> str:
    """What came into a unit and what left it; what left it with a minus."""
    price = money_or(parts.price_minor, parts.currency)
    left = at_least(parts.left_minor, parts.currency, known=parts.price_known)
    donor = ", donor" if parts.donor else ""
    return sections(
        one_line(f"Unit {parts.tag}, {parts.model}{donor}"),
        told(IN_IT, parts.in_it, context_of(parts)),
        told(PARTS, parts_of(parts), context_of(parts)),
        f"Price {price or 'not typed'}; cost so far {left}.",
    )


def shelf_text(shelf: Shelf) -> str:
    """The parts on the shelf and the cost that waits with them."""
    if not shelf.lines:
        return f"{SHELF.empty}\n"
    return sections(
        told(SHELF, shelf.lines, context_of(shelf)),
        f"Cost on the shelf: {show_money(shelf.cost_minor, shelf.currency)}.",
    )


def gone_text(gone: GoneParts) -> str:
    """The parts that have left the shop off the shelf."""
    return told(GONE, gone.lines, context_of(gone)) + "\n" if gone.lines else f"{GONE.empty}\n"


def parts_json(parts: UnitParts) -> str:
    """A unit's parts as a JSON document."""
    return json_text("parts", facts_of(parts, parts.zone))


def shelf_json(shelf: Shelf) -> str:
    """The shelf as a JSON document."""
    return json_text("shelf", facts_of(shelf, shelf.zone))


def gone_json(gone: GoneParts) -> str:
    """The same as a JSON document."""
    return json_text("gone_parts", facts_of(gone, gone.zone))
