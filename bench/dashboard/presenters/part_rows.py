"""The parts that came into a unit or left it, as rows, and what a move of one did in words."""

from __future__ import annotations

from bench.dashboard.presenters.pieces import Line, Part, spread
from bench.domain.money import at_least, show_money
from bench.domain.parts import PartMoved, Swapped
from bench.domain.text import for_display
from bench.views.parts import PartLine, Shelf, UnitParts


def parts_head(parts: UnitParts, width: int) -> tuple[Line, ...]:
    """The unit, and the cost that is still on it."""
    left = [Part(f" Parts of {parts.tag}", "strong"), Part(f"  {for_display(parts.model)}")]
    left += [Part("  donor", "waiting")] if parts.donor else []
    cost = at_least(parts.left_minor, parts.currency, known=parts.price_known)
    right = Part(f"cost so far: {cost} ", "heading")
    return (spread(tuple(left), (right,), width),)


def shelf_words(part: PartLine, shelf: Shelf) -> str:
    """A part on the shelf to choose from a list."""
    cost = show_money(part.cost_minor, shelf.currency)
    from_unit = f", out of {part.from_tag}" if part.from_tag else ""
    return f"{part.name} {part.serial}".rstrip() + f": {cost}{from_unit}"


def part_values(part: PartLine, currency: str) -> dict[str, str]:
    """What a part's form begins with, by field."""
    return {
        "name": part.name,
        "cost_text": show_money(part.cost_minor, currency),
        "serial": part.serial,
        "supplier": part.supplier,
        "note": part.note,
    }


def moved_words(moved: PartMoved) -> str:
    """Where it went, with which cost, and what is left where it came from."""
    cost = show_money(moved.cost_minor, moved.currency)
    out = f" out of {moved.from_tag}" if moved.from_tag else ""
    into = f" into {moved.to_tag}" if moved.to_tag else " to the shelf"
    left = ""
    if moved.from_left_minor is not None:
        left = f" Left on {moved.from_tag}: {show_money(moved.from_left_minor, moved.currency)}."
    return f"{for_display(moved.name)}{out}{into}, {cost}.{left}"


def swapped_words(swapped: Swapped) -> str:
    """What went each way, and the cost left on both."""

    def shown(minor: int) -> str:
        return show_money(minor, swapped.currency)

    return (
        f"{for_display(swapped.name)} swapped: {shown(swapped.cost_a_minor)} to {swapped.tag_b}, "
        f"{shown(swapped.cost_b_minor)} to {swapped.tag_a}. Left: {swapped.tag_a} "
        f"{shown(swapped.left_a_minor)}, {swapped.tag_b} {shown(swapped.left_b_minor)}."
    )
