"""Screens: pixels an inch, and how much of a colour space a panel's primaries span."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from bench.domain.calculators.measures import positive
from bench.domain.calculators.shape import Answer, Calculator, Figures, Given, Sum
from bench.domain.limits.colours import LIMITS, NAMES, PRIMARIES
from bench.domain.safety import CAUTION_GLUED
from bench.errors import BadInput


class Point(NamedTuple):
    """A colour by its CIE 1931 x and y."""

    x: float
    y: float


Triangle = tuple[Point, Point, Point]


def _triangle(space: str) -> Triangle:
    red, green, blue = (
        Point(*(LIMITS[f"colour.{space}.{primary}_{axis}"].value for axis in "xy")) for primary in PRIMARIES
    )
    return red, green, blue


SPACES: dict[str, Triangle] = {space: _triangle(space) for space in NAMES}


def pixels_an_inch(width_px: int, height_px: int, diagonal_in: float) -> float:
    """Pixels an inch of a screen with square pixels: diagonal in pixels over diagonal in inches."""
    diagonal_px = math.hypot(positive(width_px, "The width"), positive(height_px, "The height"))
    return diagonal_px / positive(diagonal_in, "The diagonal")


def area(corners: Sequence[Point]) -> float:
    """The area of a polygon given by its corners in order (shoelace formula), never negative."""
    return abs(_signed_area(corners))


def area_ratio(panel: Triangle, space: Triangle) -> float:
    """The panel's area over the space's: may pass 1, and says nothing of where it lies."""
    return area(_real(panel)) / area(_real(space))


def coverage(panel: Triangle, space: Triangle) -> float:
    """The share of the space's area that the panel spans, 0 to 1: area of what both share over the space's.

    The shared part is cut out edge by edge (Sutherland and Hodgman), both being convex.
    """
    space_area = area(_real(space))
    shared: list[Point] = list(_anticlockwise(_real(panel)))
    corners = _anticlockwise(space)
    for at, start in enumerate(corners):
        shared = _left_of(shared, start, corners[(at + 1) % 3])
    return min(1.0, area(shared) / space_area) if len(shared) > 2 else 0.0


def _signed_area(corners: Sequence[Point]) -> float:
    pairs = zip(corners, (*corners[1:], corners[0]), strict=True)
    return sum(one.x * two.y - two.x * one.y for one, two in pairs) / 2


def _real(triangle: Triangle) -> Triangle:
    if not all(math.isfinite(value) and 0 <= value <= 1 for point in triangle for value in point):
        raise BadInput("A colour's x and y lie between 0 and 1.", "Copy the primaries again.")
    if area(triangle) < 1e-6:
        raise BadInput("The three primaries lie on one line.", "Copy the primaries again.")
    return triangle


def _anticlockwise(triangle: Triangle) -> Triangle:
    return triangle if _signed_area(triangle) > 0 else (triangle[0], triangle[2], triangle[1])


def _left_of(corners: Sequence[Point], start: Point, end: Point) -> list[Point]:
    kept: list[Point] = []
    for at, here in enumerate(corners):
        before = corners[at - 1]
        inside, was_inside = _side(start, end, here) >= 0, _side(start, end, before) >= 0
        if inside != was_inside:
            kept.append(_crossing(before, here, start, end))
        if inside:
            kept.append(here)
    return kept


def _side(start: Point, end: Point, point: Point) -> float:
    return (end.x - start.x) * (point.y - start.y) - (end.y - start.y) * (point.x - start.x)


def _crossing(one: Point, two: Point, start: Point, end: Point) -> Point:
    from_one, from_two = _side(start, end, one), _side(start, end, two)
    share = from_one / (from_one - from_two)
    return Point(one.x + share * (two.x - one.x), one.y + share * (two.y - one.y))


def _density(figures: Figures) -> tuple[Answer, ...]:
    found = pixels_an_inch(int(figures["width"]), int(figures["height"]), figures["diagonal"])
    return (Answer("ppi", "Pixels an inch", found, "", 1, "square pixels; diagonals are round", noted=True),)


def _gamut(figures: Figures) -> tuple[Answer, ...]:
    red, green, blue = (Point(figures[f"{name}_x"], figures[f"{name}_y"]) for name in PRIMARIES)
    panel, name = (red, green, blue), figures.choice("space")
    covered, ratio = coverage(panel, SPACES[name]) * 100, area_ratio(panel, SPACES[name]) * 100
    based_on = "in CIE 1931 xy; other planes give other figures"
    return (
        Answer("coverage", f"Coverage of {name}", covered, "%", 1, based_on, noted=True),
        Answer("ratio", f"Area over that of {name}", ratio, "%", 1, "not coverage"),
        Answer("area", "Area", area(panel), "", 4, "in CIE 1931 xy"),
    )


_COORDINATES = tuple(f"{name}_{axis}" for name in PRIMARIES for axis in "xy")

SCREEN = Calculator(
    name="screen",
    title="Screen",
    line="Pixels an inch; gamut area and coverage from the primaries",
    givens=(
        Given("width", "Pixels across", "", 100, 20_000, whole=True),
        Given("height", "Pixels down", "", 100, 20_000, whole=True),
        Given("diagonal", "Diagonal", "in", 1, 120),
        *(Given(name, f"{name[:-2].title()} {name[-1]}", "", 0.0001, 0.9999) for name in _COORDINATES),
        Given("space", "Compared with", default="sRGB", choices=tuple(SPACES)),
    ),
    sums=(
        Sum("Sharpness", ("width", "height", "diagonal"), _density),
        Sum("Colours", (*_COORDINATES, "space"), _gamut),
    ),
    formulas=(
        "pixels an inch = √(across² + down²) ÷ diagonal",
        "coverage = area shared with the colour space ÷ its area; ratio = area ÷ its area",
    ),
    sources=(
        *(f"Primaries of {name}: {LIMITS[f'colour.{name}.red_x'].said}" for name in NAMES),
        "Their areas agree with those that the colour-science library gives",
    ),
    cautions=(CAUTION_GLUED,),
)
