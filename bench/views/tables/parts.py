"""The parts that came into a unit or left it, and those on the shelf, as tables."""

from __future__ import annotations

from dataclasses import dataclass

from bench.domain.amounts import Minor
from bench.views.columns import Column, Table
from bench.views.gone_parts import GonePart
from bench.views.kinds import COUNT, INSTANT, LOCAL_DAY, MONEY
from bench.views.parts import PartLine, UnitParts


@dataclass(frozen=True, slots=True)
class UnitPart:
    """A part as the unit has it: what left carries its cost away."""

    part: PartLine
    came: bool

    @property
    def cost_minor(self) -> Minor:
        """Its cost, below 0 where it left."""
        return self.part.cost_minor if self.came else -self.part.cost_minor


def parts_of(parts: UnitParts) -> tuple[UnitPart, ...]:
    """The unit's parts, oldest first."""
    return tuple(UnitPart(one, one.to_unit_id == parts.unit_id) for one in parts.lines)


def source_words(part: PartLine | GonePart) -> str:
    """Where a part came from."""
    return f"out of {part.from_tag}" if part.from_tag else f"bought {part.supplier}".rstrip()


def _way(one: UnitPart) -> str:
    if one.came:
        return f"→ in, {source_words(one.part)}"
    return f"← out, {f'into {one.part.to_tag}' if one.part.to_tag else 'on the shelf'}"


IN_IT = Table[PartLine](
    "in_it",
    "In it now",
    (
        Column("No.", "part_id", COUNT, from_width=70, look="muted"),
        Column("Part", "name", width=14, grow=2),
        Column("Maker no.", "maker_number", width=10, from_width=110),
        Column("Serial", "serial", width=10, from_width=90),
        Column("From", source_words, width=12, grow=1),
        Column("Since", "at_us", INSTANT, from_width=68),
        Column("Cost", "cost_minor", MONEY, 10),
    ),
    key="part_id",
    empty="No part was fitted that is in it now.",
)
PARTS = Table[UnitPart](
    "parts",
    "Came and went",
    (
        Column("No.", "part.part_id", COUNT, from_width=70, look="muted"),
        Column("When", "part.at_us", INSTANT, from_width=84, look="muted"),
        Column("Part", "part.name", width=14, grow=2),
        Column("Way", _way, width=22, grow=2, look=lambda one: "good" if one.came else "waiting"),
        Column("Cost", "cost_minor", MONEY, 10),
        Column("Serial", "part.serial", width=10, grow=1, from_width=100, look="muted"),
        Column("Who", "part.person", from_width=110, look="muted"),
        Column("Note", "part.note", width=12, grow=2, from_width=120, look="muted"),
    ),
    key="part.part_id",
    empty="No part came or went.",
)
SHELF = Table[PartLine](
    "shelf",
    "Shelf",
    (
        Column("No.", "part_id", COUNT),
        Column("Part", "name", width=14, grow=2),
        Column("Serial", "serial", width=10, from_width=80),
        Column("Maker no.", "maker_number", width=10, from_width=120),
        Column("Place", "place", width=8, from_width=90),
        Column("From", source_words, width=12, grow=1),
        Column("Since", "at_us", INSTANT, from_width=68),
        Column("Cost", "cost_minor", MONEY),
    ),
    key="part_id",
    empty="The shelf is empty.",
)
GONE = Table[GonePart](
    "gone_parts",
    "Gone from the shelf",
    (
        Column("No.", "part_id", COUNT),
        Column("Part", "name", width=14, grow=2),
        Column("Serial", "serial", width=10, from_width=110),
        Column("From", source_words, width=12, grow=1, from_width=90),
        Column("Gone", "gone", width=9),
        Column("When", "gone_us", LOCAL_DAY),
        Column("Why, to whom", "note", width=12, grow=1, from_width=100, look="muted"),
        Column("Cost", "cost_minor", MONEY),
        Column("Proceeds", "price_minor", MONEY),
    ),
    key="part_id",
    empty="No part has left the shop off the shelf.",
)
