"""What consumables will cost before they are used: from stock as it lies, the rest at the newest price."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bench.domain.amounts import Minor, Thousandths
from bench.domain.layers import Layer, draw_oldest

FROM_STOCK = "from stock, oldest first"
PART_STOCK = "what is in stock, the rest at the newest price"
NEWEST = "at the newest price"
NO_PRICE = "no price known"


@dataclass(frozen=True, slots=True)
class UseCost:
    """What a route takes of a consumable (thousandths of `base_unit`), what it costs, and by which price."""

    consumable_id: int
    name: str
    base_unit: str
    quantity: Thousandths
    cost_minor: Minor
    basis: str


def cost_of_use(layers: Sequence[Layer], quantity: int, newest: tuple[int, int] | None) -> tuple[int, str]:
    """The cost of a quantity (thousandths) in minor units, and the words for which price it rests on.

    `newest`: quantity and cost of the newest priced receipt. Rounding: halves up.
    """
    drawn = min(sum(layer.quantity for layer in layers), quantity)
    cost = sum(draw.cost_minor for draw in draw_oldest(layers, drawn)) if drawn else 0
    missing = quantity - drawn
    if not missing:
        return cost, FROM_STOCK if any(layer.cost_minor for layer in layers) else NO_PRICE
    if newest is None:
        return cost, NO_PRICE
    received, paid = newest
    cost += (2 * paid * missing + received) // (2 * received)
    return cost, PART_STOCK if drawn else NEWEST
