"""What is said of a unit that leaves otherwise than by a sale."""

from __future__ import annotations

from bench.domain.money import show_money
from bench.domain.text import for_display
from bench.domain.unit_money import UnitMoney
from bench.domain.ways_out import BESIDE_A_SALE, HANDED_BACK, WORDS


def way_choices(money: UnitMoney) -> tuple[tuple[str, str], ...]:
    """The ways open to a unit: what is somebody else's is only handed back."""
    ways = (HANDED_BACK,) if money.sold or money.owner else BESIDE_A_SALE
    return tuple((way, WORDS[way]) for way in ways)


def whose_words(money: UnitMoney) -> str:
    """Whose the unit is, and what becomes of its cost."""
    if money.owner:
        return f"It is {for_display(money.owner)}'s. The price of the repair is income of work, no margin."
    if money.sold:
        return "It is its buyer's: its sale stands."
    cost = show_money(money.landed_minor, money.currency)
    return f"Cost so far: {cost}. Scrapped or in parts it is lost today; kept for the shop it is not."
