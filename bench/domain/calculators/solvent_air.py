"""Isopropyl in the air of a room: how much there is, how long to air, how to dilute.

One well-mixed box: C' = G/V - (Q/(K V)) C, with G what evaporates, V the room, Q the air exchanged and K the
mixing factor. Near the work there is always more than the room's mean.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from bench.domain.calculators.measures import not_negative, positive
from bench.domain.calculators.shape import Answer, Calculator, Figures, Given, Sum
from bench.domain.limits.air import LIMITS
from bench.domain.limits.record import COMMON_PRACTICE
from bench.domain.safety import CAUTION_SOLVENT
from bench.errors import BadInput

MOLAR_MASS_G_MOL = LIMITS["air.molar_mass_g_mol"].value
MOLAR_VOLUME_L = LIMITS["air.molar_volume_l"].value
LOWER_FLAMMABLE_PPM = LIMITS["air.lower_flammable_ppm"].value
FLAMMABLE_SHARE_PERCENT = LIMITS["air.flammable_share_percent"].value
MOST_FLAMMABLE_PPM = LOWER_FLAMMABLE_PPM * FLAMMABLE_SHARE_PERCENT / 100
LEAST_MIXING = LIMITS["air.least_mixing"].value
MOST_MIXING = LIMITS["air.most_mixing"].value
SHIFT_H = LIMITS["air.shift_hours"].value
MINUTES_AN_HOUR = 60

# Over a shift and for a short time, ppm: the lowest of ACGIH 200/400, NIOSH 400/500, OSHA 400.
LOWEST_SHIFT_PPM = LIMITS["air.shift_ppm"].whole
LOWEST_SHORT_PPM = LIMITS["air.short_ppm"].whole

CAUTION_SOLVENT_AIR = (
    "At the cloth there is far more vapour than the room's mean. Good ventilation always; "
    "local limits come before these."
)


def ppm_of(mg_m3: float) -> float:
    """Parts per million by volume from mg/m³ of isopropyl at 25 °C: mg/m³ × 24.45 / M. Source: NIOSH."""
    return not_negative(mg_m3, "The concentration") * MOLAR_VOLUME_L / MOLAR_MASS_G_MOL


def mg_m3_of(ppm: float) -> float:
    """mg/m³ of isopropyl at 25 °C from parts per million by volume: the inverse of `ppm_of`."""
    return not_negative(ppm, "The concentration") * MOLAR_MASS_G_MOL / MOLAR_VOLUME_L


def sealed_mg_m3(used_g: float, room_m3: float) -> float:
    """All of it evaporated into a room without any air change, in mg/m³: nothing can be higher on average."""
    return positive(used_g, "The solvent") / positive(room_m3, "The room") * 1000


class Use(NamedTuple):
    """`used_g` evaporating evenly over `over_h` hours in `room_m3` with `changes_h` air changes per hour."""

    used_g: float
    over_h: float
    room_m3: float
    changes_h: float

    def after_mg_m3(self, hours: float) -> float:
        """The room's mean after so many hours: rising while it is used, decaying afterwards.

        C = (G/Q)(1 - e^(-Qt/V)), then C e^(-Qt/V). Source: industrial hygiene equation sheets, box model.
        """
        rate = not_negative(self.changes_h, "The air changes")
        at_work_h = min(hours, positive(self.over_h, "The time of use"))
        level = self._rise_mg_m3_h() * _mean_decay(rate, at_work_h)
        return level * math.exp(-rate * max(0.0, hours - self.over_h))

    def mean_mg_m3(self, hours: float) -> float:
        """The mean over so many hours from the start of the use, in mg/m³: the box model's exact integral."""
        rate, rise = not_negative(self.changes_h, "The air changes"), self._rise_mg_m3_h()
        at_work_h = min(positive(hours, "The time"), positive(self.over_h, "The time of use"))
        exposure = rise * _second_integral(rate, at_work_h)
        exposure += self.after_mg_m3(at_work_h) * _mean_decay(rate, hours - at_work_h)
        return exposure / hours

    def _rise_mg_m3_h(self) -> float:
        return sealed_mg_m3(self.used_g, self.room_m3) / self.over_h


def effective_changes(changes_h: float, mixing_factor: float) -> float:
    """Air changes an hour that count: Q/V divided by the mixing factor, 1 perfect to 10 very poor.

    Source: MMWR 43 (RR-13), 1994, table S3-1 and its note.
    """
    if not LEAST_MIXING <= mixing_factor <= MOST_MIXING:
        raise BadInput(
            f"A mixing factor of {mixing_factor:g} cannot be.",
            f"Give {LEAST_MIXING:g} (perfect) to {MOST_MIXING:g} (poor).",
        )
    return not_negative(changes_h, "The air changes") / mixing_factor


