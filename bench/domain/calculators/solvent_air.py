"""Isopropyl in the air of a room: how much there is, how long to air, how to dilute.

One well-mixed box: C' = G/V - (Q/(K V)) C, with G what evaporates, V the room, Q the air exchanged and K the
mixing factor. Near the work there is always more than the room's mean.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from bench.domain.calculators.shape import COMMON_PRACTICE, Answer, Calculator, Figures, Given, Sum
from bench.domain.calculators.units import not_negative, positive
from bench.domain.safety import CAUTION_SOLVENT
from bench.errors import BadInput

MOLAR_MASS_G_MOL = 60.095
MOLAR_VOLUME_L = 24.45  # at 25 °C and one atmosphere, as the printed limits use it
LOWER_FLAMMABLE_PPM = 20_000  # 2.0 % by volume
TENTH_OF_LOWER_FLAMMABLE_PPM = LOWER_FLAMMABLE_PPM / 10
SHIFT_H = 8.0
MINUTES_AN_HOUR = 60

# Over a shift and for a short time, ppm: the lowest of ACGIH 200/400, NIOSH 400/500, OSHA 400.
LOWEST_SHIFT_PPM = 200
LOWEST_SHORT_PPM = 400

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
    """`used_g` evaporating evenly over `over_h` hours in `room_m3` with `changes_h` air changes an hour."""

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
    if not 1 <= mixing_factor <= 10:
        raise BadInput(f"A mixing factor of {mixing_factor:g} cannot be.", "Give 1 (perfect) to 10 (poor).")
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
    return positive(used_g_h, "The use an hour") * positive(mixing_factor, "The mixing factor") / grams_m3


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


def _air(figures: Figures) -> tuple[Answer, ...]:
    changes_h = effective_changes(figures["changes"], figures["mixing"])
    hours = figures["minutes"] / MINUTES_AN_HOUR
    use = Use(figures["used"], hours, figures["room"], changes_h)
    peak_ppm, mean_ppm = ppm_of(use.after_mg_m3(hours)), ppm_of(use.mean_mg_m3(SHIFT_H))
    minutes = airing_minutes(peak_ppm, figures["target"], changes_h)
    return (
        *_level("peak", "Peak", peak_ppm, LOWEST_SHORT_PPM, "15 min limit"),
        *_level("mean", "Mean over 8 h", mean_ppm, LOWEST_SHIFT_PPM, "8 h limit"),
        _flammable(peak_ppm),
        _sealed(ppm_of(sealed_mg_m3(figures["used"], figures["room"]))),
        Answer(
            *("airing", "Then air for", minutes, "min", 0),
            sure="no source of vapour left, the model's air changes",
            words="it does not clear without air changes",
            alert=minutes is None,
            noted=True,
        ),
    )


def _level(name: str, label: str, ppm: float, limit: int, limit_name: str) -> tuple[Answer, ...]:
    share = ppm / limit * 100
    return (
        Answer(name, label, ppm, "ppm", 0, "room's mean; more near the work", noted=True),
        Answer(
            *(f"{name}_share", f"of the lowest {limit_name}, {limit} ppm", share, "%", 0),
            sure="OVER the limit: less solvent or more air" if share > 100 else "below it in the model",
            alert=share > 100,
        ),
    )


def _flammable(peak_ppm: float) -> Answer:
    share = peak_ppm / TENTH_OF_LOWER_FLAMMABLE_PPM * 100
    over = "OVER: no ignition source, air the room, leave it"
    return Answer(
        *("flammable_share", "Peak, of a tenth of the lower flammable limit", share, "%", 0),
        sure=over if share > 100 else "says nothing about the air at the cloth",
        alert=share > 100,
    )


def _sealed(ppm: float) -> Answer:
    return Answer("sealed", "At once, no air change", ppm, "ppm", 0, "the most the room's mean can be")


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
    sure = "with water up to the mark: adding volumes errs by up to 3.5 %"
    return (
        Answer("take", "Take", take_ml, "ml", 1, noted=True),
        Answer("make_up", "and make up to", figures["total"], "ml", 1, sure),
    )


SOLVENT_AIR = Calculator(
    name="solvent",
    title="Solvent air",
    line="Isopropyl in the room's air, minutes of airing, dilution",
    givens=(
        Given("used", "Isopropyl that evaporates", "g", 0.01, 5000),
        Given("room", "Room", "m³", 1, 100_000),
        Given("minutes", "Used over", "min", 1, 480, "15"),
        Given("changes", "Air changes", "per h", 0, 100, "0.5"),
        Given("mixing", "Mixing, 1 good to 10 poor", "", 1, 10, "3"),
        Given("target", "Air down to", "ppm", 1, 1000, "20"),
        Given("have", "Dilute: alcohol in stock", "%", 1, 100),
        Given("want", "Dilute: wanted", "%", 1, 100),
        Given("total", "Dilute: volume to make", "ml", 1, 100_000),
    ),
    sums=(
        Sum("Air of the room", ("used", "room", "minutes", "changes", "mixing", "target"), _air),
        Sum("Ventilation", ("used", "room", "minutes", "mixing"), _air_needed),
        Sum("Dilution, by volume", ("have", "want", "total"), _dilution),
    ),
    formulas=(
        "while in use C = (G/Q)(1 − e^(−Qt/V)), then C e^(−Qt/V); Q = air changes × room ÷ mixing factor",
        "ppm = mg/m³ × 24.45 ÷ 60.095; airing = ln(peak ÷ target) ÷ (Q/V)",
        "air needed = grams an hour × mixing factor ÷ limit; dilution C1 V1 = C2 V2",
    ),
    sources=(
        "Box model: industrial hygiene equation sheets; mixing factor: MMWR 43 (RR-13) 1994, table S3-1",
        "Limits: ACGIH 200/400 ppm, NIOSH 400/500 ppm, OSHA 400 ppm; lower flammable limit 2.0 %: NIOSH",
        "0.5 air changes in a closed room, mixing factor 3, 20 ppm: " + COMMON_PRACTICE,
    ),
    cautions=(CAUTION_SOLVENT, CAUTION_SOLVENT_AIR),
)
