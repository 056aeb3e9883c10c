"""Parts that come into units, leave them or go from one to another, and the cost that goes along."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PartLine:
    """A part's way. No `from_unit_id`: bought. No `to_unit_id`: on the shelf. `cost_minor` went along."""

    part_id: int
    at_us: int
    name: str
    serial: str
    from_unit_id: int | None
    from_tag: str
    to_unit_id: int | None
    to_tag: str
    cost_minor: int
    person: str
    supplier: str
    note: str
    drive_id: int | None


@dataclass(frozen=True, slots=True)
class UnitParts:
    """Every part that came into a unit or left it, oldest first.

    `left_minor`: the cost still on the unit, its price and parts in less parts out; consumables apart.
    """

    unit_id: int
    tag: str
    model: str
    donor: bool
    price_minor: int | None
    left_minor: int
    expected_minor: int | None
    lines: tuple[PartLine, ...]
    currency: str
    zone: str

    @property
    def price_known(self) -> bool:
        """Whether its price was typed; the cost left is at least as much where not."""
        return self.price_minor is not None


@dataclass(frozen=True, slots=True)
class Shelf:
    """Parts taken out and kept, oldest first; their cost waits with them."""

    lines: tuple[PartLine, ...]
    currency: str
    zone: str

    @property
    def cost_minor(self) -> int:
        """The cost that lies on the shelf."""
        return sum(line.cost_minor for line in self.lines)


@dataclass(frozen=True, slots=True)
class PartMoved:
    """A part that came or went. `from_left_minor`: the cost still on the unit it left, None if bought."""

    part_id: int
    name: str
    cost_minor: int
    from_tag: str
    to_tag: str
    from_left_minor: int | None
    currency: str


@dataclass(frozen=True, slots=True)
class Swapped:
    """Two units that changed parts: what went each way. Their costs left, after it."""

    name: str
    tag_a: str
    tag_b: str
    cost_a_minor: int
    cost_b_minor: int
    left_a_minor: int
    left_b_minor: int
    currency: str


def suggest_cost(left_minor: int, expected_minor: int | None, worth_minor: int) -> int:
    """The cost a part may carry away: its share of the cost left, by relative value; halves up.

    `worth_minor`: what the part is worth; `expected_minor`: what is expected of the whole unit, or of all
    the parts of a donor. A part worth as much takes all that is left; where nothing is known of the whole,
    its own worth counts, as far as cost is left.
    Source: joint-cost allocation by relative sales value, as for lots.
    """
    if left_minor <= 0 or worth_minor <= 0:
        return 0
    if not expected_minor:
        return min(worth_minor, left_minor)
    worth = min(worth_minor, expected_minor)
    return (2 * left_minor * worth + expected_minor) // (2 * expected_minor)
