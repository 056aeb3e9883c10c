"""What next, as it is shown: the order, the reason beside each unit, and what waits for something else."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bench.domain.durations import MINUTE_US, hours_and_minutes
from bench.domain.money import show_money

NO_EXPECTATION = "no expected price typed: counted as earning nothing"
SOLD_ALREADY = "back under warranty: its sale stands, nothing more is earned"
OWNERS = "an owner's machine: its repair is paid when it is handed back"
HOW_RANKED = (
    "Past due first. Then by margin still to earn per attended minute still to spend: expected price less "
    "fees, tax and what the unit has cost so far, over the estimates of its open tasks less the time spent "
    "on them, at least 1 minute."
)


@dataclass(frozen=True, slots=True)
class NextLine:
    """A unit that can be worked on, its place in the order and why. Money in minor units of the currency.

    `to_earn_minor`: expected price and what it has brought already, less fees, tax and landed cost.
    """

    place: int
    unit_id: int
    tag: str
    model: str
    stage: str
    next_task: str
    due_on: date | None
    past_due: bool
    expected_minor: int | None
    landed_minor: int
    brought_minor: int
    fees_minor: int
    to_earn_minor: int
    minutes_left: int
    per_hour_minor: int
    reason: str


@dataclass(frozen=True, slots=True)
class WaitingLine:
    """A unit of the queue that cannot be worked on now, or is not for sale, and why."""

    unit_id: int
    tag: str
    model: str
    stage: str
    why: str


@dataclass(frozen=True, slots=True)
class NextUp:
    """The queue in the order in which it earns most, and apart from it what waits."""

    read_us: int
    lines: tuple[NextLine, ...]
    waiting: tuple[WaitingLine, ...]
    currency: str
    zone: str
    how: str = HOW_RANKED


def hourly_minor(to_earn_minor: int, minutes_left: int) -> int:
    """The margin still to earn for an hour of the time still to spend, in minor units, halves up."""
    return (2 * to_earn_minor * 60 + minutes_left) // (2 * minutes_left)


def minutes_to_spend(left_us: int) -> int:
    """Attended time still to spend in whole minutes, rounded up, at least 1."""
    return max(1, -(-left_us // MINUTE_US))


def reason_for(
    *,
    to_earn_minor: int,
    minutes_left: int,
    days_past_due: int,
    expectation_known: bool,
    currency: str,
    nothing_to_earn: str = NO_EXPECTATION,
) -> str:
    """One sentence on why a unit stands where it does."""
    earns = (
        f"earns {show_money(to_earn_minor, currency)} more in "
        f"{hours_and_minutes(minutes_left * MINUTE_US)} at the bench, "
        f"{show_money(hourly_minor(to_earn_minor, minutes_left), currency)} an hour"
        if expectation_known
        else nothing_to_earn
    )
    if days_past_due > 0:
        return f"Past due by {days_past_due} day{'' if days_past_due == 1 else 's'}; {earns}."
    return f"{earns[0].upper()}{earns[1:]}."
