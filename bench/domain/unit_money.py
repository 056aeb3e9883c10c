"""What a unit has cost, what it brings, and what was earned per hands-on hour on it and on others."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from bench.domain.amounts import Length, Minor
from bench.domain.durations import HOUR_US
from bench.domain.margin_tax import PER, margin_tax_minor
from bench.domain.ways_out import PARTS, SCRAPPED

# Where the rows behind a line can be opened. From CONSUMABLES_USED on they are followed by a row's number.
PURCHASE, TIME = "purchase", "time"
PARTS_BOUGHT, PARTS_IN, PARTS_OUT = "parts bought", "parts in", "parts out"
PARTS_LOST, PARTS_REFUND = "parts lost", "parts refund"
CONSUMABLES_USED, SALE, RETURN, WAY_OUT = "consumables", "sale", "return", "way out"


@dataclass(frozen=True, slots=True)
class MoneyLine:
    """One line of a sum, signed as it enters; None: not typed, and left out of the sum.

    `opens` names the rows behind it, `rows` counts them.

    `note`: what the amount rests on, in plain words. `on`: the day that its words name.
    """

    words: str
    amount_minor: Minor | None
    opens: str
    rows: int = 1
    note: str = ""
    on: date | None = None


@dataclass(frozen=True, slots=True)
class UnitMoney:
    """A unit's money. `cost_so_far`: without labour; `proceeds`: prices less fees, tax, refunds.

    `sold`: it has been sold and has left; back in the queue after a return it is not, until it leaves again.
    `margin_minor`: brought less landed; None while it is not sold. Labour stands apart, at the shop's rate.
    `break_even_minor`: the price, through `channel`, that brings back what is not brought back yet.
    `way`: how it left, nothing while it is in the queue. `owner`: whose it is, where it was never bought.
    `after_return_us`: the part of the hands-on time that came after the unit's first return.
    """

    unit_id: int
    tag: str
    currency: str
    cost_so_far: tuple[MoneyLine, ...]
    proceeds: tuple[MoneyLine, ...]
    hands_on_us: Length
    rate_minor_per_hour: int
    sold: bool
    expected_minor: Minor | None
    break_even_minor: Minor
    model: str = ""
    channel: str = ""
    after_return_us: Length = 0
    zone: str = "UTC"
    way: str = ""
    owner: str = ""

    @property
    def lost_minor(self) -> Minor | None:
        """What is lost with a unit that was scrapped or broken for parts; None for any other."""
        return self.cost_so_far_minor - self.proceeds_minor if self.way in (SCRAPPED, PARTS) else None

    @property
    def missing(self) -> tuple[str, ...]:
        """What was not typed and is left out of the sums: costs, or the price of a repair."""
        return tuple(line.words for line in (*self.cost_so_far, *self.proceeds) if line.amount_minor is None)

    @property
    def complete(self) -> bool:
        """Whether nothing is missing from its sums."""
        return not self.missing

    @property
    def cost_so_far_known(self) -> bool:
        """Whether nothing is missing of what it has cost; otherwise that is at least as much."""
        return all(line.amount_minor is not None for line in self.cost_so_far)

    @property
    def proceeds_known(self) -> bool:
        """Whether nothing is missing of what it brought."""
        return all(line.amount_minor is not None for line in self.proceeds)

    @property
    def cost_so_far_minor(self) -> Minor:
        """Cost so far: price or share of the lot, parts, consumables."""
        return total(self.cost_so_far)

    @property
    def proceeds_minor(self) -> Minor:
        """What it has brought so far: prices less fees, shipping, tax and refunds."""
        return total(self.proceeds)

    @property
    def labour_minor(self) -> Minor:
        """Hands-on hours at the shop's rate, halves up."""
        return labour_minor(self.hands_on_us, self.rate_minor_per_hour)

    @property
    def margin_minor(self) -> Minor | None:
        """What the unit brought less what it cost, before labour."""
        if not self.sold:
            return None
        return self.proceeds_minor - self.cost_so_far_minor

    @property
    def per_hour_minor(self) -> Minor | None:
        """Margin per hands-on hour, halves up; None while unsold or without a minute at the bench."""
        return per_hour_minor(self.margin_minor, self.hands_on_us)


