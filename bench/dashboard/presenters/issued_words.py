"""What ran low, in words."""

from __future__ import annotations

from collections.abc import Iterable

from bench.domain.quantities import show_quantity
from bench.domain.stock_levels import Issued


def low_words(issued: Iterable[Issued]) -> str:
    """The consumables that are low now and what is left of each; nothing where none is."""
    low = [f"{one.name} ({show_quantity(one.left, one.base_unit)} left)" for one in issued if one.low]
    return f"Low now: {', '.join(low)}. Time to restock." if low else ""
