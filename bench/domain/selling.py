"""When a unit may be sold and until when the shop answers for it: waiting period and warranty."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from bench.domain.amounts import Minor


@dataclass(frozen=True, slots=True)
class Sold:
    """A unit sold. Money in minor units of `currency`. `shipping_minor`: None where it was not typed.

    `finished`, `skipped`: tasks that were still open; `low`: consumables that ran low with them.
    """

    sale_id: int
    unit_id: int
    tag: str
    sold_on: date
    price_minor: Minor
    fee_minor: Minor
    shipping_minor: Minor | None
    tax_minor: Minor
    warranty_until: date | None
    currency: str
    finished: int = 0
    skipped: int = 0
    low: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Returned:
    """A unit back in the queue, linked to its sale. `undoes`: the sale is undone and the unit is the shop's.

    `postage_minor`: what the way back cost; None: not known.
    """

    comeback_id: int
    sale_id: int
    unit_id: int
    tag: str
    stage: str
    refund_minor: Minor
    currency: str
    fee_back_minor: Minor = 0
    postage_minor: Minor | None = None
    undoes: bool = False


def warranty_until(sold_on: date, days: int) -> date | None:
    """The last day of a warranty of so many days; None for no warranty."""
    return sold_on + timedelta(days=days) if days else None


def hold_ends(bought_on: date | None, hold_days: int) -> date | None:
    """The first day on which a unit may be altered or sold; None where no waiting period applies.

    With 14 days, a unit bought on the 1st is free from the 15th on. Local code first: a shop whose code
    counts the day of purchase otherwise sets one day more or less.
    """
    if bought_on is None or hold_days <= 0:
        return None
    return bought_on + timedelta(days=hold_days)
