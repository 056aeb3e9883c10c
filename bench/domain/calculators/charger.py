"""Chargers: whether an adapter's ratings serve a laptop, what a USB-C source offers, what the lead loses."""

from __future__ import annotations

import math
from typing import NamedTuple

from bench.domain.calculators.shape import COMMON_PRACTICE, Answer, Calculator, Figures, Given, Sum
from bench.domain.calculators.units import not_negative, positive
from bench.domain.safety import CAUTION_MAINS
from bench.errors import BadInput

COPPER_OHM_MM2_M = 1 / 58  # annealed copper at 20 °C: IEC 60028
VOLTS_APART_PERCENT = 5.0
DROP_LINE_PERCENT = 5.0

THIN_CABLE_A = 3.0
THICK_CABLE_A = 5.0
MOST_STANDARD_W = 100.0
MOST_EXTENDED_W = 240.0
_EXTENDED = ((140.0, 28.0), (180.0, 36.0), (240.0, 48.0))
_STANDARD = ((15.0, 5.0), (27.0, 9.0), (45.0, 15.0))
_TOP_STANDARD_V = 20.0

SAME, OPPOSITE, NOT_CHECKED = "same", "opposite", "not checked"


class Level(NamedTuple):
    """What a USB-C source offers at one voltage."""

    volts: float
    amps: float


def wire_diameter_mm(gauge: int) -> float:
    """The diameter of a solid AWG wire: 0.127 × 92^((36 - n) / 39) mm. Source: ASTM B258."""
    if not 0 <= gauge <= 40:
        raise BadInput(f"AWG {gauge} cannot be.", "Give a gauge of 0 to 40.")
    return float(0.127 * 92 ** ((36 - gauge) / 39))


def wire_ohm_km(gauge: int) -> float:
    """The resistance of a solid copper AWG wire at 20 °C, in ohms a kilometre."""
    return COPPER_OHM_MM2_M * 1000 / (math.pi / 4 * wire_diameter_mm(gauge) ** 2)


def lead_drop_v(gauge: int, lead_m: float, amps: float) -> float:
    """The volts lost in a lead of that length, there and back: I × 2 L × R."""
    loop_km = 2 * positive(lead_m, "The lead") / 1000
    return not_negative(amps, "The current") * loop_km * wire_ohm_km(gauge)


def offered_levels(source_w: float) -> tuple[Level, ...]:
    """What a USB-C source of that rating offers at fixed voltages, lowest first.

    Up to 15 W 5 V; above it also 9 V, above 27 W 15 V, above 45 W 20 V; from 100 W 20 V at 5 A and 28, 36
    or 48 V at 5 A. Source: USB Power Delivery specification, power rules.
    """
    if not 0 < source_w <= MOST_EXTENDED_W:
        raise BadInput(f"A USB-C source of {source_w:g} W cannot be.", "Give up to 240 W.")
    levels: list[Level] = []
    for most_w, volts in _STANDARD:
        if source_w <= most_w:
            return (*levels, Level(volts, source_w / volts))
        levels.append(Level(volts, THIN_CABLE_A))
    levels.append(Level(_TOP_STANDARD_V, min(source_w, MOST_STANDARD_W) / _TOP_STANDARD_V))
    if source_w <= MOST_STANDARD_W:
        return tuple(levels)
    for most_w, volts in _EXTENDED:
        if source_w <= most_w:
            return (*levels, Level(volts, source_w / volts))
        levels.append(Level(volts, THICK_CABLE_A))
    return tuple(levels)


def deliverable_w(source_w: float, volts: float, cable_a: float) -> float:
    """The most that arrives at that voltage through a cable rated for `cable_a` amperes; 0 if not offered."""
    limit_a = positive(cable_a, "The cable's rating")
    return max((v * min(amps, limit_a) for v, amps in offered_levels(source_w) if v == volts), default=0.0)


def voltages_apart_percent(adapter_v: float, laptop_v: float) -> float:
    """How far the adapter's rated voltage lies from the laptop's, in percent of the laptop's."""
    wanted_v = positive(laptop_v, "The laptop's voltage")
    return (positive(adapter_v, "The adapter's voltage") - wanted_v) / wanted_v * 100


