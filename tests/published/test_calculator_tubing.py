"""Tubing against printed sizes and worked choices."""

import pytest

from bench.domain.calculators.tubing import (
    SIZES,
    Tube,
    build_up_mm,
    cut_length_mm,
    fitting,
    grips,
    passes_over,
    ratio_needed,
)
from tests.published.cases import Case

INCH_MM = 25.4
PRINTED = "inch sizes of AMS-DTL-23053/5 (from memory)"
SOLD = "a datasheet to MIL-I-23053"
UNVERIFIED = "sizes as sold: unverified"
TWO_SOLD = "1.6/0.8 2.4/1.2 3.2/1.6 4.8/2.4 6.4/3.2 9.5/4.8 12.7/6.4 19.1/9.5 25.4/12.7 38.1/19.1 50.8/25.4"
# Nominal inch size of 2:1 tubing: expanded and recovered inside diameter in inches.
INCH_SIZES = {
    "1/16": (0.063, 0.031),
    "3/32": (0.093, 0.046),
    "1/8": (0.125, 0.062),
    "3/16": (0.187, 0.093),
    "1/4": (0.250, 0.125),
    "3/8": (0.375, 0.187),
    "1/2": (0.500, 0.250),
    "3/4": (0.750, 0.375),
    "1": (1.000, 0.500),
}
TWO_TO_ONE = [tube for tube in SIZES if tube.ratio == 2]


def _of(ratio, over_mm, cable_mm):
    return [tube.named() for tube in fitting(over_mm, cable_mm, 20) if tube.ratio == ratio]


CASES = (
    *(
        Case(
            f"2:1 size {name} in, expanded inside diameter",
            PRINTED,
            lambda tube=tube: tube.expanded_mm,
            expanded * INCH_MM,
            0.051,
            "millimetre tables round to 0.1 mm",
        )
        for (name, (expanded, _)), tube in zip(INCH_SIZES.items(), TWO_TO_ONE, strict=False)
    ),
    *(
        Case(
            f"2:1 size {name} in, recovered inside diameter",
            PRINTED,
            lambda tube=tube: tube.recovered_mm,
            recovered * INCH_MM,
            0.051,
            "millimetre tables round to 0.1 mm",
        )
        for (name, (_, recovered)), tube in zip(INCH_SIZES.items(), TWO_TO_ONE, strict=False)
    ),
    *(
        Case(
            f"{ratio}:1 sizes as sold",
            source,
            lambda ratio=ratio: " ".join(tube.named() for tube in SIZES if tube.ratio == ratio),
            names,
            0,
            "nominal sizes",
        )
        for ratio, source, names in (
            (
                2,
                SOLD,
                TWO_SOLD,
            ),
            (3, UNVERIFIED, "1.5/0.5 3/1 6/2 9/3 12/4 18/6 24/8 39/13"),
            (4, UNVERIFIED, "4/1 8/2 12/3 16/4 24/6"),
        )
    ),
    Case(
        "plug 5.5 mm, cable 3.5 mm, 20 % to spare: no 2:1 size",
        "makers' rule: expanded above the widest part plus 20 %, recovered below the cable",
        lambda: _of(2, 5.5, 3.5),
        [],
        0,
        "a choice: exact",
    ),
    Case(
        "the same in 3:1",
        "makers' rule and one maker's 3:1 sizes",
        lambda: _of(3, 5.5, 3.5),
        ["9/3"],
        0,
        "a choice: exact",
    ),
    Case(
        "3/4 in of 3:1 tubing recovers to 1/4 in: a 19.05 mm plug on a 6.35 mm cable needs 3:1",
        "a supplier's sizing guide (3:1, 3/4 in to 1/4 in)",
        lambda: ratio_needed(19.05, 6.35, 0),
        3.0,
        1e-9,
        "a ratio of two inch sizes: exact but for the float",
    ),
    Case(
        "finished 30 mm at 15 % lengthwise shrink: cut",
        "plain arithmetic, 30 / 0.85; 5 to 15 % by a supplier's guide",
        lambda: cut_length_mm(30, 15),
        35.294,
        0.0005,
        "half of the last digit given",
    ),
)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.case)
def test_published(case):
    assert case.holds(), f"{case.got()} instead of {case.expected}"


def test_every_ratio_is_close_to_its_name():
    # A maker's tolerance on nominal sizes: no tube shrinks less than its ratio by more than a few percent.
    for tube in SIZES:
        assert tube.expanded_mm / tube.recovered_mm == pytest.approx(tube.ratio, rel=0.03)


def test_just_as_wide_neither_passes_nor_grips():
    # Both rules are strict in the makers' guides: greater than the obstacle, smaller than the cable.
    assert not passes_over(Tube(3, 6, 2), 6, 0)
    assert passes_over(Tube(3, 6, 2), 5, 20)
    assert not grips(Tube(3, 6, 2), 2)


def test_what_to_build_up_to_makes_the_first_size_grip():
    thicker = build_up_mm(20, 20)
    assert thicker is not None
    assert not fitting(20, thicker, 20)
    assert fitting(20, thicker + 0.01, 20)
