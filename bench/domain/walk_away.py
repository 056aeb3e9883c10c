"""Before paying: the price at which to walk away, with every line of the sum."""

from __future__ import annotations

from dataclasses import dataclass

from bench.domain.margin_tax import margin_tax_minor
from bench.domain.unit_money import MoneyLine, fee_minor, labour_minor, total


@dataclass(frozen=True, slots=True)
class TimeGuess:
    """Attended time a job will take. `jobs`: how many finished jobs of the route it rests on, 0 for none."""

    median_us: int
    p80_us: int
    jobs: int


@dataclass(frozen=True, slots=True)
class WalkAway:
    """The most to pay, at the median time and at the 80th percentile, and the lines that make it up."""

    lines: tuple[MoneyLine, ...]
    careful_lines: tuple[MoneyLine, ...]
    price_minor: int
    careful_price_minor: int
    sure: str


FEW_JOBS = 5


def walk_away(
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
) -> WalkAway:
    """Expected sale price less fees, parts, consumables, attended time, risk reserve and wanted margin.

    The reserve is a share of the expected price, halves up. With a margin scheme on, the tax depends on the
    price paid: the answer is the highest price at which all is still covered, to the minor unit.
    """

    def lines(attended_us: int, words: str) -> tuple[MoneyLine, ...]:
        return (
            MoneyLine("expected sale price", expected_minor, "", 0),
            MoneyLine(
                "fees of the channel", -fee_minor(expected_minor, fee_per_10000, fee_fixed_minor), "", 0
            ),
            MoneyLine("parts", -parts_minor, "", 0),
            MoneyLine("consumables, as the route says", -consumables_minor, "route", 0),
            MoneyLine(words, -labour_minor(attended_us, rate_minor_per_hour), "time", time.jobs),
            MoneyLine("risk reserve", -fee_minor(expected_minor, reserve_per_10000, 0), "", 0),
            MoneyLine("margin wanted", -wanted_margin_minor, "", 0),
        )

    middle = lines(time.median_us, "attended time, median")
    careful = lines(time.p80_us, "attended time, 80th percentile")
    return WalkAway(
        lines=_with_tax(middle, expected_minor, tax_per_10000),
        careful_lines=_with_tax(careful, expected_minor, tax_per_10000),
        price_minor=_most_to_pay(total(middle), expected_minor, tax_per_10000),
        careful_price_minor=_most_to_pay(total(careful), expected_minor, tax_per_10000),
        sure=_how_sure(time.jobs),
    )


def _most_to_pay(left_minor: int, expected_minor: int, tax_per_10000: int) -> int:
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


def _with_tax(lines: tuple[MoneyLine, ...], expected_minor: int, tax_per_10000: int) -> tuple[MoneyLine, ...]:
    if not tax_per_10000:
        return lines
    price = _most_to_pay(total(lines), expected_minor, tax_per_10000)
    tax = margin_tax_minor(price, expected_minor, tax_per_10000)
    return (*lines, MoneyLine("tax on the margin (not advice)", -tax, "", 0))


def _how_sure(jobs: int) -> str:
    if jobs == 0:
        return "The time is the route's own estimate: no job of this route has been finished yet."
    if jobs < FEW_JOBS:
        return f"The time rests on {jobs} finished job{'s' if jobs > 1 else ''} and the route's estimates."
    return f"The time rests on {jobs} finished jobs of this route."
