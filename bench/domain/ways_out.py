"""The ways by which a unit leaves the workshop, told apart."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from bench.domain.amounts import Minor
from bench.domain.money import show_money

SOLD, HANDED_BACK, KEPT, SCRAPPED, PARTS = "sold", "handed back", "kept", "scrapped", "parts"
WAYS = (SOLD, HANDED_BACK, KEPT, SCRAPPED, PARTS)

# What a unit of the shop may leave by beside a sale; one that is somebody else's is only handed back.
BESIDE_A_SALE = (KEPT, SCRAPPED, PARTS)

WORDS = {
    SOLD: "sold",
    HANDED_BACK: "handed back",
    KEPT: "kept for the shop",
    SCRAPPED: "scrapped",
    PARTS: "broken for parts",
}


def counted_by_way(others: Mapping[str, int], all_out: int) -> tuple[tuple[str, int], ...]:
    """Each way with how many units left by it, in the order of WAYS; what left by no other way was sold."""
    counts = {**others, SOLD: all_out - sum(others.values())}
    return tuple((way, counts[way]) for way in WAYS if counts.get(way))


def ways_words(ways: Sequence[tuple[str, int]]) -> str:
    """How many units left by which way; empty where all were sold, as the heading says no more then."""
    if all(way == SOLD for way, _ in ways):
        return ""
    return ", ".join(f"{WORDS[way]} {count}" for way, count in ways)


@dataclass(frozen=True, slots=True)
class Left:
    """A unit that has left otherwise than by a sale. Money in minor units of `currency`.

    `lost_minor`: its cost less what it brought, for one scrapped or broken for parts; None for other ways.
    `price_minor`: what the owner pays for the repair; None: not typed. `skipped`: tasks left undone.
    """

    unit_id: int
    tag: str
    way: str
    reason: str
    lost_minor: Minor | None
    price_minor: Minor | None
    proceeds_minor: Minor
    skipped: int
    currency: str


@dataclass(frozen=True, slots=True)
class Repairs:
    """Owners' machines handed back within some time: what their repairs brought, and took of the shelf.

    `income_minor` leaves out those whose price was not typed, `unpriced` of them.
    """

    units: int
    income_minor: Minor
    cost_minor: Minor
    unpriced: tuple[str, ...] = ()


def left_words(left: Left) -> str:
    """How it left, and what that earned or lost."""
    words = f"{left.tag} {WORDS[left.way]}"
    if left.price_minor is not None:
        words += f", {show_money(left.price_minor, left.currency)} for the repair"
    if left.lost_minor is not None:
        words += f", {show_money(left.lost_minor, left.currency)} lost"
    if left.proceeds_minor:
        words += f", {show_money(left.proceeds_minor, left.currency)} for scrap"
    return f"{words}."
