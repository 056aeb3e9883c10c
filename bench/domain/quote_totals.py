"""What a quote or a bill comes to: lines net, tax by rate, total. Whole minor units, halves up.

Source: EN 16931-1 (the European standard for invoices), its business rules as published with the code of
the validation artefacts: BR-CO-10 (sum of the lines' net amounts), BR-CO-11 and BR-CO-13 (less allowances),
BR-CO-14 and BR-CO-15 (tax is the sum of the tax of each rate, the total is net plus tax), BR-CO-17 (the tax
of a rate is the taxable amount times the rate, rounded to two decimals). It rounds once for each rate, never
line by line. Rules quoted from memory; halves away from zero as its rounding function has them.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from bench.domain.amounts import Minor, Thousandths
from bench.domain.percent import PER
from bench.domain.quantities import THOUSANDTHS
from bench.domain.text import quoted
from bench.errors import BadInput

PART, LABOUR, OTHER, ALLOWANCE = "parts", "labour", "other", "allowance"
KINDS = (PART, LABOUR, OTHER, ALLOWANCE)


@dataclass(frozen=True, slots=True)
class Priced:
    """What a line asks for: thousandths of a piece or hour, the price of one without tax, the tax's rate."""

    kind: str
    quantity: Thousandths
    price_minor: Minor
    tax_per_10000: int

    @property
    def net_minor(self) -> Minor:
        """What it comes to without tax; an allowance lowers the sum."""
        net = (2 * self.quantity * self.price_minor + THOUSANDTHS) // (2 * THOUSANDTHS)
        return -net if self.kind == ALLOWANCE else net


@dataclass(frozen=True, slots=True)
class TaxOfRate:
    """The lines of one rate together: what is taxed, and the tax on it."""

    tax_per_10000: int
    net_minor: Minor
    tax_minor: Minor


@dataclass(frozen=True, slots=True)
class QuoteTotal:
    """What lines come to. `taxes`: each rate above 0, the lowest first."""

    net_minor: Minor
    taxes: tuple[TaxOfRate, ...]
    tax_minor: Minor
    total_minor: Minor


def quote_total(lines: Iterable[Priced]) -> QuoteTotal:
    """The sum of the lines: net, tax by rate, total. Nothing comes to 0."""
    nets: defaultdict[int, int] = defaultdict(int)
    for line in lines:
        nets[line.tax_per_10000] += line.net_minor
    taxes = tuple(TaxOfRate(rate, net, tax_of(net, rate)) for rate, net in sorted(nets.items()) if rate)
    net, tax = sum(nets.values()), sum(one.tax_minor for one in taxes)
    return QuoteTotal(net, taxes, tax, net + tax)


def tax_of(net_minor: int, tax_per_10000: int) -> int:
    """The tax on a net amount, in minor units; a half is rounded away from 0."""
    tax = (2 * abs(net_minor) * tax_per_10000 + PER) // (2 * PER)
    return -tax if net_minor < 0 else tax


def tax_within(gross_minor: int, tax_per_10000: int) -> int:
    """The tax that an amount contains, in minor units, halves up: amount x r / (1 + r)."""
    whole = PER + tax_per_10000
    return (2 * gross_minor * tax_per_10000 + whole) // (2 * whole)


def read_amount(text: str, kind: str) -> int:
    """Thousandths of a piece or an hour: 2, 1.5, 1,5, and of hours 1:30 or 90 min. One for nothing typed."""
    typed = text.strip().casefold()
    if not typed:
        return THOUSANDTHS
    if kind == LABOUR:
        minutes = re.fullmatch(r"(?:([0-9]{1,4})\s*(?:h|:)\s*)?([0-9]{1,4})(?:\s*min)?", typed)
        if minutes and (minutes[1] or typed.endswith("min")):
            whole = int(minutes[1] or 0) * 60 + int(minutes[2])
            return _above_0((2 * whole * THOUSANDTHS + 60) // 120, text)
        typed = typed.removesuffix("h").strip()
    found = re.fullmatch(r"([0-9]{1,6})(?:[.,]([0-9]{1,3}))?", typed)
    if found is None:
        raise BadInput(f"{quoted(text)} is not a quantity.", "Write a number, such as 2 or 1.5.")
    return _above_0(int(found[1]) * THOUSANDTHS + int((found[2] or "").ljust(3, "0")), text)


def _above_0(quantity: int, text: str) -> int:
    if not quantity:
        raise BadInput(f"{quoted(text)} is nothing.", "Give more than 0.")
    return quantity
