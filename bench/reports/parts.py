"""Parts as text and JSON: those of one unit with the cost still on it, and the shelf."""

from __future__ import annotations

from bench.domain.money import at_least, money_or, show_money
from bench.reports.plain_tables import one_line, sections, told
from bench.reports.plain_values import facts_of, json_text
from bench.views.kinds import context_of
from bench.views.parts import Shelf, UnitParts
from bench.views.tables.parts import IN_IT, PARTS, SHELF, parts_of


def parts_text(parts: UnitParts) -> str:
    """What came into a unit and what left it; what left it with a minus."""
    price = money_or(parts.price_minor, parts.currency)
    left = at_least(parts.left_minor, parts.currency, known=parts.price_known)
    donor = ", donor" if parts.donor else ""
    return sections(
        one_line(f"Unit {parts.tag}, {parts.model}{donor}"),
        told(IN_IT, parts.in_it, context_of(parts)),
        told(PARTS, parts_of(parts), context_of(parts)),
        f"Price {price or 'not typed'}; cost left on it {left}.",
    )


def shelf_text(shelf: Shelf) -> str:
    """The parts on the shelf and the cost that waits with them."""
    if not shelf.lines:
        return f"{SHELF.empty}\n"
    return sections(
        told(SHELF, shelf.lines, context_of(shelf)),
        f"Cost on the shelf: {show_money(shelf.cost_minor, shelf.currency)}.",
    )


def parts_json(parts: UnitParts) -> str:
    """A unit's parts as a JSON document."""
    return json_text("parts", facts_of(parts, parts.zone))


def shelf_json(shelf: Shelf) -> str:
    """The shelf as a JSON document."""
    return json_text("shelf", facts_of(shelf, shelf.zone))
