"""What next, as it is shown: the order, the reason beside each unit, and what waits for something else."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from bench.domain.amounts import Instant, Minor
from bench.domain.durations import MINUTE_US, hours_and_minutes
from bench.domain.money import at_most, show_money
from bench.domain.statistics_of_work import median


@dataclass(frozen=True, slots=True)
class Candidate:
    """A unit that waits. `to_earn_minor`: margin still to earn; `minutes_left`: hands-on minutes to spend."""

    unit_id: int
    tag: str
    to_earn_minor: Minor
    minutes_left: int
    due_on: date | None = None


@dataclass(frozen=True, slots=True)
class Ranked:
    """A unit's place in the order, and the reason for it."""

    unit_id: int
    tag: str
    place: int
    past_due: bool
    to_earn_minor: Minor
    minutes_left: int


def smith_ratio(weight: int, time: int) -> Fraction:
    """Weight by time, exactly; work that takes no more time comes before all other.

    Largest first gives the least sum of weighted finishing times.
    Source: W. E. Smith, Various optimizers for single-stage production, Naval Research Logistics
    Quarterly 3 (1956), 59-66.
    """
    return Fraction(weight, time) if time > 0 else Fraction(10**18 if weight >= 0 else -(10**18))


def rank(candidates: Iterable[Candidate], today: date) -> tuple[Ranked, ...]:
    """Units due today or past due first, oldest due date first; then by Smith's ratio, due date and tag."""

    def order(unit: Candidate) -> tuple[int, date, Fraction, date, str]:
        due = unit.due_on or date.max
        ratio = -smith_ratio(unit.to_earn_minor, unit.minutes_left)
        return (0, due, ratio, due, unit.tag) if due <= today else (1, date.max, ratio, due, unit.tag)

    return tuple(
        Ranked(
            unit_id=unit.unit_id,
            tag=unit.tag,
            place=place,
            past_due=unit.due_on is not None and unit.due_on < today,
            to_earn_minor=unit.to_earn_minor,
            minutes_left=unit.minutes_left,
        )
        for place, unit in enumerate(sorted(candidates, key=order), start=1)
    )


NO_EXPECTATION = "no expected price typed: counted as earning nothing"
SOLD_ALREADY = "back under warranty: its sale stands, nothing more is earned"
OWNERS = "an owner's machine: its repair is paid when it is handed back"
ALARM = "The battery is connected with the cover off: see to it before anything else."
HOW_RANKED = (
    "Alarms before all. Due today or past due first. Then by cash still to come per hands-on minute "
    "still to spend: expected price less fees, tax, shipping, and the parts and consumables still needed, "
    "over the estimates of the open tasks less the time spent on them. A task past its estimate counts with "
    "what such tasks took beyond that. What the unit has cost so far is spent either way."
)


@dataclass(frozen=True, slots=True)
class ShippingOut:
    """What sending a unit to its buyer will cost, in minor units; None: not known. `basis`: what tells it."""

    cost_minor: Minor | None
    basis: str


@dataclass(frozen=True, slots=True)
class NextLine:
    """A unit that can be worked on, its place in the order and why. Money in minor units of the currency.

    `to_earn_minor`: expected price less fees, tax and `to_spend_minor`: the parts and consumables that its
    open tasks still need, and sending it to its buyer. `unpriced`: consumables among them whose price is not
    known. `shipping`: None for what is not to be sold any more. Where `missing` names anything,
    `to_earn_minor` is at most as much; where no expected price was typed it is 0 and says nothing. Not
    `for_sale` is what is an owner's, or sold already.
    """

    place: int
    unit_id: int
    tag: str
    model: str
    stage: str
    next_task: str
    due_on: date | None
    past_due: bool
    expected_minor: Minor | None
    fees_minor: Minor
    to_spend_minor: Minor
    unpriced: tuple[str, ...]
    shipping: ShippingOut | None
    to_earn_minor: Minor
    minutes_left: int
    per_hour_minor: Minor
    reason: str
    tax_known: bool = True
    for_sale: bool = True

    @property
    def missing(self) -> tuple[str, ...]:
        """What is not known and left out: the cash to come is at most as much, or not known at all."""
        absent = ["expected price"] if self.for_sale and self.expected_minor is None else []
        absent += ["shipping"] if self.shipping is not None and self.shipping.cost_minor is None else []
        absent += [] if self.tax_known else ["tax on the margin, as no price paid was typed"]
        return (*absent, *(f"price of {name}" for name in self.unpriced))

    @property
    def expectation_known(self) -> bool:
        """Whether what is to earn can be told at all: an expected price was typed, or none is wanted."""
        return self.expected_minor is not None or not self.for_sale

    @property
    def complete(self) -> bool:
        """Whether nothing is missing from its sums."""
        return self.expectation_known and not self.missing


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
    """The queue in the order in which it earns most, and apart from it what waits.

    `parts_due`, `parts_late`: how many orders of parts are due today, and how many are late.
    """

    read_us: Instant
    lines: tuple[NextLine, ...]
    waiting: tuple[WaitingLine, ...]
    currency: str
    zone: str
    how: str = HOW_RANKED
    parts_due: int = 0
    parts_late: int = 0


