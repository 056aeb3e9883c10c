"""Stock in layers, one a receipt: what goes out takes the cost of the oldest still there (FIFO)."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from bench.domain.amounts import Instant, Minor, Thousandths
from bench.domain.quantities import plain_number
from bench.errors import BadInput, OutOfStock


@dataclass(frozen=True)
class Layer:
    """What remains of one receipt: quantity in thousandths, and the cost of just that quantity."""

    receipt_id: int
    quantity: Thousandths
    cost_minor: Minor
    received_us: Instant
    expires_on: date | None = None


@dataclass(frozen=True)
class Draw:
    """A part taken from one receipt, with the cost it carries away."""

    receipt_id: int
    quantity: Thousandths
    cost_minor: Minor


def draw_oldest(layers: Iterable[Layer], quantity: int) -> tuple[Draw, ...]:
    """What to take from which receipt to make up the quantity (thousandths), oldest first.

    A part of a layer costs cost * part / quantity, half a minor unit upwards; what empties a layer takes all
    the cost it still holds, so over its life a receipt gives exactly what was paid. Equal instants: lower id.
    OutOfStock if there is less. Source: IAS 2, first-in first-out.
    """
    if quantity <= 0:
        raise BadInput(f"{plain_number(quantity)} cannot be taken out of stock.", "Give an amount above 0.")
    oldest_first = sorted(layers, key=lambda layer: (layer.received_us, layer.receipt_id))
    on_hand = sum(layer.quantity for layer in oldest_first)
    if on_hand < quantity:
        raise OutOfStock(
            f"{plain_number(quantity)} asked for, {plain_number(on_hand)} on hand.",
            "Count what is on hand, or take in what has arrived.",
        )
    draws = []
    for layer in oldest_first:
        part = min(layer.quantity, quantity)
        if part > 0:
            draws.append(Draw(layer.receipt_id, part, _cost_of(layer, part)))
            quantity -= part
    return tuple(draws)


def left_after(layers: Iterable[Layer], draws: Sequence[Draw]) -> tuple[Layer, ...]:
    """The layers that remain once the draws are taken, in the order given; empty ones go."""
    taken = {draw.receipt_id: draw for draw in draws}
    left = []
    for layer in layers:
        draw = taken.get(layer.receipt_id, Draw(layer.receipt_id, 0, 0))
        if layer.quantity > draw.quantity:
            quantity, cost_minor = layer.quantity - draw.quantity, layer.cost_minor - draw.cost_minor
            left.append(replace(layer, quantity=quantity, cost_minor=cost_minor))
    return tuple(left)


def value_minor(layers: Iterable[Layer]) -> int:
    """What the stock on hand cost, in minor units."""
    return sum(layer.cost_minor for layer in layers)


def expired(layers: Iterable[Layer], today: date) -> tuple[Layer, ...]:
    """The layers past their date; on the date itself a layer is still good."""
    return tuple(
        layer
        for layer in layers
        if layer.quantity > 0 and layer.expires_on is not None and layer.expires_on < today
    )


def _cost_of(layer: Layer, part: int) -> int:
    return (2 * layer.cost_minor * part + layer.quantity) // (2 * layer.quantity)
