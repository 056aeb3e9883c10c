"""Screens against printed densities and a library that intersects triangles another way."""

from math import hypot

import numpy as np
import pytest
from scipy.spatial import ConvexHull, HalfspaceIntersection

from bench.domain.calculators.screen_area import SPACES, area, area_ratio, coverage, pixels_an_inch
from tests.published.cases import Case

LIBRARY = "colour-science with shapely (computed once)"
PRINTED = "half of the last digit given"


def _ppi(width, height, inches):
    return lambda: pixels_an_inch(width, height, inches)


def _ratio(panel, space):
    return lambda: area_ratio(SPACES[panel], SPACES[space])


def _halfspaces(triangle):
    return ConvexHull(np.array(triangle)).equations


def library_coverage(panel, space):
    """The shared area by scipy: half-spaces of both triangles, intersected around a point inside."""
    centre = np.mean([*panel, *space], axis=0)
    both = HalfspaceIntersection(np.vstack([_halfspaces(panel), _halfspaces(space)]), centre)
    return ConvexHull(both.intersections).volume / ConvexHull(np.array(space)).volume


CASES = (
    Case("1920 × 1080 at 15.6 in", "mrcalcu.com: 141.21", _ppi(1920, 1080, 15.6), 141.21, 0.005, PRINTED),
    Case("1920 × 1080 at 14 in", "plain arithmetic", _ppi(1920, 1080, 14), 157.35, 0.005, PRINTED),
    Case("2560 × 1440 at 14 in", "plain arithmetic", _ppi(2560, 1440, 14), 209.80, 0.005, PRINTED),
    Case("1920 × 1080 at 21.5 in", "primidi.com: 102.46", _ppi(1920, 1080, 21.5), 102.46, 0.005, PRINTED),
    Case("1024 × 600 at 10.1 in", "primidi.com: 117.5", _ppi(1024, 600, 10.1), 117.5, 0.05, PRINTED),
    Case("area of sRGB in xy", LIBRARY, lambda: area(SPACES["sRGB"]), 0.112050, 5e-7, PRINTED),
    Case("area of NTSC 1953 in xy", LIBRARY, lambda: area(SPACES["NTSC 1953"]), 0.158200, 5e-7, PRINTED),
    Case("area of P3 in xy", LIBRARY, lambda: area(SPACES["P3"]), 0.152000, 5e-7, PRINTED),
    Case("area of BT.2020 in xy", LIBRARY, lambda: area(SPACES["BT.2020"]), 0.211867, 5e-7, PRINTED),
    Case("sRGB over NTSC 1953", LIBRARY, _ratio("sRGB", "NTSC 1953"), 0.7083, 5e-5, PRINTED),
    Case("sRGB over P3", LIBRARY, _ratio("sRGB", "P3"), 0.7372, 5e-5, PRINTED),
    Case("sRGB over BT.2020", LIBRARY, _ratio("sRGB", "BT.2020"), 0.5289, 5e-5, PRINTED),
    Case(
        "sRGB's coverage of NTSC 1953",
        LIBRARY,
        lambda: coverage(SPACES["sRGB"], SPACES["NTSC 1953"]),
        0.6846,
        5e-5,
        PRINTED,
    ),
    Case(
        "a panel of sRGB's primaries against sRGB",
        "definition of coverage",
        lambda: coverage(SPACES["sRGB"], SPACES["sRGB"]),
        1.0,
        1e-12,
        "exact but for the float",
    ),
)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.case)
def test_published(case):
    assert case.holds(), f"{case.got()} instead of {case.expected}"


@pytest.mark.parametrize("space", SPACES)
@pytest.mark.parametrize("panel", SPACES)
def test_coverage_agrees_with_scipy(panel, space):
    # Tolerance 1e-9: both are exact but for floats of values near 0.1.
    expected = library_coverage(SPACES[panel], SPACES[space])

    assert coverage(SPACES[panel], SPACES[space]) == pytest.approx(expected, abs=1e-9)


def test_a_shrunk_panel_covers_the_square_of_the_shrink():
    # Similar triangles: half the edge, a quarter of the area, wherever it lies inside.
    red, green, blue = SPACES["P3"]
    middle = [(one + two) / 2 for one, two in zip(red, green, strict=True)]
    other = [(one + two) / 2 for one, two in zip(red, blue, strict=True)]
    small = (red, type(red)(*middle), type(red)(*other))

    assert hypot(middle[0] - red.x, middle[1] - red.y) > 0
    assert coverage(small, SPACES["P3"]) == pytest.approx(0.25)