def parts_to_buy_minor(said_minor: int, had_minor: int, to_pay_minor: int) -> int:
    """What a unit's parts still take, in minor units.

    `said_minor`: what its offer said they would cost; `had_minor`: what was bought for it since;
    `to_pay_minor`: its orders that have not come. An order cannot be told from what the offer spoke of: it
    counts within that, and beyond it only by what exceeds it, so that no part is counted twice.
    """
    return max(said_minor - had_minor, to_pay_minor, 0)


def hourly_minor(to_earn_minor: int, minutes_left: int) -> int:
    """The margin still to earn for an hour of the time still to spend, in minor units, halves up."""
    return (2 * to_earn_minor * 60 + minutes_left) // (2 * minutes_left)


def time_left_us(estimate_us: int, spent_us: int, past_us: Sequence[int]) -> int:
    """Hands-on time still to spend on an open task; past its estimate, by what such tasks took beyond it.

    `past_us`: how long finished tasks of that name took. Past the estimate the mean of what is left of those
    that took longer than has been spent; half the estimate where there are none (common practice, no source).
    """
    if spent_us < estimate_us:
        return estimate_us - spent_us
    longer = [took_us - spent_us for took_us in past_us if took_us > spent_us]
    return round(sum(longer) / len(longer)) if longer else estimate_us // 2


def shipping_out(typed_minor: int | None, past_minor: Sequence[int], channel: str) -> ShippingOut:
    """What was typed for the unit; else the median (halves up) of what the channel's sales took to send."""
    if typed_minor is not None:
        return ShippingOut(typed_minor, "as typed for it")
    if not past_minor:
        through = f"no sale through {channel} tells it" if channel else "there is no channel"
        return ShippingOut(None, f"not typed, and {through}")
    sales = f"{len(past_minor)} sale{'' if len(past_minor) == 1 else 's'}"
    basis = f"50 % of {sales} through {channel} cost no more"
    return ShippingOut(math.floor(median(past_minor) + 0.5), basis)


def shipping_words(one: NextLine, currency: str) -> str:
    """One sentence on what sending it to its buyer will cost; empty for what is not to be sold."""
    if one.shipping is None:
        return ""
    if one.shipping.cost_minor is None:
        return f"Shipping to the buyer is not in it: {one.shipping.basis}."
    return f"Shipping to the buyer: {show_money(one.shipping.cost_minor, currency)}, {one.shipping.basis}."


def minutes_to_spend(left_us: int) -> int:
    """Hands-on time still to spend in whole minutes, rounded up, at least 1."""
    return max(1, -(-left_us // MINUTE_US))


def reason_for(
    *,
    to_earn_minor: int,
    minutes_left: int,
    days_past_due: int,
    expectation_known: bool,
    currency: str,
    nothing_to_earn: str = NO_EXPECTATION,
    known: bool = True,
) -> str:
    """One sentence on why a unit stands where it does. `known`: nothing that is to be spent was left out."""
    earns = (
        f"earns {at_most(to_earn_minor, currency, known=known)} more in "
        f"{hours_and_minutes(minutes_left * MINUTE_US)} hands-on, "
        f"{show_money(hourly_minor(to_earn_minor, minutes_left), currency)} per hour"
        if expectation_known
        else nothing_to_earn
    )
    if days_past_due > 0:
        return f"Past due by {days_past_due} day{'' if days_past_due == 1 else 's'}; {earns}."
    return f"{earns[0].upper()}{earns[1:]}."