def airing_minutes(from_ppm: float, to_ppm: float, changes_h: float) -> float | None:
    """Minutes until the level has fallen to `to_ppm`: ln(C1/C2) / (Q/V). None: without air it never does."""
    if from_ppm <= positive(to_ppm, "The level to reach"):
        return 0.0
    if not_negative(changes_h, "The air changes") == 0:
        return None
    return math.log(from_ppm / to_ppm) / changes_h * MINUTES_AN_HOUR


def air_needed_m3_h(used_g_h: float, limit_ppm: float, mixing_factor: float) -> float:
    """Fresh air that holds a steady use at the limit: G K / C. Source: dilution ventilation, as 403 SG ER."""
    grams_m3 = mg_m3_of(positive(limit_ppm, "The limit")) / 1000
    return positive(used_g_h, "The use per hour") * positive(mixing_factor, "The mixing factor") / grams_m3


def stock_to_take_ml(have_percent: float, want_percent: float, total_ml: float) -> float:
    """How much of the stronger alcohol to make up to `total_ml` with water: C1 V1 = C2 V2, by volume.

    Make up to the mark: alcohol and water shrink when mixed, adding volumes errs by up to 3.5 %.
    """
    if not 0 < want_percent <= have_percent <= 100:
        raise BadInput(
            f"{want_percent:g} % cannot be made from {have_percent:g} %.", "Start from a stronger alcohol."
        )
    return want_percent / have_percent * positive(total_ml, "The volume to make")


def _mean_decay(rate: float, hours: float) -> float:
    """(1 - e^(-r t)) / r, and t where nothing decays."""
    return -math.expm1(-rate * hours) / rate if rate * hours > 1e-9 else hours


def _second_integral(rate: float, hours: float) -> float:
    """(t - (1 - e^(-r t)) / r) / r, and t²/2 where nothing decays."""
    if rate * hours > 1e-4:
        return (hours - _mean_decay(rate, hours)) / rate
    return hours**2 / 2 * (1 - rate * hours / 3)


def _day(figures: Figures) -> Use:
    """All jobs of the day straight after one another: nothing raises the peak further."""
    jobs, hours = figures["jobs"], figures["minutes"] / MINUTES_AN_HOUR
    if jobs * hours > SHIFT_H:
        raise BadInput(
            f"{jobs:g} jobs of {figures['minutes']:g} min are more than a day of {SHIFT_H:g} h.",
            "Give fewer jobs or a shorter time.",
        )
    changes_h = effective_changes(figures["changes"], figures["mixing"])
    return Use(figures["used"] * jobs, hours * jobs, figures["room"], changes_h)


def day_mean_mg_m3(one_job: Use, jobs: float) -> float:
    """The mean over 8 h of so many such jobs in one day, in mg/m³: what each adds in 8 h, added up.

    The box model is linear, so jobs add. A job late in the day adds less within it: this is the most.
    """
    return one_job.mean_mg_m3(SHIFT_H) * positive(jobs, "The jobs of a day")


def _air(figures: Figures) -> tuple[Answer, ...]:
    day, jobs = _day(figures), figures["jobs"]
    one = day._replace(used_g=day.used_g / jobs, over_h=day.over_h / jobs)
    peak_ppm, mean_ppm = ppm_of(day.after_mg_m3(day.over_h)), ppm_of(day_mean_mg_m3(one, jobs))
    return (
        *_level("peak", "Peak", peak_ppm, LOWEST_SHORT_PPM, "15 min limit"),
        *_level("mean", f"Mean over {SHIFT_H:g} h", mean_ppm, LOWEST_SHIFT_PPM, f"{SHIFT_H:g} h limit"),
        _flammable(peak_ppm),
        _sealed(ppm_of(sealed_mg_m3(day.used_g, day.room_m3))),
    )


def _airing(figures: Figures) -> tuple[Answer, ...]:
    day = _day(figures)
    peak_ppm = ppm_of(day.after_mg_m3(day.over_h))
    open_h = effective_changes(figures["window"], figures["mixing"])
    minutes = airing_minutes(peak_ppm, figures["target"], open_h)
    based_on = "no source of vapour left, window open at the air changes given for it"
    return (Answer("airing", "Then air for", minutes, "min", 0, based_on, noted=True),)


def _level(name: str, label: str, ppm: float, limit: int, limit_name: str) -> tuple[Answer, ...]:
    share = ppm / limit * 100
    return (
        Answer(name, label, ppm, "ppm", 0, "room's mean; more near the work", noted=True),
        Answer(
            *(f"{name}_share", f"of the lowest {limit_name}, {limit} ppm", share, "%", 0),
            based_on="OVER the limit: less solvent or more air" if share > 100 else "below it in the model",
            alert=share > 100,
        ),
    )


