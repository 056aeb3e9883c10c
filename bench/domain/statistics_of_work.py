"""How long work took, over many jobs: median and percentiles."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from bench.domain.amounts import Length
from bench.errors import BadInput


@dataclass(frozen=True)
class Spread:
    """How many jobs there were, and the times that half and four fifths of them stayed within."""

    count: int
    median_us: Length
    p80_us: Length


def percentile(values: Sequence[float | int], share: float) -> float:
    """The value that this share (0 to 1) of the values stays within, between neighbours in proportion.

    Source: Hyndman and Fan, Sample Quantiles in Statistical Packages, The American Statistician 50 (1996),
    361-365, type 7.
    """
    if not values:
        raise BadInput("There are no values yet.", "Finish a job first.")
    if not 0 <= share <= 1:
        raise BadInput(f"{share} is not a share.", "Give one from 0 to 1.")
    ordered = sorted(values)
    place = (len(ordered) - 1) * share
    below = math.floor(place)
    above = min(below + 1, len(ordered) - 1)
    return ordered[below] + (place - below) * (ordered[above] - ordered[below])


def median(values: Sequence[float | int]) -> float:
    """The middle value, or the mean of the middle two."""
    return percentile(values, 0.5)


def spread(durations_us: Sequence[int]) -> Spread | None:
    """Count, median and 80th percentile in whole microseconds (halves up); None where there is nothing."""
    if not durations_us:
        return None
    return Spread(len(durations_us), _whole(median(durations_us)), _whole(percentile(durations_us, 0.8)))


def _whole(value: float) -> int:
    return math.floor(value + 0.5)
