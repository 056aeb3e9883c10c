"""Chargers: whether an adapter's ratings serve a laptop, what a USB-C source offers, what the lead loses."""

from __future__ import annotations

import math
from typing import NamedTuple

from bench.domain.calculators.measures import not_negative, positive
from bench.domain.calculators.shape import Answer, Calculator, Figures, Given, Sum
from bench.domain.limits.power import LIMITS
from bench.domain.limits.record import COMMON_PRACTICE
from bench.domain.safety import CAUTION_MAINS
from bench.errors import BadInput

COPPER_OHM_MM2_M = 1 / LIMITS["wire.copper_m_ohm_mm2"].value  # annealed copper at 20 °C
GAUGE_36_MM = LIMITS["wire.gauge_36_mm"].value
GAUGE_RATIO = LIMITS["wire.ratio"].value
GAUGE_STEPS = LIMITS["wire.steps"].value
WIRE_AMPS: dict[int, float] = {
    int(name.removeprefix("wire.amps_")): limit.value
    for name, limit in LIMITS.items()
    if name.startswith("wire.amps_")
}
VOLTS_APART_PERCENT = LIMITS["adapter.volts_apart_percent"].value
DROP_LINE_PERCENT = LIMITS["lead.drop_percent"].value

THIN_CABLE_A = LIMITS["usb.thin_cable_a"].value
THICK_CABLE_A = LIMITS["usb.thick_cable_a"].value
# The voltages at which a source must offer something, each with the rating up to which it is the highest.
_STEPS = tuple((LIMITS[f"usb.watts_{n}"].value, LIMITS[f"usb.volts_{n}"].value) for n in range(1, 8))
_STANDARD, (MOST_STANDARD_W, TOP_STANDARD_V), _EXTENDED = _STEPS[:3], _STEPS[3], _STEPS[4:]
MOST_EXTENDED_W, TOP_EXTENDED_V = _STEPS[-1]


class Cable(NamedTuple):
    """What a USB-C cable bears."""

    amps: float
    volts: float


EXTENDED_CABLE = f"{MOST_EXTENDED_W:g} W"
CABLES: dict[str, Cable] = {
    f"{THIN_CABLE_A:g} A": Cable(THIN_CABLE_A, TOP_STANDARD_V),
    f"{THICK_CABLE_A:g} A": Cable(THICK_CABLE_A, TOP_STANDARD_V),
    EXTENDED_CABLE: Cable(THICK_CABLE_A, TOP_EXTENDED_V),
}

SAME, OPPOSITE, NOT_CHECKED = "same", "opposite", "not checked"


class Level(NamedTuple):
    """What a USB-C source offers at one voltage."""

    volts: float
    amps: float


def wire_diameter_mm(gauge: int) -> float:
    """The diameter of a solid AWG wire in mm: 0.127 × 92^((36 - n) / 39)."""
    if not 0 <= gauge <= 40:
        raise BadInput(f"AWG {gauge} cannot be.", "Give a gauge of 0 to 40.")
    return float(GAUGE_36_MM * GAUGE_RATIO ** ((36 - gauge) / GAUGE_STEPS))


def wire_ohm_km(gauge: int) -> float:
    """The resistance of a solid copper AWG wire at 20 °C, in ohms a kilometre."""
    return COPPER_OHM_MM2_M * 1000 / (math.pi / 4 * wire_diameter_mm(gauge) ** 2)


def wire_bears_a(gauge: int) -> float:
    """The most current for a wire of that gauge, alone in free air, in A; an odd gauge as the next thinner.

    BadInput for a gauge that the table does not have: nothing is claimed for it.
    """
    listed = gauge + gauge % 2
    if listed not in WIRE_AMPS:
        raise BadInput(
            f"For AWG {gauge} no published current limit is at hand.",
            f"Give a gauge of {min(WIRE_AMPS)} to {max(WIRE_AMPS)}.",
        )
    return WIRE_AMPS[listed]


def lead_drop_v(gauge: int, lead_m: float, amps: float) -> float:
    """The volts lost in a lead of that length, there and back: I × 2 L × R."""
    loop_km = 2 * positive(lead_m, "The lead") / 1000
    return not_negative(amps, "The current") * loop_km * wire_ohm_km(gauge)


def offered_levels(source_w: float) -> tuple[Level, ...]:
    """What a USB-C source of that rating offers at fixed voltages, lowest first.

    Up to 15 W 5 V; above it also 9 V, above 27 W 15 V, above 45 W 20 V; above 100 W 20 V at 5 A and 28, 36
    or 48 V. Source: USB Power Delivery specification, power rules.
    """
    if not 0 < source_w <= MOST_EXTENDED_W:
        raise BadInput(f"A USB-C source of {source_w:g} W cannot be.", f"Give up to {MOST_EXTENDED_W:g} W.")
    levels: list[Level] = []
    for most_w, volts in _STANDARD:
        if source_w <= most_w:
            return (*levels, Level(volts, source_w / volts))
        levels.append(Level(volts, THIN_CABLE_A))
    levels.append(Level(TOP_STANDARD_V, min(source_w, MOST_STANDARD_W) / TOP_STANDARD_V))
    if source_w <= MOST_STANDARD_W:
        return tuple(levels)
    for most_w, volts in _EXTENDED:
        if source_w <= most_w:
            return (*levels, Level(volts, source_w / volts))
        levels.append(Level(volts, THICK_CABLE_A))
    return tuple(levels)


