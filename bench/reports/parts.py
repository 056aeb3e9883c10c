"""Parts as text and JSON: those of one unit with the cost still on it, and the shelf."""

from __future__ import annotations

from bench.domain.localtime import day_name, local_datetime
from bench.domain.money import at_least, money_or, show_money
from bench.reports.plain_values import facts_of, json_text
from bench.reports.tables import one_line, sections, table
from bench.views.parts import PartLine, Shelf, UnitParts


def parts_text(parts: UnitParts) -> str:
    """What came into a unit and what left it; what left it with a minus."""
    price = money_or(parts.price_minor, parts.currency)
    rows = [
        (
            f"{line.part_id:>3} {_name(line)}",
            _way(line),
            _when(line, parts.zone),
            show_money(
                -line.cost_minor if line.from_unit_id == parts.unit_id else line.cost_minor, parts.currency
            ),
        )
        for line in parts.lines
    ]
    left = at_least(parts.left_minor, parts.currency, known=parts.price_known)
    donor = ", donor" if parts.donor else ""
    return sections(
        one_line(f"Unit {parts.tag}, {parts.model}{donor}"),
        table(("", "", "when", "cost"), rows, words=(0, 1)) if rows else "No parts came or went.",
        f"Price {price or 'not typed'}; cost left on it {left}.",
    )


def shelf_text(shelf: Shelf) -> str:
    """The parts on the shelf and the cost that waits with them."""
    if not shelf.lines:
        return "The shelf is empty.\n"
    rows = [
        (
            f"{line.part_id:>3} {_name(line)}",
            f"out of {line.from_tag}",
            _when(line, shelf.zone),
            show_money(line.cost_minor, shelf.currency),
        )
        for line in shelf.lines
    ]
    return sections(
        table(("", "", "since", "cost"), rows, words=(0, 1)),
        f"Cost on the shelf: {show_money(shelf.cost_minor, shelf.currency)}.",
    )


def parts_json(parts: UnitParts) -> str:
    """A unit's parts as a JSON document."""
    return json_text("parts", facts_of(parts, parts.zone))


def shelf_json(shelf: Shelf) -> str:
    """The shelf as a JSON document."""
    return json_text("shelf", {**facts_of(shelf, shelf.zone), "cost_minor": shelf.cost_minor})


def _name(line: PartLine) -> str:
    return f"{line.name} {line.serial}".rstrip()


def _way(line: PartLine) -> str:
    came = f"out of {line.from_tag}" if line.from_tag else f"bought {line.supplier}".rstrip()
    return f"{came} into {line.to_tag}" if line.to_tag else f"{came} to the shelf"


def _when(line: PartLine, zone: str) -> str:
    return day_name(local_datetime(line.at_us, zone).date())
