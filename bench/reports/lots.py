"""Lots as text and JSON: the list of them, one opened, and what a sharing changed."""

from __future__ import annotations

from collections.abc import Sequence

from bench.domain.lot_shares import Share
from bench.domain.money import NOT_TYPED, at_least, money_or, show_money
from bench.reports.plain_values import facts_of, json_text
from bench.reports.tables import one_line, sections, table, under, wrapped
from bench.views.lots import LotBook, LotSheet, LotUnitLine

_NO_INSTANTS = "UTC"  # lots hold days, no times of day


def lots_text(book: LotBook) -> str:
    """One line a lot, the newest first."""
    if not book.lots:
        return "No lots.\n"
    rows = [
        (
            f"{lot.lot_id:>3} {lot.name}",
            lot.seller,
            lot.bought_on.isoformat(),
            str(lot.units),
            str(lot.sold),
            show_money(lot.price_minor, book.currency),
        )
        for lot in book.lots
    ]
    return sections(table(("", "seller", "bought", "units", "sold", "price"), rows, words=(0, 1)))


def lot_text(sheet: LotSheet) -> str:
    """A lot's units with the share of each and the cost still on it."""
    price = show_money(sheet.price_minor, sheet.currency)
    rows = [
        (
            line.tag,
            f"{line.model} {line.serial}".rstrip(),
            _state(line),
            money_or(line.expected_minor, sheet.currency, "" if line.donor else NOT_TYPED),
            show_money(line.share_minor, sheet.currency),
            show_money(line.left_minor, sheet.currency),
        )
        for line in sheet.lines
    ]
    rows.append(
        (
            "",
            "total",
            "",
            at_least(sheet.expected_minor, sheet.currency, known=not sheet.unexpected),
            price,
            show_money(sheet.left_minor, sheet.currency),
        )
    )
    missing = f"No expected price typed of {', '.join(sheet.unexpected)}: left out of the total."
    seller = f" from {sheet.seller}" if sheet.seller else ""
    return sections(
        one_line(f"Lot {sheet.lot_id}, {sheet.name}: {price} on {sheet.bought_on}{seller}"),
        "\n".join(wrapped(line) for line in sheet.note.split("\n")) if sheet.note else "",
        table(("tag", "model", "", "expected", "share", "left"), rows, words=(0, 1, 2)),
        wrapped(missing) if sheet.unexpected else "",
        wrapped(sheet.rule),
    )


def shares_text(shares: Sequence[Share], currency: str) -> str:
    """Every unit's share before and after a sharing."""
    rows = [
        (share.tag, show_money(share.old_minor, currency), show_money(share.new_minor, currency))
        for share in shares
    ]
    return sections(under("Shares", table(("tag", "before", "now"), rows)))


def lots_json(book: LotBook) -> str:
    """The lots as a JSON document."""
    return json_text("lots", facts_of(book, _NO_INSTANTS))


def lot_json(sheet: LotSheet) -> str:
    """One lot as a JSON document, its totals included; null where something they sum was not typed."""
    totals = {
        "complete": not sheet.unexpected,
        "unexpected": sheet.unexpected,
        "expected_minor": None if sheet.unexpected else sheet.expected_minor,
        "expected_at_least_minor": sheet.expected_minor,
        "left_minor": sheet.left_minor,
    }
    return json_text("lot", {**facts_of(sheet, _NO_INSTANTS), "total": totals})


def _state(line: LotUnitLine) -> str:
    return "donor" if line.donor else line.stage
