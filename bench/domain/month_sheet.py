"""A month or a year: what an hour at the bench earned, what is tied up, what is slow, what was used."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bench.domain.earned import Earned, SoldUnit
from bench.domain.spans import Span
from bench.domain.unit_money import MoneyLine, total

RULE = (
    "Earned: the margin of units sold in the span, as each unit's own money has it, by all attended hours "
    "ever spent on them. A sale stands while its unit is repaired, and ends where it is undone. Scrapped "
    "units are a loss when they are scrapped. Stock and queue are as of now."
)


@dataclass(frozen=True, slots=True)
class TiedUp:
    """Units not sold yet and their landed cost: at one stage, or kept for parts.

    `unpriced`: units whose price was not typed; with any, the cost is at least as much.
    """

    name: str
    units: int
    landed_minor: int
    unpriced: int = 0


@dataclass(frozen=True, slots=True)
class SlowUnit:
    """A unit long in the queue. `days`: since it came, or came back. Estimate: of its attended tasks."""

    unit_id: int
    tag: str
    model: str
    stage: str
    held: str | None
    since_us: int
    days: int
    attended_us: int
    estimate_minutes: int


@dataclass(frozen=True, slots=True)
class UsedUp:
    """A consumable issued in the span, in thousandths of `base_unit`, and how many units took of it."""

    consumable_id: int
    name: str
    base_unit: str
    quantity: int
    cost_minor: int
    units: int

    @property
    def per_unit(self) -> int:
        """What a unit that took of it took on average, in thousandths, halves up."""
        return (2 * self.quantity + self.units) // (2 * self.units)

    @property
    def cost_per_unit_minor(self) -> int:
        """What that cost a unit, halves up."""
        return (2 * self.cost_minor + self.units) // (2 * self.units)


@dataclass(frozen=True, slots=True)
class MonthSheet:
    """A month or a year in the shop's zone. `lines` add up to the margin of the units sold.

    `unsold`: what was earned and lost beside the margins: owners' repairs, scrap, units broken for parts.
    `kept`: what left stock without a loss, for the shop's own use.
    `by_month` is empty for a month. `tied_up`, `slowest`: as of `read_us`, the longest first.
    """

    span: Span
    first: date
    last: date
    shop: str
    currency: str
    zone: str
    read_us: int
    total: Earned
    lines: tuple[MoneyLine, ...]
    unsold: tuple[MoneyLine, ...]
    kept: tuple[MoneyLine, ...]
    sold: tuple[SoldUnit, ...]
    unpriced_repairs: tuple[str, ...]
    unpriced_losses: tuple[str, ...]
    by_month: tuple[Earned, ...]
    by_route: tuple[Earned, ...]
    by_source: tuple[Earned, ...]
    by_maker: tuple[Earned, ...]
    returns: int
    refunds_minor: int
    tied_up: tuple[TiedUp, ...]
    slowest: tuple[SlowUnit, ...]
    used: tuple[UsedUp, ...]
    used_units: int

    @property
    def missing(self) -> tuple[str, ...]:
        """What was not typed and is left out of the sums, each with the unit's tag."""
        costs = tuple(f"{one.tag} {', '.join(one.missing)}" for one in self.sold if one.missing)
        return (
            *costs,
            *(f"{tag} price of the repair" for tag in self.unpriced_repairs),
            *self.unpriced_losses,
        )

    @property
    def tied_up_known(self) -> bool:
        """Whether every unit not sold yet has a price; otherwise more is tied up."""
        return not any(line.unpriced for line in self.tied_up)

    @property
    def result_minor(self) -> int:
        """The margins of what was sold, and what was earned and lost beside them."""
        return self.total.margin_minor + total(self.unsold)

    @property
    def tied_up_minor(self) -> int:
        """All that lies in units not sold yet."""
        return sum(line.landed_minor for line in self.tied_up)

    @property
    def used_minor(self) -> int:
        """What all consumables issued in the span cost."""
        return sum(line.cost_minor for line in self.used)

    @property
    def used_per_unit_minor(self) -> int | None:
        """That for each unit that took any, halves up; None when none did."""
        if not self.used_units:
            return None
        return (2 * self.used_minor + self.used_units) // (2 * self.used_units)
