"""Parts that are ordered: how an order goes on, when it is late, and what a supplier owes back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bench.domain.amounts import Minor, Thousandths

WANTED, ORDERED, ARRIVED = "wanted", "ordered", "arrived"
WRONG, BROKEN = "wrong", "broken"
SENT_BACK, REFUNDED, CANCELLED = "sent back", "refunded", "cancelled"
FAULTY = (WRONG, BROKEN)
# What is still to come or to be done; what is not here yet.
UNDER_WAY = (WANTED, ORDERED, WRONG, BROKEN, SENT_BACK)
TO_COME = (WANTED, ORDERED)
# The states that each may follow.
AFTER: dict[str, tuple[str, ...]] = {
    ORDERED: (WANTED, ORDERED),
    ARRIVED: (WANTED, ORDERED),
    WRONG: (WANTED, ORDERED, ARRIVED),
    BROKEN: (WANTED, ORDERED, ARRIVED),
    SENT_BACK: (WRONG, BROKEN),
    REFUNDED: (WRONG, BROKEN, SENT_BACK),
    CANCELLED: (WANTED, ORDERED),
}

# How a part leaves the shop otherwise than in a unit.
SOLD_PART, SCRAPPED_PART = "sold", "scrapped"


@dataclass(frozen=True, slots=True)
class OrderTold:
    """An order after an act on it. `component_id`: the part that it brought. `tasks`: those that wait for it.

    `quantity`: of a consumable, in thousandths of its base unit.
    """

    order_id: int
    what: str
    state: str
    tag: str
    supplier: str
    quantity: Thousandths | None
    price_minor: Minor | None
    freight_minor: Minor
    due_on: date | None
    owed_minor: Minor
    refund_minor: Minor
    component_id: int | None
    tasks: tuple[str, ...]
    fault_id: int | None
    currency: str


@dataclass(frozen=True, slots=True)
class PartGone:
    """A part that left the shop off the shelf: how, with which cost, and what it brought."""

    component_id: int
    name: str
    way: str
    cost_minor: Minor
    price_minor: Minor
    currency: str


def late_days(due_on: date | None, arrived_on: date | None, state: str, today: date) -> int:
    """By how many days an order is late, or was when it arrived; 0 where it is not, or no day was told."""
    if due_on is None or state in (WANTED, CANCELLED):
        return 0
    if arrived_on is None and state != ORDERED:
        return 0
    return max(0, ((arrived_on or today) - due_on).days)


def due_in_short(due_today: int, late: int) -> str:
    """The same where there is little room: how many are due, those that are late among them."""
    due = due_today + late
    return f"{due} part{'' if due == 1 else 's'} due" if due else ""


def due_words(due_today: int, late: int) -> str:
    """What is due today and what is late in one line; empty where nothing is."""
    told = [f"{due_today} due today"] if due_today else []
    told += [f"{late} late"] if late else []
    return f"parts: {', '.join(told)}" if told else ""
