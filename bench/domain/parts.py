"""Parts that come into units, leave them or go from one to another, and the cost that goes along."""

from __future__ import annotations

from dataclasses import dataclass

from bench.domain.amounts import Minor


@dataclass(frozen=True, slots=True)
class PartMoved:
    """A part that came or went. `from_left_minor`: the cost still on the unit it left, None if bought."""

    part_id: int
    name: str
    cost_minor: Minor
    from_tag: str
    to_tag: str
    from_left_minor: Minor | None
    currency: str


@dataclass(frozen=True, slots=True)
class Swapped:
    """Two units that changed parts: what went each way. Their costs left, after it."""

    name: str
    tag_a: str
    tag_b: str
    cost_a_minor: Minor
    cost_b_minor: Minor
    left_a_minor: Minor
    left_b_minor: Minor
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
