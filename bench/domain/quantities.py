"""Amounts of consumables: whole thousandths of a base unit (ml, g, m or piece), read and shown exactly."""

import re

from bench.domain.text import quoted
from bench.errors import BadInput

UNITS = ("ml", "g", "m", "piece")
THOUSANDTHS = 1000
MOST_UNITS = 10**9
DECIMALS = 3

# Thousandths of the base unit in one of what may be typed after the number.
_ACCEPTED: dict[str, dict[str, int]] = {
    "ml": {"ml": 1000, "l": 1_000_000},
    "g": {"g": 1000, "kg": 1_000_000},
    "m": {"m": 1000, "cm": 10, "mm": 1},
    "piece": {"piece": 1000, "pieces": 1000},
}
_AMOUNT = re.compile(r"([0-9]{1,12})(?:([.,])([0-9]+))?\s*([^\W\d_]*)")


def check_unit(unit: str) -> str:
    """The same base unit, if it is one of UNITS; BadInput otherwise."""
    if unit not in UNITS:
        raise BadInput(f"{quoted(unit)} is not a base unit.", f"Use one of {', '.join(UNITS)}.")
    return unit


def unit_label(unit: str, quantity: int) -> str:
    """The word to put after a quantity (thousandths): ml, g, m, piece or pieces."""
    return "pieces" if check_unit(unit) == "piece" and abs(quantity) != THOUSANDTHS else unit


def read_quantity(text: str, unit: str, allow_zero: bool = False) -> int:
    """Thousandths of the unit from 12.5, 12,5, 12.5 ml or, for m, 250 mm and 25 cm; BadInput if unusable."""
    check_unit(unit)
    found = _AMOUNT.fullmatch(text.strip())
    if found is None:
        raise _not_a_quantity(text, unit)
    whole, separator, fraction, suffix = found[1], found[2], found[3] or "", found[4] or unit
    factor = _ACCEPTED[unit].get(suffix)
    if factor is None:
        raise BadInput(
            f"{quoted(text)} is in {suffix}, but this is kept in {unit}.", f"Give the amount in {unit}."
        )
    if separator == "," and len(fraction) == 3 and whole.lstrip("0"):
        raise BadInput(
            f"{quoted(text)} may mean {whole}{fraction} or {whole}.{fraction}.", "Write it without the comma."
        )
    if len(fraction) > DECIMALS:
        raise BadInput(f"{quoted(text)} has more than {DECIMALS} decimals.", "Round it.")
    thousandths, finer = divmod(int(whole + fraction) * factor, 10 ** len(fraction))
    if finer:
        raise BadInput(f"{quoted(text)} is finer than a thousandth of one {unit}.", "Round it.")
    return _in_range(thousandths, text, unit, allow_zero)


def show_quantity(thousandths: int, unit: str) -> str:
    """The quantity with its unit and no needless zeros, such as 12.5 ml or 1 piece."""
    return f"{plain_number(thousandths)} {unit_label(unit, thousandths)}"


def short_quantity(thousandths: int, unit: str) -> str:
    """The quantity as a screen shows it where nothing is typed against it: 12.3 ml of 12.345 ml."""
    return show_quantity(rounded_quantity(thousandths), unit)


def rounded_quantity(thousandths: int) -> int:
    """The quantity to three significant places, a half away from 0, but never coarser than whole units."""
    size = abs(thousandths)
    step = 1 if size < 1000 else 10 if size < 10 * THOUSANDTHS else 100 if size < 100 * THOUSANDTHS else 1000
    rounded = (size + step // 2) // step * step
    return -rounded if thousandths < 0 else rounded


def plain_number(thousandths: int) -> str:
    """The number alone, such as 12.5, with a decimal point and no needless zeros."""
    whole, fraction = divmod(abs(thousandths), THOUSANDTHS)
    sign = "-" if thousandths < 0 else ""
    return f"{sign}{whole}.{fraction:03}".rstrip("0").rstrip(".")


def _in_range(thousandths: int, text: str, unit: str, allow_zero: bool) -> int:
    if thousandths == 0 and not allow_zero:
        raise BadInput(f"{quoted(text)} is nothing.", f"Give more than 0 {unit_label(unit, 0)}.")
    if thousandths > MOST_UNITS * THOUSANDTHS:
        raise BadInput(f"{quoted(text)} is more than {MOST_UNITS} {unit_label(unit, 0)}.", "Look for a slip.")
    if unit == "piece" and thousandths % THOUSANDTHS:
        raise BadInput(f"{quoted(text)} is not a whole number of pieces.", "Pieces are counted whole.")
    return thousandths


def _not_a_quantity(text: str, unit: str) -> BadInput:
    if text.strip().startswith(("-", "−")):
        return BadInput(f"{quoted(text)} is negative.", f"Give an amount of {unit_label(unit, 0)} above 0.")
    return BadInput(
        f"{quoted(text)} is not an amount.", f"Write a number, such as {show_quantity(12_000, unit)}."
    )
