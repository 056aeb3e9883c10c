"""Thermal paste: how much a die takes, what the layer costs in degrees, and what a repaste really changed."""

from __future__ import annotations

import math
from typing import NamedTuple

from bench.domain.calculators.measures import not_negative, positive
from bench.domain.calculators.shape import Answer, Calculator, Figures, Given, Sum
from bench.domain.limits.heat import LIMITS
from bench.domain.limits.record import COMMON_PRACTICE
from bench.domain.safety import CAUTION_BATTERY_FIRST, CAUTION_SOLVENT
from bench.errors import BadInput

COVERAGE_FACTOR = LIMITS["load.coverage_factor"].value


def layer_volume_ul(die_mm2: float, bond_um: float) -> float:
    """The volume of the layer itself, in microlitres: area × thickness."""
    return positive(die_mm2, "The die area") * positive(bond_um, "The bond line") / 1000


def jobs_in_tube(tube_g: float, density_g_cm3: float, per_job_ul: float) -> int:
    """How many whole jobs a tube holds: grams ÷ density ÷ volume a job."""
    volume_ul = positive(tube_g, "The tube") / positive(density_g_cm3, "The density") * 1000
    # Rounded first, so that the last bits of a float never cost a job.
    return math.floor(round(volume_ul / positive(per_job_ul, "The volume a job"), 9))


def layer_resistance_k_w(die_mm2: float, bond_um: float, conductivity_w_mk: float) -> float:
    """The layer's thermal resistance in kelvin per watt: R = t / (k A). Fourier's law, one dimension.

    Contact resistance at the two faces is not in it: the real layer is worse.
    """
    return (
        positive(bond_um, "The bond line")
        / positive(conductivity_w_mk, "The conductivity")
        / positive(die_mm2, "The die area")
    )


def rise_per_watt(hot_c: float, room_c: float, power_w: float) -> float:
    """Degrees over room per watt, in K/W: theta = (T - T room) / P."""
    if not math.isfinite(hot_c) or not math.isfinite(room_c) or hot_c <= room_c:
        raise BadInput(
            f"A chip at {hot_c:g} °C under load in a room at {room_c:g} °C cannot be.", "Read both again."
        )
    return (hot_c - room_c) / positive(power_w, "The power")


class LoadTest(NamedTuple):
    """One load test: chip and room in degrees Celsius, steady power in watts."""

    hot_c: float
    room_c: float
    power_w: float

    def theta(self) -> float:
        """Degrees over room per watt."""
        return rise_per_watt(self.hot_c, self.room_c, self.power_w)

    def uncertainty(self, reading_error_k: float, power_error_percent: float) -> float:
        """The standard uncertainty of `theta` in K/W, both readings and the power being off independently.

        An error of at most a has the standard uncertainty a/√3; those of the readings count divided by the
        power, that of the power in proportion to theta itself. Source: JCGM 100:2008 (GUM), 4.3.7, 5.1.2.
        """
        reading = not_negative(reading_error_k, "The reading error") / math.sqrt(3) / self.power_w
        power = not_negative(power_error_percent, "The power's error") / 100 / math.sqrt(3)
        return math.hypot(reading, reading, self.theta() * power)


class Comparison(NamedTuple):
    """After against before, in K/W and percent, with the expanded uncertainty (k = 2) of the difference."""

    before: float
    after: float
    change: float
    change_percent: float
    uncertainty: float

    @property
    def real(self) -> bool:
        """Whether the change is larger than reading errors explain."""
        return abs(self.change) > self.uncertainty


def compare(
    before: LoadTest, after: LoadTest, reading_error_k: float, power_error_percent: float
) -> Comparison:
    """Two load tests: each temperature off by at most `reading_error_k`, each power by so many percent.

    Independent errors add in quadrature and the result is doubled (k = 2). Source: JCGM 100:2008 (GUM),
    5.1.2 and 6.2. One meter for both tests errs alike in both, which would make less of it: not counted on.
    """
    theta_before, theta_after = before.theta(), after.theta()
    spread = math.hypot(
        before.uncertainty(reading_error_k, power_error_percent),
        after.uncertainty(reading_error_k, power_error_percent),
    )
    change = theta_after - theta_before
    return Comparison(
        theta_before, theta_after, change, change / theta_before * 100, COVERAGE_FACTOR * spread
    )


def _layer(figures: Figures) -> tuple[Answer, ...]:
    volume_ul = layer_volume_ul(figures["die"], figures["bond"])
    return (
        Answer("volume", "The layer holds", volume_ul, "µl", 1, "exact for an even layer"),
        Answer(
            *("dispense", "Dispense", volume_ul * figures["excess"] / 1000, "ml", 3),
            based_on=f"the excess: {COMMON_PRACTICE}",
            noted=True,
        ),
    )


