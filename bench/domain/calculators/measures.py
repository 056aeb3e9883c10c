"""Figures with units as a person types them: read into one unit, told in one sentence when they cannot be.

Factors are exact by definition (SI, the international inch of 25.4 mm); tests hold them against pint.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from bench.domain.text import quoted
from bench.errors import BadInput


class Scale(NamedTuple):
    """What turns a typed figure into the unit kept: figure * factor + offset."""

    factor: float
    offset: float = 0.0


ONE = Scale(1.0)

# For each unit kept: what may be typed behind the figure. The first name is the unit's own.
UNITS: dict[str, dict[str, Scale]] = {
    "": {},
    "mm": {"mm": ONE, "cm": Scale(10), "m": Scale(1000), "in": Scale(25.4)},
    "m": {"m": ONE, "cm": Scale(0.01), "mm": Scale(0.001), "ft": Scale(0.3048)},
    "in": {"in": ONE, '"': ONE, "cm": Scale(1 / 2.54), "mm": Scale(1 / 25.4)},
    "µm": {"µm": ONE, "um": ONE, "mm": Scale(1000)},
    "mm²": {"mm²": ONE, "mm2": ONE, "cm²": Scale(100), "cm2": Scale(100)},
    "m³": {"m³": ONE, "m3": ONE, "l": Scale(0.001), "ft3": Scale(0.3048**3)},
    "ml": {"ml": ONE, "l": Scale(1000)},
    "g": {"g": ONE, "mg": Scale(0.001), "kg": Scale(1000)},
    "g/cm³": {"g/cm³": ONE, "g/cm3": ONE, "g/ml": ONE, "kg/m3": Scale(0.001)},
    "W/mK": {"W/mK": ONE, "mW/mK": Scale(0.001)},
    "W": {"W": ONE, "mW": Scale(0.001), "kW": Scale(1000)},
    "V": {"V": ONE, "mV": Scale(0.001)},
    "A": {"A": ONE, "mA": Scale(0.001)},
    "Wh": {"Wh": ONE, "mWh": Scale(0.001), "kWh": Scale(1000)},
    "mAh": {"mAh": ONE, "Ah": Scale(1000)},
    "min": {"min": ONE, "h": Scale(60), "s": Scale(1 / 60)},
    "days": {"days": ONE, "day": ONE, "d": ONE, "h": Scale(1 / 24)},
    "years": {"years": ONE, "year": ONE},
    "m³/h": {"m³/h": ONE, "m3/h": ONE, "cfm": Scale(0.3048**3 * 60)},
    "per h": {"per h": ONE, "/h": ONE},
    "GB/day": {"GB/day": ONE, "TB/day": Scale(1000), "MB/day": Scale(0.001)},
    "TB": {"TB": ONE, "GB": Scale(0.001)},
    "GB": {"GB": ONE, "TB": Scale(1000), "MB": Scale(0.001)},
    "h": {"h": ONE},
    "s": {"s": ONE, "ms": Scale(0.001), "min": Scale(60)},
    "MB/s": {"MB/s": ONE, "GB/s": Scale(1000), "kB/s": Scale(0.001)},
    "Mbit/s": {"Mbit/s": ONE, "Gbit/s": Scale(1000), "kbit/s": Scale(0.001)},
    "dBm": {"dBm": ONE},
    "cd/m²": {"cd/m²": ONE, "cd/m2": ONE, "nits": ONE},
    "ppm": {"ppm": ONE},
    "%": {"%": ONE},
    "°C": {"°C": ONE, "C": ONE, "K": Scale(1.0, -273.15), "F": Scale(5 / 9, -160 / 9)},
    "K": {"K": ONE, "°C": ONE, "C": ONE, "F": Scale(5 / 9)},
}

_FIGURE = re.compile(
    r"(?P<sign>[-−+]?)(?:"
    r"(?P<grouped>[0-9]{1,3}(?:(?P<blank>[ '])[0-9]{3}(?:(?P=blank)[0-9]{3})*"
    r"|(?P<mark>[,.])[0-9]{3}(?:(?P=mark)[0-9]{3})+))"
    r"|(?P<whole>[0-9]{1,200}))"
    r"(?:(?P<point>[.,])(?P<fraction>[0-9]{1,200}))?"
    r"\s*(?P<suffix>.*)"
)


def read_figure(text: str, what: str, units: Sequence[str], *, whole: bool = False) -> tuple[float, str]:
    """The figure and its unit, one of `units`, from 12.5, 12,5, 12.5 mm or 1.25 cm.

    A figure without a unit is in the first. Thousands may be parted where nobody could mean decimals:
    62,786,553, and 786,553 for a `whole` number. BadInput, naming `what`, for anything else.
    """
    found = _FIGURE.fullmatch(text.strip())
    if found is None or (found["mark"] is not None and found["mark"] == found["point"]):
        example = f"12 {units[0]}".rstrip()
        raise BadInput(f"{what} {quoted(text)} is not a figure.", f"Write a number, such as {example}.")
    digits, fraction = re.sub("[^0-9]", "", found["grouped"] or found["whole"]), found["fraction"] or ""
    if found["point"] == "," and len(fraction) == 3 and digits.strip("0"):
        if not whole:
            raise BadInput(
                f"{what} {quoted(text)} may mean {digits}{fraction} or {digits}.{fraction}.",
                "Write it without the comma.",
            )
        digits, fraction = digits + fraction, ""
    size = float(f"{digits}.{fraction or 0}")
    scale, unit = _scale(found["suffix"].strip(), text, what, units)
    return (-size if found["sign"] in ("-", "−") else size) * scale.factor + scale.offset, unit


def _scale(suffix: str, text: str, what: str, units: Sequence[str]) -> tuple[Scale, str]:
    if not suffix:
        return ONE, units[0]
    # Signs that look alike: the two micro signs, and typed marks for inches.
    plain = suffix.replace("\u03bc", "µ").replace("\u2033", '"').replace("\u201d", '"')
    for unit in units:
        if plain in UNITS[unit]:
            return UNITS[unit][plain], unit
    accepted = [name for unit in units for name in UNITS[unit]]
    raise BadInput(
        f"{what} {quoted(text)} has a unit that does not fit, {quoted(suffix)}.",
        f"Give it in {', '.join(accepted)}." if accepted else "Give the number alone.",
    )


def positive(value: float, what: str) -> float:
    """The same value, if it is above 0 and has an end; BadInput, naming `what`, otherwise."""
    if not 0 < value < float("inf"):
        raise BadInput(f"{what} cannot be {value:g}.", "Give a figure above 0.")
    return value


def not_negative(value: float, what: str) -> float:
    """The same value, if it is 0 or above and has an end; BadInput, naming `what`, otherwise."""
    if not 0 <= value < float("inf"):
        raise BadInput(f"{what} cannot be {value:g}.", "Give a figure of 0 or more.")
    return value


def share_below_all(percent: float, what: str) -> float:
    """The percentage as a share, if it is 0 or above and below 100; BadInput, naming `what`, otherwise."""
    if not 0 <= percent < 100:
        raise BadInput(f"{what} cannot be {percent:g} %.", "Give 0 or more and less than 100 %.")
    return percent / 100
