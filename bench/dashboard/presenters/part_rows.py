"""The parts that came into a unit or left it, as rows, and what a move of one did in words."""

from __future__ import annotations

from bench.dashboard.presenters.parts import Line, Part, spread
from bench.dashboard.presenters.rows import Column, Row, cell
from bench.domain.localtime import day_and_time
from bench.domain.money import at_least, show_money
from bench.domain.parts import PartMoved, Swapped
from bench.domain.text import for_display
from bench.views.parts import PartLine, Shelf, UnitParts

PART_COLUMNS = (
    Column("When", 16, from_width=84),
    Column("Part", 14, grow=2),
    Column("Way", 22, grow=2),
    Column("Cost", 13, right=True),
    Column("Serial", 10, grow=1, from_width=100),
    Column("Who", 8, from_width=110),
    Column("Note", 12, grow=2, from_width=120),
)


def parts_head(parts: UnitParts, width: int) -> tuple[Line, ...]:
    """The unit, and the cost that is still on it."""
    left = [Part(f" Parts of {parts.tag}", "strong"), Part(f"  {for_display(parts.model)}")]
    left += [Part("  donor", "waiting")] if parts.donor else []
    cost = at_least(parts.left_minor, parts.currency, known=parts.price_known)
    right = Part(f"cost left on it: {cost} ", "heading")
    return (spread(tuple(left), (right,), width),)


def part_rows(parts: UnitParts) -> tuple[Row, ...]:
    """The parts, oldest first; the key is the part's number. What left carries its cost away."""
    return tuple(
        Row(
            one.part_id,
            (
                cell(day_and_time(one.at_us, parts.zone), "muted"),
                cell(one.name),
                _way(one, parts.unit_id),
                cell(show_money(_signed(one, parts.unit_id), parts.currency)),
                cell(one.serial, "muted"),
                cell(one.person, "muted"),
                cell(one.note, "muted"),
            ),
        )
        for one in parts.lines
    )


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


def _way(part: PartLine, unit_id: int) -> Part:
    if part.to_unit_id == unit_id:
        came = f"out of {part.from_tag}" if part.from_tag else f"bought {part.supplier}".rstrip()
        return cell(f"→ in, {came}", "good")
    return cell(f"← out, {f'into {part.to_tag}' if part.to_tag else 'on the shelf'}", "waiting")


def _signed(part: PartLine, unit_id: int) -> int:
    return part.cost_minor if part.to_unit_id == unit_id else -part.cost_minor
