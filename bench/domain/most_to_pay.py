"""Before paying: the most to pay, with every line of the sum and what it rests on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from bench.domain.amounts import Length, Minor, Thousandths
from bench.domain.layers import Layer, draw_oldest
from bench.domain.margin_tax import margin_tax_minor
from bench.domain.unit_money import MoneyLine, fee_minor, labour_minor, total

FROM_STOCK = "from stock, oldest first"
PART_STOCK = "what is in stock, the rest at the newest price"
NEWEST = "at the newest price"
NO_PRICE = "no price known"


@dataclass(frozen=True, slots=True)
class UseCost:
    """What a route takes of a consumable (thousandths of `base_unit`), what it costs, and by which price."""

    consumable_id: int
    name: str
    base_unit: str
    quantity: Thousandths
    cost_minor: Minor
    basis: str


def cost_of_use(layers: Sequence[Layer], quantity: int, newest: tuple[int, int] | None) -> tuple[int, str]:
    """The cost of a quantity (thousandths) in minor units, and the words for which price it rests on.

    `newest`: quantity and cost of the newest priced receipt. Rounding: halves up.
    """
    drawn = min(sum(layer.quantity for layer in layers), quantity)
    cost = sum(draw.cost_minor for draw in draw_oldest(layers, drawn)) if drawn else 0
    missing = quantity - drawn
    if not missing:
        return cost, FROM_STOCK if any(layer.cost_minor for layer in layers) else NO_PRICE
    if newest is None:
        return cost, NO_PRICE
    received, paid = newest
    cost += (2 * paid * missing + received) // (2 * received)
    return cost, PART_STOCK if drawn else NEWEST


# The lines of the sum, and where the rows behind one are opened.
EXPECTED, FEES, PARTS, CONSUMABLES = "expected", "fees", "parts", "consumables"
TIME, RESERVE, MARGIN, TAX = "time", "reserve", "margin", "tax"
SHIPPING, FREIGHT, PREMIUM = "shipping", "freight", "premium"


@dataclass(frozen=True, slots=True)
class TimeGuess:
    """Hands-on time a job will take. `jobs`: how many finished jobs of the route there are, 0 for none."""

    median_us: Length
    p80_us: Length
    jobs: int


@dataclass(frozen=True, slots=True)
class Basis:
    """What a line rests on: how many rows can be opened behind it, and a note in plain words."""

    rows: int
    note: str = ""


@dataclass(frozen=True, slots=True)
class MostToPay:
    """The most to pay, at the median time and at the 80th percentile, and the lines that make it up."""

    lines: tuple[MoneyLine, ...]
    lines_80: tuple[MoneyLine, ...]
    price_minor: Minor
    price_80_minor: Minor
    based_on: str


FEW_JOBS = 5


def most_to_pay_for(
    *,
    expected_minor: int,
    fee_per_10000: int,
    fee_fixed_minor: int,
    parts_minor: int,
    consumables_minor: int,
    time: TimeGuess,
    rate_minor_per_hour: int,
    reserve_per_10000: int,
    wanted_margin_minor: int,
    tax_per_10000: int = 0,
    shipping_minor: int | None = None,
    freight_minor: int | None = None,
    premium_per_10000: int | None = None,
    basis: Mapping[str, Basis] | None = None,
) -> MostToPay:
    """Expected sale price less fees, parts, consumables, hands-on time, risk reserve and wanted margin.

    The reserve is a share of the expected price, halves up. With a margin scheme on, the tax depends on the
    price paid: the answer is the highest price at which all is still covered, to the minor unit.
    `shipping_minor`: to the buyer. `freight_minor`: to bring it here. `premium_per_10000`: a buyer's premium
    on the price, halves up: the answer is the price without it. None of these: not typed, no line. The
    premium is a part of what is paid for the goods, so the margin's tax counts it; freight is not (EU
    Directive 2006/112/EC, Article 312: purchase price is all that the supplier obtains; from memory).
    `basis`: by line, what it rests on; a line without one was typed and has no rows behind it.
    `time`: estimates while its jobs are fewer than FEW_JOBS, and the lines say so.
    """
    rests_on = basis or {}

    def line(what: str, words: str, amount_minor: int) -> MoneyLine:
        known = rests_on.get(what, Basis(0))
        return MoneyLine(words, amount_minor, what if known.rows else "", known.rows, known.note)

    def lines(hands_on_us: int, words: str) -> tuple[MoneyLine, ...]:
        fees = fee_minor(expected_minor, fee_per_10000, fee_fixed_minor)
        return (
            line(EXPECTED, "expected price", expected_minor),
            line(FEES, "channel fees", -fees),
            line(PARTS, "parts", -parts_minor),
            line(CONSUMABLES, "consumables, as the route says", -consumables_minor),
            line(TIME, words, -labour_minor(hands_on_us, rate_minor_per_hour)),
            line(RESERVE, "risk reserve", -fee_minor(expected_minor, reserve_per_10000, 0)),
            line(MARGIN, "margin wanted", -wanted_margin_minor),
            *(() if shipping_minor is None else (line(SHIPPING, "shipping to the buyer", -shipping_minor),)),
            *(() if freight_minor is None else (line(FREIGHT, "inward freight", -freight_minor),)),
        )

    def taxed(upto_tax: tuple[MoneyLine, ...], price: int) -> tuple[MoneyLine, ...]:
        premium = fee_minor(price, premium_per_10000 or 0, 0)
        told = upto_tax
        if premium_per_10000 is not None:
            told = (*upto_tax, line(PREMIUM, "buyer's premium", -premium))
        if not tax_per_10000:
            return told
        tax = margin_tax_minor(price + premium, expected_minor, tax_per_10000)
        return (*told, line(TAX, "tax on the margin (not advice)", -tax))

    few = time.jobs < FEW_JOBS
    middle = lines(time.median_us, "hands-on time, " + ("as estimated" if few else "50 %"))
    careful = lines(time.p80_us, "hands-on time, " + ("as estimated" if few else "80 %"))
    price, price_80 = (
        before_premium(most_to_pay(total(one), expected_minor, tax_per_10000), premium_per_10000 or 0)
        for one in (middle, careful)
    )
    return MostToPay(
        lines=taxed(middle, price),
        lines_80=taxed(careful, price_80),
        price_minor=price,
        price_80_minor=price_80,
        based_on=_based_on(time.jobs),
    )


def most_to_pay(left_minor: int, expected_minor: int, tax_per_10000: int) -> int:
    """The highest price p >= 0 with p + tax(expected - p) <= left: the left side never falls as p grows."""
    if left_minor <= 0:
        return 0
    if margin_tax_minor(0, expected_minor, tax_per_10000) > left_minor:
        return 0
    low, high = 0, left_minor
    while low < high:
        middle = (low + high + 1) // 2
        if middle + margin_tax_minor(middle, expected_minor, tax_per_10000) <= left_minor:
            low = middle
        else:
            high = middle - 1
    return low


def before_premium(paid_minor: int, premium_per_10000: int) -> int:
    """The highest price that with its premium is at most what is paid in all."""
    low, high = 0, paid_minor
    while low < high:
        middle = (low + high + 1) // 2
        if middle + fee_minor(middle, premium_per_10000, 0) <= paid_minor:
            low = middle
        else:
            high = middle - 1
    return low


def _based_on(jobs: int) -> str:
    if jobs == 0:
        return "The time is the route's own estimate: no job of this route has been finished yet."
    if jobs < FEW_JOBS:
        finished = "1 finished job is" if jobs == 1 else f"{jobs} finished jobs are"
        return f"The time is the route's own estimate: {finished} too few to go by."
    return f"The time rests on {jobs} finished jobs of this route."