def _adapter(figures: Figures) -> tuple[Answer, ...]:
    apart = voltages_apart_percent(figures["adapter_v"], figures["laptop_v"])
    spare_a = figures["adapter_a"] - figures["laptop_a"]
    polarity = figures.choice("polarity")
    against = [
        words
        for wrong, words in (
            (abs(apart) > VOLTS_APART_PERCENT, "the voltage differs"),
            (spare_a < 0, "the current is too small"),
            (polarity == OPPOSITE, "the polarity is opposite"),
        )
        if wrong
    ]
    verdict = f"NO: {', '.join(against)}" if against else "the ratings match"
    left = "look at the polarity mark before plugging in" if polarity == NOT_CHECKED else "check the plug too"
    sure = "do not plug it in" if against else left
    return (
        Answer("verdict", "Does it serve?", verdict, sure=sure, alert=bool(against), noted=True),
        Answer("apart", "Voltage differs by", apart, "%", 1, f"line at ±5 %: {COMMON_PRACTICE}"),
        Answer("spare", "Current to spare", spare_a, "A", 2, "as rated on the two labels"),
    )


def _usb(figures: Figures) -> tuple[Answer, ...]:
    source_w, need_w, need_v = figures["source"], figures["need"], figures["need_v"]
    cable_a = float(figures.choice("cable").removesuffix(" A"))
    levels = ", ".join(f"{v:g} V {amps:.3g} A" for v, amps in offered_levels(source_w))
    arrives = deliverable_w(source_w, need_v, cable_a)
    short = arrives < need_w
    verdict = "NO: charges slowly, drains in use, or not at all" if short else "the ratings match"
    return (
        Answer("levels", "It offers", levels, sure="fixed levels a source of this rating must offer"),
        Answer("arrives", f"Arrives at {need_v:g} V", arrives, "W", 0, f"through a {cable_a:g} A cable"),
        Answer("usb_verdict", "Does it serve over USB-C?", verdict, alert=short, noted=True),
    )


def _lead(figures: Figures) -> tuple[Answer, ...]:
    drop = lead_drop_v(int(figures["gauge"]), figures["lead"], figures["laptop_a"])
    share = drop / figures["adapter_v"] * 100
    large = share > DROP_LINE_PERCENT
    sure = "a lot: thicker or shorter" if large else f"line at 5 %: {COMMON_PRACTICE}"
    return (
        Answer("drop", "Lost in the lead", drop, "V", 3, "solid copper at 20 °C; more when warm"),
        Answer("drop_share", "of the adapter's voltage", share, "%", 1, sure, alert=large),
    )


CHARGER = Calculator(
    name="charger",
    title="Charger",
    line="Whether an adapter's ratings serve a laptop, and what the lead loses",
    givens=(
        Given("adapter_v", "Adapter: volts out", "V", 1, 60),
        Given("adapter_a", "Adapter: amperes out", "A", 0.1, 30),
        Given("laptop_v", "Laptop: volts in", "V", 1, 60),
        Given("laptop_a", "Laptop: amperes in", "A", 0.1, 30),
        Given("polarity", "Polarity marks", default=NOT_CHECKED, choices=(SAME, OPPOSITE, NOT_CHECKED)),
        Given("gauge", "Lead: gauge (AWG)", "", 10, 32, whole=True),
        Given("lead", "Lead: length, one way", "m", 0.1, 20),
        Given("source", "USB-C: source", "W", 2.5, MOST_EXTENDED_W),
        Given("need", "USB-C: laptop needs", "W", 2.5, MOST_EXTENDED_W),
        Given("need_v", "USB-C: at", "V", 5, 48, "20"),
        Given("cable", "USB-C: cable", default="3 A", choices=("3 A", "5 A")),
    ),
    sums=(
        Sum("Adapter", ("adapter_v", "adapter_a", "laptop_v", "laptop_a", "polarity"), _adapter),
        Sum("Lead", ("gauge", "lead", "laptop_a", "adapter_v"), _lead),
        Sum("USB-C", ("source", "need", "need_v", "cable"), _usb),
    ),
    formulas=(
        "serves: same voltage and polarity, adapter's amperes ≥ laptop's",
        "drop = amperes × 2 × length × ohms a metre",
        "wire = 0.127 × 92^((36 − AWG) ÷ 39) mm, copper 1/58 Ωmm²/m",
        "USB-C: watts at a voltage = volts × the smaller of source and cable amperes",
    ),
    sources=(
        "Wire: ASTM B258 (diameter), IEC 60028 (copper)",
        "USB-C: USB Power Delivery specification, power rules; over 3 A and over 20 V need a 5 A cable",
        "5 % lines: " + COMMON_PRACTICE,
    ),
    cautions=(CAUTION_MAINS,),
)
