"""Electricity of soak tests and wipes: watts, machine time and the price of a kilowatt hour, as an estimate.

It enters no sum of money: what was paid for electricity is the bill, typed as an expense. Watt hours are
W x h, a kilowatt hour is 1000 of them: SI Brochure, 9th edition (BIPM 2019; from memory), table 8 gives the
hour as 3600 s, table 4 the watt as J/s, so that 1 kWh = 3.6 MJ.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from bench.domain.amounts import Length, Minor, Thousandths
from bench.domain.durations import HOUR_US
from bench.domain.money import minor_digits, show_money
from bench.domain.quantities import plain_number
from bench.domain.text import quoted
from bench.errors import BadInput

MOST_WATTS = 5_000
PER_MWH = 1_000  # kilowatt hours in a megawatt hour: the price is kept for that many, in whole minor units
MORE_DECIMALS = 3
_PRICE = re.compile(r"([0-9]{1,6})(?:[.,]([0-9]{1,7}))?")
NOT_COUNTED = "an estimate, in no total: the bill counts, typed as an expense"


@dataclass(frozen=True, slots=True)
class MachineTime:
    """How long one kind of task ran by itself, and what it draws meanwhile; None: the shop's usual watts."""

    task: str
    us: Length
    watts: int | None


@dataclass(frozen=True, slots=True)
class MachinePower:
    """What machine time took: thousandths of a kilowatt hour, and what they cost; None: no price is set.

    `unknown_us`: machine time of which no watts are known, left out.
    """

    us: Length
    kwh: Thousandths
    cost_minor: Minor | None
    unknown_us: Length


def machine_power(
    times: Iterable[MachineTime], usual_watts: int | None, mwh_price_minor: int | None
) -> MachinePower:
    """Energy and cost of some machine time, each rounded once, halves up.

    `usual_watts`: of a task that has none of its own. `mwh_price_minor`: of 1000 kWh, in minor units.
    """
    told = [(one.us, usual_watts if one.watts is None else one.watts) for one in times]
    watt_us = sum(us * watts for us, watts in told if watts is not None)
    unknown = sum(us for us, watts in told if watts is None)
    kwh = (2 * watt_us + HOUR_US) // (2 * HOUR_US)  # watt hours are thousandths of a kilowatt hour
    cost = None
    if mwh_price_minor is not None:
        whole = HOUR_US * 1000 * PER_MWH
        cost = (2 * watt_us * mwh_price_minor + whole) // (2 * whole)
    return MachinePower(sum(us for us, _ in told), kwh, cost, unknown)


def power_words(power: MachinePower, currency: str) -> str:
    """Energy and cost in words, such as 1.25 kWh, 0.40 EUR."""
    cost = "" if power.cost_minor is None else f", {show_money(power.cost_minor, currency)}"
    return f"{plain_number(power.kwh)} kWh{cost}"


def read_kwh_price(text: str, currency: str) -> int:
    """The price of a kilowatt hour as minor units for 1000 of them: 0.3214 is 32140 cents."""
    number = " ".join(text.split()).removesuffix(currency).strip()
    found, digits = _PRICE.fullmatch(number), minor_digits(currency) + MORE_DECIMALS
    if found is None:
        raise BadInput(f"{quoted(text)} is no price of a kWh.", "Write a number, such as 0.3214.")
    fraction = found[2] or ""
    if len(fraction) > digits:
        raise BadInput(f"{quoted(text)} has too many decimals.", f"Give at most {digits}.")
    return int(found[1] + fraction.ljust(digits, "0"))


def show_kwh_price(mwh_price_minor: int, currency: str) -> str:
    """The price of a kilowatt hour with all its decimals, such as 0.3214 EUR."""
    digits = minor_digits(currency) + MORE_DECIMALS
    whole, fraction = divmod(mwh_price_minor, 10**digits)
    return f"{whole}.{fraction:0{digits}}".rstrip("0").rstrip(".") + f" {currency}"