_FLAMMABLE_LABEL = f"Peak, of {FLAMMABLE_SHARE_PERCENT:g} % of the lower flammable limit"


def _flammable(peak_ppm: float) -> Answer:
    share = peak_ppm / MOST_FLAMMABLE_PPM * 100
    over = "OVER: no ignition source, air the room, leave it"
    return Answer(
        *("flammable_share", _FLAMMABLE_LABEL, share, "%", 0),
        based_on=over if share > 100 else "says nothing about the air at the cloth",
        alert=share > 100,
    )


def _sealed(ppm: float) -> Answer:
    return Answer("sealed", "All at once, no air change", ppm, "ppm", 0, "the most the room's mean can be")


def _air_needed(figures: Figures) -> tuple[Answer, ...]:
    an_hour_g = figures["used"] / figures["minutes"] * MINUTES_AN_HOUR
    air = air_needed_m3_h(an_hour_g, LOWEST_SHIFT_PPM, figures["mixing"])
    label = f"Air to work on like this below {LOWEST_SHIFT_PPM} ppm"
    changes = air / figures["room"]
    return (
        Answer("air", label, air, "m³/h", 0, "steady use, the mixing factor given"),
        Answer("air_changes", "which is", changes, "per h", 1, "air changes in this room"),
    )


def _dilution(figures: Figures) -> tuple[Answer, ...]:
    take_ml = stock_to_take_ml(figures["have"], figures["want"], figures["total"])
    based_on = "with water up to the mark: adding volumes errs by up to 3.5 %"
    return (
        Answer("take", "Take", take_ml, "ml", 1, noted=True),
        Answer("make_up", "and make up to", figures["total"], "ml", 1, based_on),
    )


_AT_WORK = ("used", "room", "minutes", "jobs", "changes", "mixing")

SOLVENT_AIR = Calculator(
    name="solvent",
    title="Solvent air",
    line="Isopropyl in the room's air, minutes of airing, dilution",
    givens=(
        Given("used", "Isopropyl that evaporates", "g", 0.01, 5000),
        Given("room", "Room", "m³", 1, 100_000),
        Given("minutes", "Used over", "min", 1, 480, LIMITS["air.minutes"].typed),
        Given("jobs", "Such jobs in one day", "", 1, 100, "1", whole=True),
        Given("changes", "Air changes at work", "per h", 0, 100, LIMITS["air.closed_changes"].typed),
        Given("window", "Air changes, window open", "per h", 0.1, 100),
        Given(
            *("mixing", "Mixing, 1 good to 10 poor", "", LEAST_MIXING, MOST_MIXING),
            default=LIMITS["air.mixing"].typed,
        ),
        Given("target", "Air down to", "ppm", 1, 1000, LIMITS["air.target_ppm"].typed),
        Given("have", "Dilute: alcohol in stock", "%", 1, 100),
        Given("want", "Dilute: wanted", "%", 1, 100),
        Given("total", "Dilute: volume to make", "ml", 1, 100_000),
    ),
    sums=(
        Sum("Air of the room", _AT_WORK, _air),
        Sum("Airing", (*_AT_WORK, "window", "target"), _airing),
        Sum("Ventilation", ("used", "room", "minutes", "mixing"), _air_needed),
        Sum("Dilution, by volume", ("have", "want", "total"), _dilution),
    ),
    formulas=(
        "while in use C = (G/Q)(1 − e^(−Qt/V)), then C e^(−Qt/V); Q = air changes × room ÷ mixing factor",
        "peak: the day's jobs straight after one another; mean over 8 h: what each job adds, added up",
        f"ppm = mg/m³ × {MOLAR_VOLUME_L:g} ÷ {MOLAR_MASS_G_MOL:g}; airing = ln(peak ÷ target) ÷ (Q/V)",
        "air needed = grams per hour × mixing factor ÷ limit; dilution C1 V1 = C2 V2",
    ),
    sources=(
        f"Box model: industrial hygiene equation sheets; mixing factor: {LIMITS['air.least_mixing'].said}",
        f"{LOWEST_SHIFT_PPM} and {LOWEST_SHORT_PPM} ppm: {LIMITS['air.shift_ppm'].said}",
        "Above these: NIOSH 400 and 500 ppm, OSHA 400 ppm",
        f"Lower flammable limit: {LIMITS['air.lower_flammable_ppm'].said}",
        f"{FLAMMABLE_SHARE_PERCENT:g} % of it: {LIMITS['air.flammable_share_percent'].said}",
        "Air changes, time, mixing and level to reach, where not typed: " + COMMON_PRACTICE,
    ),
    cautions=(CAUTION_SOLVENT, CAUTION_SOLVENT_AIR),
)
