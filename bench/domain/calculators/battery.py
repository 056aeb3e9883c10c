"""Batteries: health, watt-hours, where the transport rules draw their lines, cycles left, runtime."""

from __future__ import annotations

from typing import NamedTuple

from bench.domain.calculators.measures import positive
from bench.domain.calculators.shape import Answer, Calculator, Figures, Given, Limits, Sum
from bench.domain.limits.packs import LIMITS
from bench.domain.limits.record import COMMON_PRACTICE
from bench.errors import BadInput

CELL_LINE_WH = LIMITS["pack.cell_wh"].whole
BATTERY_LINE_WH = LIMITS["pack.battery_wh"].whole
AIRLINE_LINE_WH = LIMITS["pack.approval_wh"].whole
LEAST_FADE_PERCENT = LIMITS["pack.least_fade_percent"].whole
LEAST_CYCLES = LIMITS["pack.least_cycles"].whole

NEW_PERCENT = 100.0

CAUTION_BAD_CELL = (
    "A swollen, punctured or wet cell stops the job: do not charge or press it, keep it apart, hand it to a "
    "licensed carrier or collection point. Local rules first."
)
CAUTION_TRANSPORT = (
    "Check the carrier's rules and local law: these are only the lines the rules draw, "
    "and damaged or recalled batteries are under stricter ones."
)


def health_percent(full: float, design: float) -> float:
    """Full charge capacity of design capacity, in percent, both in the same unit; new packs may exceed 100.

    Source: Smart Battery FullChargeCapacity (0x10) over DesignCapacity (0x18).
    """
    return positive(full, "Full charge") / positive(design, "Design capacity") * 100


def watt_hours(mah: float, volts: float) -> float:
    """Watt-hours from milliampere-hours and nominal volts: Ah × V. Source: 49 CFR 171.8."""
    return positive(mah, "The capacity") / 1000 * positive(volts, "The voltage")


def below_small_battery_lines(battery_wh: float, cell_wh: float) -> bool:
    """Whether cell and battery stand within the lines of the relaxed transport rules; the line is within."""
    return (
        positive(cell_wh, "A cell") <= CELL_LINE_WH and positive(battery_wh, "The battery") <= BATTERY_LINE_WH
    )


def passenger_rule(battery_wh: float) -> str:
    """What the passenger lines say of a battery: up to the lower, up to the upper, above."""
    wh = positive(battery_wh, "The battery")
    if wh <= BATTERY_LINE_WH:
        return f"up to {BATTERY_LINE_WH} Wh"
    if wh <= AIRLINE_LINE_WH:
        return f"{BATTERY_LINE_WH} to {AIRLINE_LINE_WH} Wh: with the airline's approval"
    return f"over {AIRLINE_LINE_WH} Wh: not as baggage"


class Fade(NamedTuple):
    """A battery's fade as a straight line: `end_percent` of design is left after `rated_cycles`."""

    rated_cycles: float
    end_percent: float

    def percent_a_cycle(self) -> float:
        """What each cycle takes under the line, in percent of design."""
        if not 0 < self.end_percent < NEW_PERCENT:
            raise BadInput(
                f"An end of life at {self.end_percent:g} % cannot be.", "Give 1 to 99 %, such as 80."
            )
        return (NEW_PERCENT - self.end_percent) / positive(self.rated_cycles, "The rated cycles")

    def cycles_left(self, health: float) -> float:
        """Cycles until `end_percent`, from here along the line; 0 below it."""
        return max(0.0, (positive(health, "The health") - self.end_percent) / self.percent_a_cycle())


def own_fade(health: float, cycles: float, end_percent: float) -> Fade | None:
    """The line through new and now; None where fade or cycles are too few to draw one from.

    A gauge is off by a few percent, so that a small fade may be none. A cycle count of 0 means "not
    available" on many machines, not "new".
    """
    if cycles < LEAST_CYCLES or positive(health, "The health") > NEW_PERCENT - LEAST_FADE_PERCENT:
        return None
    return Fade(cycles * (NEW_PERCENT - end_percent) / (NEW_PERCENT - health), end_percent)


def runtime_h(full_wh: float, load_w: float) -> float:
    """Hours at a steady load from full to empty: Wh ÷ W."""
    return positive(full_wh, "Full charge") / positive(load_w, "The load")


def _wh(figures: Figures, name: str) -> float:
    if figures.unit(name) == "Wh":
        return figures[name]
    volts = figures.get("volts")
    if volts is None:
        raise BadInput("A capacity in mAh needs the nominal voltage.", "Give volts too, or watt-hours.")
    return watt_hours(figures[name], volts)


def _health_of(figures: Figures) -> float:
    if figures.unit("full") == figures.unit("design"):
        return health_percent(figures["full"], figures["design"])
    return health_percent(_wh(figures, "full"), _wh(figures, "design"))