def deliverable_w(source_w: float, volts: float, cable: Cable) -> float:
    """The most watts that arrive at that voltage; 0 where source or cable are not made for it."""
    limit_a = positive(cable.amps, "The cable's rating")
    if volts > cable.volts:
        return 0.0
    return max((v * min(amps, limit_a) for v, amps in offered_levels(source_w) if v == volts), default=0.0)


def against_usb(source_w: float, need_w: float, volts: float, cable: Cable) -> str:
    """What is against a source and a cable for a laptop that needs so much at that voltage."""
    if volts > TOP_STANDARD_V and cable.volts < volts:
        return f"above {TOP_STANDARD_V:g} V an extended-power cable of {EXTENDED_CABLE} is needed"
    offered = deliverable_w(source_w, volts, CABLES[EXTENDED_CABLE])
    if offered == 0:
        return f"it offers nothing at {volts:g} V"
    if offered < need_w:
        return "charges slowly, drains in use, or not at all"
    if deliverable_w(source_w, volts, cable) < need_w:
        return f"above {volts * cable.amps:g} W at {volts:g} V a {THICK_CABLE_A:g} A cable is needed"
    return ""


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
    based_on = "do not plug it in" if against else left
    return (
        Answer("verdict", "Does it serve?", verdict, based_on=based_on, alert=bool(against), noted=True),
        _polarity(figures),
        Answer("apart", "Voltage differs by", apart, "%", 1, _VOLTS_LIMIT),
        Answer("spare", "Current to spare", spare_a, "A", 2, "as rated on the two labels"),
    )


def _polarity(figures: Figures) -> Answer:
    polarity = figures.choice("polarity")
    based_on = "as marked on both" if polarity != NOT_CHECKED else "a wrong one destroys the laptop"
    return Answer("polarity", "Polarity", polarity, based_on=based_on, alert=polarity == OPPOSITE, noted=True)


def _usb(figures: Figures) -> tuple[Answer, ...]:
    source_w, need_w, need_v = figures["source"], figures["need"], figures["need_v"]
    name = figures.choice("cable")
    levels = ", ".join(f"{v:g} V {amps:.3g} A" for v, amps in offered_levels(source_w))
    arrives = deliverable_w(source_w, need_v, CABLES[name]) or None
    against = against_usb(source_w, need_w, need_v, CABLES[name])
    verdict = f"NO: {against}" if against else "the ratings match"
    return (
        Answer("levels", "It offers", levels, based_on="fixed levels a source of this rating must offer"),
        Answer(
            *("arrives", f"Arrives at {need_v:g} V", arrives, "W", 0, f"through a cable of {name}"),
            words="nothing to claim",
        ),
        Answer("usb_verdict", "Does it serve over USB-C?", verdict, alert=bool(against), noted=True),
    )


def _lead(figures: Figures) -> tuple[Answer, ...]:
    gauge, amps = int(figures["gauge"]), figures["laptop_a"]
    bears_a = wire_bears_a(gauge)
    told = () if "laptop_v" in figures else (_polarity(figures),)
    if amps > bears_a:
        words = f"NO: {amps:g} A is over the {bears_a:g} A of AWG {gauge}"
        refusal = Answer(
            "wire", "Does the lead bear it?", words, based_on="do not use it", alert=True, noted=True
        )
        return (refusal, *told)
    drop = lead_drop_v(gauge, figures["lead"], amps)
    share = drop / figures["adapter_v"] * 100
    large = share > DROP_LINE_PERCENT
    return (
        Answer(
            "wire", "Limit of the wire", bears_a, "A", 2, "one wire in free air; in a jacket it bears less"
        ),
        *told,
        Answer("drop", "Lost in the lead", drop, "V", 3, "solid copper at 20 °C; more when warm"),
        Answer(
            *("drop_share", "of the adapter's voltage", share, "%", 1),
            based_on="a lot: thicker or shorter" if large else _DROP_LIMIT,
            alert=large,
        ),
    )


_VOLTS_LIMIT = f"limit ±{VOLTS_APART_PERCENT:g} %: {COMMON_PRACTICE}"
_DROP_LIMIT = f"limit {DROP_LINE_PERCENT:g} %: {COMMON_PRACTICE}"

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
        Given("cable", "USB-C: cable", default=next(iter(CABLES)), choices=tuple(CABLES)),
    ),
    sums=(
        Sum("Adapter", ("adapter_v", "adapter_a", "laptop_v", "laptop_a", "polarity"), _adapter),
        Sum("Lead", ("gauge", "lead", "laptop_a", "adapter_v", "polarity"), _lead),
        Sum("USB-C", ("source", "need", "need_v", "cable"), _usb),
    ),
    formulas=(
        "serves: same voltage and polarity, adapter's amperes ≥ laptop's",
        "drop = amperes × 2 × length × ohms a metre; no drop is told past the current the wire bears",
        "wire = 0.127 × 92^((36 − AWG) ÷ 39) mm, copper 1/58 Ωmm²/m",
        "USB-C: watts at a voltage = volts × the smaller of source and cable amperes, if the cable bears it",
    ),
    sources=(
        f"Wire: {LIMITS['wire.ratio'].said} (diameter); {LIMITS['wire.copper_m_ohm_mm2'].said} (copper)",
        f"Current a wire bears: {LIMITS['wire.amps_18'].said}; an odd gauge as the next thinner",
        f"USB-C: {LIMITS['usb.watts_4'].said}; {LIMITS['usb.thin_cable_a'].said}",
        f"Limits of {VOLTS_APART_PERCENT:g} and {DROP_LINE_PERCENT:g} %: {COMMON_PRACTICE}",
    ),
    cautions=(CAUTION_MAINS,),
)
