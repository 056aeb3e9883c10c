"""What the shop's own sales say: what units of a model fetched, and what a week of waiting costs."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from statistics import NormalDist

from bench.domain.amounts import Minor
from bench.domain.money import show_money
from bench.domain.percent import show_percent
from bench.domain.statistics_of_work import median, percentile

FEW_SOLD = 3  # fewer are told one by one, but suggest nothing (common practice, no source)
FEW_REPEATED = (
    8  # sales of models sold more than once, from which a fall may be told (common practice, no source)
)
CONFIDENCE = 0.95


@dataclass(frozen=True, slots=True)
class OwnSale:
    """A unit of the shop's own that was sold and stayed sold: `net_minor` is its price less refunds.

    `listed_days`: how long it was offered before; None where it never stood at a stage that lists.
    """

    sale_id: int
    unit_id: int
    tag: str
    model: str
    sold_on: date
    net_minor: Minor
    listed_days: int | None


@dataclass(frozen=True, slots=True)
class Fall:
    """How prices of the same model fall, a week, as shares in 10,000ths; below 0 they rise.

    `low_per_10000`, `high_per_10000`: 95 % of such intervals hold the true fall. `sales`: those behind it.
    """

    weekly_per_10000: int
    low_per_10000: int
    high_per_10000: int
    sales: int

    @property
    def told(self) -> bool:
        """Whether the interval leaves no doubt that prices fall."""
        return self.low_per_10000 > 0


@dataclass(frozen=True, slots=True)
class OwnPrices:
    """What units of one model fetched, newest first, and how prices fall with time.

    `fall`: None while fewer than FEW_REPEATED sales of models sold more than once tell. `repeated`: how
    many do.
    """

    model: str
    sales: tuple[OwnSale, ...]
    fall: Fall | None
    repeated: int
    expected_minor: Minor | None
    today: date
    currency: str
    zone: str

    @property
    def suggested_minor(self) -> Minor | None:
        """The median of what they fetched, halves up; None while there are too few."""
        prices = [sale.net_minor for sale in self.sales]
        return math.floor(median(prices) + 0.5) if len(prices) >= FEW_SOLD else None

    @property
    def range_minor(self) -> tuple[Minor, Minor] | None:
        """What the lowest and the highest tenth stayed within; None while there are too few."""
        prices = [sale.net_minor for sale in self.sales]
        if len(prices) < FEW_SOLD:
            return None
        return round(percentile(prices, 0.1)), round(percentile(prices, 0.9))

    @property
    def price_minor(self) -> Minor | None:
        """What a unit is expected to fetch: as typed, else as its own model's sales suggest."""
        return self.suggested_minor if self.expected_minor is None else self.expected_minor

    @property
    def week_costs_minor(self) -> Minor | None:
        """What waiting a week costs of that price; None where a fall cannot be told."""
        if self.fall is None or not self.fall.told or self.price_minor is None:
            return None
        return (2 * self.price_minor * self.fall.weekly_per_10000 + 10_000) // 20_000

    @property
    def words(self) -> str:
        """One sentence on what the model fetched, with how many and how old they are."""
        if not self.sales:
            return f"No {self.model} was sold yet."
        newest, oldest = (_ago((self.today - self.sales[at].sold_on).days) for at in (0, -1))
        count = len(self.sales)
        if count == 1:
            price = show_money(self.sales[0].net_minor, self.currency)
            return f"1 sold, {newest}, for {price}: too few to go by."
        when = newest if newest == oldest else f"the newest {newest}, the oldest {oldest}"
        if self.suggested_minor is None or self.range_minor is None:
            return f"{count} sold, {when}: too few to go by."
        low, high = (show_money(one, self.currency) for one in self.range_minor)
        middle = show_money(self.suggested_minor, self.currency)
        return f"{count} sold, {when}: 50 % fetched {middle} or more, 80 % {low} to {high}."

    @property
    def fall_words(self) -> str:
        """One sentence on what a week of waiting costs, or why that cannot be told."""
        if self.fall is None:
            return (
                f"What a week of waiting costs cannot be told: {self.repeated} of {FEW_REPEATED} sales "
                "of models sold more than once."
            )
        spread = f"{show_percent(self.fall.low_per_10000)} to {show_percent(self.fall.high_per_10000)}"
        behind = f"from {self.fall.sales} sales of models sold more than once"
        if not self.fall.told:
            return f"No fall of prices can be told {behind}: {spread} a week."
        share = f"{show_percent(self.fall.weekly_per_10000)} a week ({spread}), {behind}"
        if self.week_costs_minor is None:
            return f"Prices fall by {share}."
        return f"A week of waiting costs {show_money(self.week_costs_minor, self.currency)}: {share}."


def weekly_fall(sales: Iterable[OwnSale]) -> tuple[Fall | None, int]:
    """The fall of prices in a week within models, and how many sales tell of it.

    The median of the slopes of ln(price) over weeks between all pairs of sales of one model, with its 95 %
    interval by Kendall's variance summed over the models.
    Sources: Sen, Estimates of the regression coefficient based on Kendall's tau, JASA 63 (1968), 1379-1389;
    Hirsch, Slack and Smith, Techniques of trend analysis for monthly water quality data, Water Resources
    Research 18 (1982), 107-121 (groups summed). Fewer than FEW_REPEATED sales tell nothing.
    """
    groups: dict[str, list[tuple[float, float]]] = {}
    for sale in sales:
        if sale.net_minor > 0:
            point = (sale.sold_on.toordinal() / 7, math.log(sale.net_minor))
            groups.setdefault(sale.model.casefold(), []).append(point)
    told = [points for points in groups.values() if len(points) > 1]
    repeated = sum(map(len, told))
    slopes = sorted(slope for points in told for slope in _slopes(points))
    if repeated < FEW_REPEATED or not slopes:
        return None, repeated
    reach = NormalDist().inv_cdf((1 + CONFIDENCE) / 2) * math.sqrt(sum(map(_variance, told)))
    last = len(slopes) - 1
    steepest = slopes[min(max(round((len(slopes) - reach) / 2) - 1, 0), last)]
    flattest = slopes[max(min(round((len(slopes) + reach) / 2), last), 0)]
    fall = Fall(_share(median(slopes)), _share(flattest), _share(steepest), repeated)
    return fall, repeated


def _slopes(points: Sequence[tuple[float, float]]) -> Iterable[float]:
    for at, (week, price) in enumerate(points):
        for other_week, other_price in points[at + 1 :]:
            if week != other_week:
                yield (other_price - price) / (other_week - week)


def _variance(points: Sequence[tuple[float, float]]) -> float:
    """Kendall's variance of S with ties in either (Kendall, Rank Correlation Methods)."""
    ties = (Counter(column) for column in zip(*points, strict=True))
    tied = sum(_term(count) for column in ties for count in column.values())
    return max(0.0, (_term(len(points)) - tied) / 18)


def _term(count: int) -> int:
    return count * (count - 1) * (2 * count + 5)


def _share(slope: float) -> int:
    return round((1 - math.exp(slope)) * 10_000)


def _ago(days: int) -> str:
    if days <= 0:
        return "today"
    return "yesterday" if days == 1 else f"{days} days ago"
