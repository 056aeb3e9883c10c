"""Heat-shrink tubing: which size passes over a plug and still grips the cable behind it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from bench.domain.calculators.measures import not_negative, positive, share_below_all
from bench.domain.calculators.shape import Answer, Calculator, Figures, Given, Sum
from bench.domain.limits import tubes
from bench.domain.limits.record import COMMON_PRACTICE, UNVERIFIED
from bench.domain.safety import CAUTION_HOT_AIR, CAUTION_MAINS

# A clearance of 20 % over 5 mm is 6 mm and not a last bit more.
_LAST_BIT = 1e-9


class Tube(NamedTuple):
    """A nominal size: its ratio to one, and inside diameters in mm (expanded at least, recovered at most)."""

    ratio: int
    expanded_mm: float
    recovered_mm: float

    def named(self) -> str:
        """The size as it is ordered, such as 9/3."""
        return f"{self.expanded_mm:g}/{self.recovered_mm:g}"


RATIOS = tubes.RATIOS
SIZES: tuple[Tube, ...] = tuple(
    Tube(int(row.id.split(".")[1]), row.value, tubes.LIMITS[row.id.replace("expanded", "recovered")].value)
    for row in tubes.LIMITS.values()
    if row.id.endswith(".expanded")
)
LEAST_HOLD_PERCENT = tubes.LIMITS["tube.least_hold_percent"].value
_SURE = {
    2: f"sizes of {tubes.TWO_TO_ONE.name}",
    **dict.fromkeys((3, 4), f"sizes {UNVERIFIED}: measure before you cut"),
}


def passes_over(tube: Tube, over_mm: float, clearance_percent: float) -> bool:
    """Whether the tube, as delivered, slides over the widest part with that much room to spare.

    Rule of the trade: expanded inside diameter above the largest obstacle; 20 to 30 % over is usual.
    """
    room_mm = positive(over_mm, "The widest part") * (
        1 + not_negative(clearance_percent, "The clearance") / 100
    )
    return tube.expanded_mm > over_mm and tube.expanded_mm >= room_mm - _LAST_BIT


def grips(tube: Tube, cable_mm: float) -> bool:
    """Whether the tube, fully recovered, would be narrower than the cable; just as wide does not grip."""
    return tube.recovered_mm < positive(cable_mm, "The cable")


def fitting(over_mm: float, cable_mm: float, clearance_percent: float) -> tuple[Tube, ...]:
    """The sizes that pass over and grip, however slightly: the lowest ratio first, within it the smallest."""
    return tuple(
        tube for tube in SIZES if passes_over(tube, over_mm, clearance_percent) and grips(tube, cable_mm)
    )


def margin_percent(tube: Tube, cable_mm: float) -> float:
    """How far the tube would still shrink below the cable, in percent of the cable: its hold."""
    return (positive(cable_mm, "The cable") - tube.recovered_mm) / cable_mm * 100


def best(found: Sequence[Tube], cable_mm: float) -> Tube:
    """The size to take of those that fit: the first that holds well, else the one that holds best."""
    for tube in found:
        if margin_percent(tube, cable_mm) >= LEAST_HOLD_PERCENT:
            return tube
    return max(found, key=lambda tube: margin_percent(tube, cable_mm))


def cut_length_mm(finished_mm: float, shrink_percent: float) -> float:
    """The length to cut so that `finished_mm` is left: finished / (1 - shrink). Usual shrink: 5 to 15 %."""
    return positive(finished_mm, "The length") / (
        1 - share_below_all(shrink_percent, "The lengthwise shrink")
    )


def ratio_needed(over_mm: float, cable_mm: float, clearance_percent: float) -> float:
    """The least shrink ratio, to one, that could both pass over and grip."""
    room_mm = positive(over_mm, "The widest part") * (
        1 + not_negative(clearance_percent, "The clearance") / 100
    )
    return room_mm / positive(cable_mm, "The cable")


def build_up_mm(over_mm: float, clearance_percent: float) -> float | None:
    """What the cable must come to be thicker than for some size to grip; None if no size passes over."""
    passing = [tube.recovered_mm for tube in SIZES if passes_over(tube, over_mm, clearance_percent)]
    return min(passing, default=None)


def _sizes(figures: Figures) -> tuple[Answer, ...]:
    over_mm, cable_mm, clearance = figures["over"], figures["cable"], figures["clearance"]
    found = fitting(over_mm, cable_mm, clearance)
    lines = tuple(_of_ratio(ratio, [tube for tube in found if tube.ratio == ratio]) for ratio in RATIOS)
    if not found:
        return (*lines, *_what_else(over_mm, cable_mm, clearance))
    tube = best(found, cable_mm)
    chosen = f"{tube.named()} mm, {tube.ratio}:1"
    margin = margin_percent(tube, cable_mm)
    slight = margin < LEAST_HOLD_PERCENT
    hold = "HOLDS SLIGHTLY: build the cable up first" if slight else "of the cable's diameter, nominal sizes"
    return (
        *lines,
        Answer("take", "Take", chosen, based_on=_CHOSEN, noted=True),
        Answer("margin", "Hold left on the cable", margin, "%", 0, hold, alert=slight),
    )


_CHOSEN = f"lowest ratio, smallest size that holds by {LEAST_HOLD_PERCENT:g} %: {COMMON_PRACTICE}"


def _of_ratio(ratio: int, tubes: Sequence[Tube]) -> Answer:
    named = ", ".join(tube.named() for tube in tubes)
    return Answer(
        f"fits_{ratio}", f"{ratio}:1", named or None, "mm", based_on=_SURE[ratio], words="none fits"
    )


def _what_else(over_mm: float, cable_mm: float, clearance: float) -> tuple[Answer, ...]:
    ratio = ratio_needed(over_mm, cable_mm, clearance)
    thicker = build_up_mm(over_mm, clearance)
    return (
        Answer("take", "Take", None, words="no size listed fits", alert=True, noted=True),
        Answer("ratio", "A higher ratio: more than", ratio, ": 1", 1, "ask the supplier for one"),
        Answer(
            *("build_up", "Or build the cable up first, past", thicker, "mm", 1),
            based_on="with a smaller tube shrunk on first",
            words="no listed size passes over it",
        ),
        Answer("replace", "Or", "replace the lead", based_on="always the choice for a damaged mains lead"),
    )


def _length(figures: Figures) -> tuple[Answer, ...]:
    cut_mm = cut_length_mm(figures["length"], figures["shrink"])
    return (
        Answer("cut", "Cut", cut_mm, "mm", 1, "lengthwise shrink varies: try one piece first", noted=True),
    )


_HOLD_SOURCE = f"A hold of {LEAST_HOLD_PERCENT:g} % of the cable: {COMMON_PRACTICE}"

TUBING = Calculator(
    name="tubing",
    title="Tubing",
    line="Heat-shrink tubing that passes over a plug and grips the cable",
    givens=(
        Given("over", "Widest part to pass over", "mm", 0.5, 60),
        Given("cable", "Cable to grip", "mm", 0.3, 60),
        Given("length", "Length to cover when shrunk", "mm", 3, 1000),
        Given(
            "clearance",
            "Room to spare over the plug",
            "%",
            0,
            100,
            tubes.LIMITS["tube.clearance_percent"].typed,
        ),
        Given("shrink", "Lengthwise shrink", "%", 0, 30, tubes.LIMITS["tube.shrink_percent"].typed),
    ),
    sums=(
        Sum("Sizes that fit", ("over", "cable", "clearance"), _sizes),
        Sum("Length", ("length", "shrink"), _length),
    ),
    formulas=(
        "passes over: expanded inside diameter ≥ widest part × (1 + room to spare)",
        "grips: recovered inside diameter < cable",
        "cut = length ÷ (1 − lengthwise shrink)",
    ),
    sources=(
        *(f"{ratio}:1: {tubes.LIMITS[f'tube.{ratio}.0.expanded'].said}" for ratio in RATIOS),
        f"Room to spare and lengthwise shrink: {tubes.GUIDE.name}",
        _HOLD_SOURCE,
    ),
    cautions=(CAUTION_HOT_AIR, CAUTION_MAINS),
)
