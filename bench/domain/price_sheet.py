"""The most to pay as it is shown: the sum, its rows, and the price by the chance of a loss."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from typing import TypeVar

from bench.domain.amounts import Instant, Length, Minor
from bench.domain.money import show_money
from bench.domain.most_to_pay import MostToPay, TimeGuess, UseCost, before_premium, most_to_pay
from bench.domain.percent import show_percent
from bench.domain.unit_money import fee_minor, labour_minor

FEW_SALES = 5
MOST_POINTS = 40  # of each kind; more are thinned evenly: 1,600 cases are plenty for a share in per cent

Point = TypeVar("Point")


@dataclass(frozen=True, slots=True)
class Fetched:
    """What one unit brought over all its sales, less refunds, and what had been expected; minor units."""

    unit_id: int
    net_minor: Minor
    expected_minor: Minor


@dataclass(frozen=True, slots=True)
class PriceAtRisk:
    """The most to pay so that money is lost in at most `chance_per_10000` of the cases.

    `price_minor`: None while fewer than FEW_SALES units tell. `sales`: the units behind it.
    """

    chance_per_10000: int
    price_minor: Minor | None
    sales: int


def price_at_risk(
    *,
    expected_minor: int,
    fetched: Sequence[Fetched],
    times_us: Sequence[int],
    costs_minor: int,
    fee_per_10000: int,
    fee_fixed_minor: int,
    rate_minor_per_hour: int,
    tax_per_10000: int,
    premium_per_10000: int = 0,
    chance_per_10000: int,
) -> PriceAtRisk:
    """Every ratio of what was fetched to what was expected, with every time a job took: each is one case.

    A case bears a price up to which nothing is lost, labour at the shop's rate paid; of all cases the price
    that at most the given share bears no more. Times and ratios are taken as independent.
    `costs_minor`: what the unit takes besides its price, fees, time and tax. `premium_per_10000`: a buyer's
    premium on the price; the answer is the price without it.
    """
    if len(fetched) < FEW_SALES or not times_us:
        return PriceAtRisk(chance_per_10000, None, len(fetched))
    ratios = sorted(fetched, key=lambda one: one.net_minor / one.expected_minor)
    borne = []
    for one, time_us in product(_thinned(ratios), _thinned(sorted(times_us))):
        price = max(0, expected_minor * one.net_minor // one.expected_minor)
        left = price - fee_minor(price, fee_per_10000, fee_fixed_minor) - costs_minor
        borne.append(most_to_pay(left - labour_minor(time_us, rate_minor_per_hour), price, tax_per_10000))
    borne.sort()
    at = min(len(borne) * chance_per_10000 // 10_000, len(borne) - 1)
    return PriceAtRisk(chance_per_10000, before_premium(borne[at], premium_per_10000), len(fetched))


def risk_words(risk: PriceAtRisk, currency: str) -> str:
    """One sentence on the price and what it rests on."""
    share = show_percent(risk.chance_per_10000)
    if risk.price_minor is None:
        return (
            f"The price with at most {share} chance of a loss cannot be told yet: {risk.sales} of "
            f"{FEW_SALES} sold units with an expected price."
        )
    return (
        f"At {show_money(risk.price_minor, currency)} the chance of a loss is at most {share}, by what "
        f"{risk.sales} sold units fetched of what was expected, returns included, and by past times."
    )


def _thinned(points: Sequence[Point]) -> Sequence[Point]:
    """At most MOST_POINTS of them, evenly out of the order they stand in."""
    if len(points) <= MOST_POINTS:
        return points
    return [points[at * (len(points) - 1) // (MOST_POINTS - 1)] for at in range(MOST_POINTS)]


@dataclass(frozen=True, slots=True)
class PriceSheet:
    """The most to pay and how sure it is. Money in minor units of `currency`.

    `doubts`: plain sentences on what the sum leaves out or rests on weakly.
    """

    route_id: int | None
    route: str
    channel_id: int | None
    channel: str
    time: TimeGuess
    answer: MostToPay
    risk: PriceAtRisk
    doubts: tuple[str, ...]
    asking_minor: Minor | None
    currency: str

    @property
    def over_minor(self) -> Minor | None:
        """By how much the asking price lies above the most to pay; below 0 when it lies under it."""
        return None if self.asking_minor is None else self.asking_minor - self.answer.price_minor


@dataclass(frozen=True, slots=True)
class PastJob:
    """A finished job of a route, with the hands-on time it took. `finished_us`: when its last task ended."""

    unit_id: int
    tag: str
    model: str
    hands_on_us: Length
    finished_us: Instant


@dataclass(frozen=True, slots=True)
class PriceRow:
    """A row behind a line of the sum. Amounts in minor units, None where the row is a time or a setting."""

    words: str
    detail: str
    amount_minor: Minor | None = None
    length_us: Length | None = None
    unit_id: int | None = None


@dataclass(frozen=True, slots=True)
class PriceRows:
    """The rows behind one line of the most to pay."""

    title: str
    rows: tuple[PriceRow, ...]
    currency: str
    zone: str


@dataclass(frozen=True, slots=True)
class RouteCost:
    """What a route takes: each consumable with its cost, and the sum in minor units."""

    uses: tuple[UseCost, ...]

    @property
    def cost_minor(self) -> Minor:
        """All the consumables of one job."""
        return sum(use.cost_minor for use in self.uses)