def _health(figures: Figures) -> tuple[Answer, ...]:
    health = _health_of(figures)
    based_on = "the gauge's own estimate, off by several percent after long storage"
    if health > NEW_PERCENT:
        based_on = "above design: let the gauge learn a full cycle"
    return (Answer("health", "Health", health, "%", 1, based_on, noted=True),)


def _cycles(figures: Figures) -> tuple[Answer, ...]:
    health, end = _health_of(figures), figures["end"]
    rated = Fade(figures["rated"], end).cycles_left(health)
    own = own_fade(health, figures.get("cycles") or 0, end)
    return (
        Answer(
            "cycles_rated", f"Cycles to {end:g} %, as rated", rated, based_on="straight line; age not counted"
        ),
        Answer(
            name="cycles_own",
            label=f"Cycles to {end:g} %, at its own pace",
            value=own.cycles_left(health) if own else None,
            based_on="straight line through new and now; fade quickens near the end" if own else "",
            words=f"nothing said below {LEAST_FADE_PERCENT} % fade or {LEAST_CYCLES} cycles",
        ),
    )


def _transport(figures: Figures) -> tuple[Answer, ...]:
    design_wh = _wh(figures, "design")
    return (
        Answer("design_wh", "Design energy", design_wh, "Wh", 1, "as the rules rate it", noted=True),
        Answer("passenger", "As baggage by air", passenger_rule(design_wh), based_on=_PASSENGER_LINES),
    )


def _small_battery(figures: Figures) -> tuple[Answer, ...]:
    design_wh = _wh(figures, "design")
    cell_wh = design_wh / figures["cells"]
    within = below_small_battery_lines(design_wh, cell_wh)
    lines = f"{CELL_LINE_WH} Wh a cell"
    words = f"within {lines} and {BATTERY_LINE_WH} Wh"
    if not within:
        words = f"OVER {lines} or {BATTERY_LINE_WH} Wh: full rules"
    return (
        Answer("cell_wh", "Energy of a cell", cell_wh, "Wh", 1, "all cells alike"),
        Answer(
            "small", "Small-battery lines", words, based_on="packing and marks still apply", alert=not within
        ),
    )


def _runtime(figures: Figures) -> tuple[Answer, ...]:
    hours = runtime_h(_wh(figures, "full"), figures["load"])
    based_on = "steady load, full to empty; machines stop earlier"
    return (Answer("runtime", "Runtime", hours, "h", 2, based_on, noted=True),)


_PASSENGER_LINES = f"limits at {BATTERY_LINE_WH} and {AIRLINE_LINE_WH} Wh"
_CHARGE = Limits("mAh", 50, 100_000)

BATTERY = Calculator(
    name="battery",
    title="Battery",
    line="Health, watt-hours, transport lines, cycles left, runtime",
    givens=(
        Given("full", "Full charge, from its gauge", "Wh", 0.1, 1000, also=_CHARGE),
        Given("design", "Design capacity", "Wh", 0.1, 1000, also=_CHARGE),
        Given("volts", "Nominal voltage", "V", 1, 60),
        Given("cells", "Cells in the pack", "", 1, 40, whole=True),
        Given("cycles", "Cycle count (0: not told)", "", 0, 10_000, whole=True),
        Given("rated", "Rated cycles", "", 50, 5000, LIMITS["pack.rated_cycles"].typed, whole=True),
        Given("end", "End of life at", "%", 10, 95, LIMITS["pack.end_percent"].typed),
        Given("load", "Measured load", "W", 0.1, 500),
    ),
    sums=(
        Sum("Health", ("full", "design"), _health),
        Sum("Cycles left", ("full", "design", "rated", "end"), _cycles),
        Sum("Energy", ("design",), _transport),
        Sum("Transport", ("design", "cells"), _small_battery),
        Sum("Runtime", ("full", "load"), _runtime),
    ),
    formulas=(
        "health = full charge ÷ design capacity; Wh = Ah × V; runtime = Wh ÷ W",
        "cycles left = (health − end of life) ÷ fade a cycle, as rated or (100 − health) ÷ cycles so far",
    ),
    sources=(
        "Health: Smart Battery commands 0x10, 0x18 (gas-gauge manuals); Wh: 49 CFR 171.8",
        f"{CELL_LINE_WH} Wh a cell, {BATTERY_LINE_WH} Wh a battery: {LIMITS['pack.cell_wh'].said}",
        f"{BATTERY_LINE_WH} and {AIRLINE_LINE_WH} Wh: {LIMITS['pack.approval_wh'].said}",
        f"Rated cycles: {LIMITS['pack.rated_cycles'].said}",
        f"Straight line, from {LEAST_FADE_PERCENT} % fade and {LEAST_CYCLES} cycles on: {COMMON_PRACTICE}",
    ),
    cautions=(CAUTION_BAD_CELL, CAUTION_TRANSPORT),
)
