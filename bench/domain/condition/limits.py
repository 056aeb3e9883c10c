"""Whether a figure from a file can be: what lies outside its range is a damaged file, not a reading."""

from __future__ import annotations

from typing import Any

from bench.domain.condition.figures import Figures, number
from bench.domain.limits import packs, reading_files

LIMITS: dict[str, tuple[int, int]] = {
    name: (reading_files.LIMITS[f"file.{name}.least"].whole, reading_files.LIMITS[f"file.{name}.most"].whole)
    for name in reading_files.NAMES
}

MOST_HEALTH_PERCENT = packs.LIMITS["pack.most_health_percent"].whole


def possible(name: str, value: int) -> bool:
    """Whether a figure of that name may have this value."""
    least, most = LIMITS[name]
    return least <= value <= most


def more_than_a_pack_can_hold(figures: Figures | dict[str, Any]) -> bool:
    """Whether full charge stands so far above design that one of the two must be wrong."""
    for unit in ("uwh", "uah"):
        full, design = number(figures, f"full_{unit}"), number(figures, f"design_{unit}")
        if full is not None and design is not None and full * 100 > design * MOST_HEALTH_PERCENT:
            return True
    return False