def _resistance(figures: Figures) -> tuple[Answer, ...]:
    resistance = layer_resistance_k_w(figures["die"], figures["bond"], figures["conductivity"])
    based_on = "without the two contact faces: the real layer is worse"
    return (Answer("resistance", "Resistance of the layer", resistance, "K/W", 3, based_on),)


def _tube(figures: Figures) -> tuple[Answer, ...]:
    per_job_ul = layer_volume_ul(figures["die"], figures["bond"]) * figures["excess"]
    jobs = jobs_in_tube(figures["tube"], figures["density"], per_job_ul)
    return (Answer("jobs", "Jobs left in the tube", float(jobs), "", 0, "as good as the excess you gave"),)


def _load_test(figures: Figures) -> tuple[Answer, ...]:
    before = LoadTest(figures["hot_before"], figures["room_before"], figures["power_before"])
    after = LoadTest(figures["hot_after"], figures["room_after"], figures["power_after"])
    found = compare(before, after, figures["error"], figures["power_error"])
    if found.real:
        verdict = "cooler per watt" if found.change < 0 else "HOTTER per watt: look at it again"
    else:
        verdict = "no change beyond the readings"
    return (
        Answer("before", "Before", found.before, "K/W", 3),
        Answer("after", "After", found.after, "K/W", 3),
        Answer("change", "Change", found.change_percent, "%", 1, noted=True),
        Answer("difference", "Difference", found.change, "K/W", 3),
        Answer("uncertainty", "Readings explain up to ±", found.uncertainty, "K/W", 3, _K),
        Answer("verdict", "So", verdict, alert=found.real and found.change > 0, noted=True),
    )


_K = f"temperatures and power, k = {COVERAGE_FACTOR:g}, GUM"
_TESTED = (
    "hot_before",
    "room_before",
    "power_before",
    "hot_after",
    "room_after",
    "power_after",
    "error",
    "power_error",
)

PASTE = Calculator(
    name="paste",
    title="Paste",
    line="Thermal paste: volume, jobs in the tube, what a repaste changed",
    givens=(
        Given("die", "Die area", "mm²", 1, 5000),
        Given("bond", "Bond line", "µm", 1, 1000, LIMITS["paste.bond_um"].typed),
        Given("conductivity", "Conductivity of the paste", "W/mK", 0.1, 100),
        Given("excess", "Dispensed, times the layer", "", 1, 20, LIMITS["paste.excess"].typed),
        Given("tube", "Paste left in the tube", "g", 0.01, 5000),
        Given("density", "Density of the paste", "g/cm³", 0.5, 12, LIMITS["paste.density_g_cm3"].typed),
        Given("hot_before", "Before: chip under load", "°C", -20, 150),
        Given("room_before", "Before: room", "°C", -20, 60),
        Given("power_before", "Before: power", "W", 0.5, 1000),
        Given("hot_after", "After: chip under load", "°C", -20, 150),
        Given("room_after", "After: room", "°C", -20, 60),
        Given("power_after", "After: power", "W", 0.5, 1000),
        Given("error", "A reading may be off by", "K", 0, 10, LIMITS["load.reading_error_k"].typed),
        Given("power_error", "Power may be off by", "%", 0, 50, LIMITS["load.power_error_percent"].typed),
    ),
    sums=(
        Sum("Volume", ("die", "bond", "excess"), _layer),
        Sum("Thermal resistance", ("die", "bond", "conductivity"), _resistance),
        Sum("Tube", ("tube", "density", "die", "bond", "excess"), _tube),
        Sum("Load test, before and after", _TESTED, _load_test),
    ),
    formulas=(
        "volume = die area × bond line",
        "R = bond line ÷ (conductivity × die area)",
        "jobs = grams ÷ density ÷ volume dispensed",
        "degrees per watt = (chip − room) ÷ power; u = a/√3 a reading and a power, in quadrature, doubled",
    ),
    sources=(
        "R = t/(kA): Fourier's law, one dimension",
        "Uncertainty: JCGM 100:2008 (GUM) 4.3.7, 5.1.2, 6.2",
        "Bond line of a grease 25 to 75 µm: makers' notes",
        f"Density, excess and what readings may be off by, where not typed: {COMMON_PRACTICE}",
    ),
    cautions=(CAUTION_BATTERY_FIRST, CAUTION_SOLVENT),
)