def labour_minor(hands_on_us: int, rate_minor_per_hour: int) -> int:
    """Hands-on time at an hourly rate, in minor units, halves up."""
    return (2 * hands_on_us * rate_minor_per_hour + HOUR_US) // (2 * HOUR_US)


def per_hour_minor(margin_minor: int | None, hands_on_us: int) -> int | None:
    """A margin divided by hands-on hours, to the nearest minor unit, halves up."""
    if margin_minor is None or hands_on_us <= 0:
        return None
    return (2 * margin_minor * HOUR_US + hands_on_us) // (2 * hands_on_us)


def fee_minor(price_minor: int, per_10000: int, fixed_minor: int) -> int:
    """A channel's fee on a price: a share, halves up, and a fixed amount."""
    return (2 * price_minor * per_10000 + PER) // (2 * PER) + fixed_minor


def break_even_minor(
    cost_so_far_minor: int, purchase_minor: int, fee_per_10000: int, fee_fixed_minor: int, tax_per_10000: int
) -> int:
    """The lowest price that brings back the cost so far after fees and margin tax, in minor units.

    Found by halving, since the price left over grows with the price but for its roundings.
    """

    def left(price: int) -> int:
        fees = fee_minor(price, fee_per_10000, fee_fixed_minor)
        return price - fees - margin_tax_minor(purchase_minor, price, tax_per_10000) - cost_so_far_minor

    low, high = 0, 1
    while left(high) < 0 and high < 10**18:
        low, high = high, high * 2
    while low < high:
        middle = (low + high) // 2
        if left(middle) >= 0:
            high = middle
        else:
            low = middle + 1
    return low


def opens_number(what: str, number: int) -> str:
    """Where the rows of one consumable, sale or return are opened."""
    return f"{what} {number}"


def total(lines: Iterable[MoneyLine]) -> int:
    """The sum of what is known of some lines, in minor units."""
    return sum(line.amount_minor or 0 for line in lines)


@dataclass(frozen=True, slots=True)
class SoldUnit:
    """A unit that is sold: its margin before labour, and the hands-on time ever spent on it.

    `missing`: costs of it that were not typed; the margin is then at most as much.
    """

    unit_id: int
    tag: str
    model: str
    sold_on: date
    margin_minor: Minor
    hands_on_us: Length
    missing: tuple[str, ...] = ()

    @property
    def per_hour_minor(self) -> Minor | None:
        """Its margin by its hours; None without any."""
        return per_hour_minor(self.margin_minor, self.hands_on_us)


@dataclass(frozen=True, slots=True)
class Earned:
    """What units earned. `units`, `margin_minor`, `hands_on_us`: of those sold in the span and still sold.

    `incomplete`: units of which a cost was not typed; with any, the margin is at most as much.
    `spent_us`: hands-on time within the span on all units of the kind, sold or not.
    """

    name: str
    units: int
    margin_minor: Minor
    hands_on_us: Length
    spent_us: Length
    incomplete: int = 0

    @property
    def per_hour_minor(self) -> Minor | None:
        """Margin by all the hours spent on what was sold; None without any."""
        return per_hour_minor(self.margin_minor, self.hands_on_us) if self.units else None

    @property
    def per_spent_hour_minor(self) -> Minor | None:
        """The same margin by the hours spent within the span; None without any."""
        return per_hour_minor(self.margin_minor, self.spent_us)


def earned(name: str, sold: Iterable[SoldUnit], spent_us: int) -> Earned:
    """The sum of some units sold, beside the time spent within the span on all of their kind."""
    units = list(sold)
    margin = sum(one.margin_minor for one in units)
    incomplete = sum(bool(one.missing) for one in units)
    return Earned(name, len(units), margin, sum(one.hands_on_us for one in units), spent_us, incomplete)
