"""Consumables to choose from, low ones first, and what a form about one of them begins with."""

from __future__ import annotations

from collections.abc import Sequence

from bench.domain.quantities import show_quantity
from bench.domain.stock_levels import StockLine
from bench.domain.text import for_display


def consumable_choices(stock: Sequence[StockLine]) -> tuple[tuple[str, str], ...]:
    """Each consumable with its level, in the order of the stock book: low ones first."""
    return tuple((str(line.consumable_id), _words(line)) for line in stock)


def suggested_packs(line: StockLine) -> str:
    """How many packs to order, as text; nothing where it is not low."""
    return str(line.suggest_packs) if line.suggest_packs else ""


def pack_words(line: StockLine) -> str:
    """What one pack holds, the level now, and what can hurt."""
    pack, level, reorder = (
        show_quantity(amount, line.base_unit) for amount in (line.pack, line.on_hand, line.reorder_at)
    )
    words = f"A pack holds {pack}; {level} on hand, order at {reorder}."
    return f"{words}\n{for_display(line.hazard)}" if line.hazard else words


def level_words(line: StockLine) -> str:
    """What the book says is there."""
    return f"The book says {show_quantity(line.on_hand, line.base_unit)}."


def shelf_life_words(line: StockLine) -> str:
    """What an empty expiry means."""
    if line.shelf_life_days is None:
        return "empty: it does not expire"
    return f"empty: {line.shelf_life_days} days after that date"


def _words(line: StockLine) -> str:
    low = ", low" if line.low else ""
    return f"{line.name}  ({show_quantity(line.on_hand, line.base_unit)}{low})"
