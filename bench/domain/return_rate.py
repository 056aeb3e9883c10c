"""How many sold units come back, how sure that is, and what it takes to put by for it from each sale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor

from bench.domain.amounts import Minor
from bench.domain.percent import show_percent
from bench.domain.rates import CONFIDENCE, interval, trials_to_claim

FEW_SALES = 30  # common practice, no source
SETTLED_DAYS = 30  # most of what comes back has by then; common practice, no source
WHOLE = 10_000


@dataclass(frozen=True, slots=True)
class SaleBack:
    """A sale that came back. `lost_minor`: what its returns took, as far as it was typed; not below 0."""

    sale_id: int
    unit_id: int
    tag: str
    model: str
    price_minor: Minor
    lost_minor: Minor


@dataclass(frozen=True, slots=True)
class Rate:
    """A share that was counted, in parts per 10,000, and its interval at 95 %, the ends rounded outwards."""

    events: int
    trials: int
    share_per_10000: int
    low_per_10000: int
    high_per_10000: int


@dataclass(frozen=True, slots=True)
class ReturnRate:
    """The rate of returns over sales of at least SETTLED_DAYS ago.

    `lost_per_10000`: what a return takes of its price on average; the whole price while none came back.
    `reserve_per_10000`: to put by of each price; None while fewer than FEW_SALES sales tell.
    """

    rate: Rate | None
    back: tuple[SaleBack, ...]
    lost_per_10000: int
    reserve_per_10000: int | None
    sales: int


def rate_words(rate: Rate) -> str:
    """A rate with its interval: 7.32 % (95 %: 1.53 % to 19.93 %)."""
    ends = f"{show_percent(rate.low_per_10000)} to {show_percent(rate.high_per_10000)}"
    return f"{show_percent(rate.share_per_10000)} (95 %: {ends})"


def rate_of(events: int, trials: int) -> Rate | None:
    """The rate with its interval; None where nothing was tried."""
    if not trials:
        return None
    low, high = interval(events, trials, CONFIDENCE)
    share = (2 * events * WHOLE + trials) // (2 * trials)
    return Rate(events, trials, share, floor(low * WHOLE), min(ceil(high * WHOLE), WHOLE))


def return_rate(sales: int, back: Sequence[SaleBack]) -> ReturnRate:
    """The rate, and the reserve: the upper end of its interval times what a return takes of its price.

    The upper end, so that a few lucky sales put by no less than they prove. A return that took more than its
    price counts as the whole of it.
    """
    rate = rate_of(len(back), sales)
    prices = sum(one.price_minor for one in back)
    lost = sum(min(one.lost_minor, one.price_minor) for one in back)
    share = (2 * lost * WHOLE + prices) // (2 * prices) if prices else WHOLE
    reserve = None
    if rate is not None and sales >= FEW_SALES:
        reserve = -(-rate.high_per_10000 * share // WHOLE)
    return ReturnRate(rate, tuple(back), share, reserve, sales)


def sales_to_claim(most_per_10000: int, returns: int) -> int:
    """How many sales with so many returns at most would show, at 95 %, a rate below that share."""
    return trials_to_claim(most_per_10000 / WHOLE, events=returns, confidence=CONFIDENCE)
