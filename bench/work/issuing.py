"""Taking stock out, the oldest receipt first, inside the transaction of whoever does it."""

from __future__ import annotations

from collections.abc import Sequence

from sqlmodel import Session

from bench.domain.layers import Draw, Layer, draw_oldest
from bench.domain.quantities import THOUSANDTHS, show_quantity
from bench.domain.stock_levels import Issued as Issued
from bench.errors import BadInput, OutOfStock
from bench.store.engine import plain_connection
from bench.store.tables import Consumable, Movement
from bench.views import stock as reads
from bench.views.shop import facts
from bench.views.stock import stock_lines
from bench.work.change import Change


def issue(made: Change, task_id: int, consumable_id: int, quantity: int) -> Issued:
    """Take a quantity (thousandths of the base unit) out of stock for a task, at the cost of the oldest.

    OutOfStock when less is on hand; BadInput for nothing, a negative amount or a part of a piece.
    """
    consumable = made.get(Consumable, consumable_id, "consumable")
    _check_quantity(consumable, quantity)
    for draw in _draws(made.session, consumable, quantity):
        made.session.add(_movement(made, consumable_id, draw, "issue", task_id=task_id))
    made.session.flush()
    line = stock_lines(plain_connection(made.session), made.now_us, consumable_id)[0]
    return Issued(consumable_id, consumable.name, consumable.base_unit, quantity, line.on_hand, line.low)


def count_down(made: Change, consumable: Consumable, quantity: int, reason: str) -> None:
    """Take out what a count found missing, the oldest first, with the reason."""
    assert consumable.id is not None
    for draw in _draws(made.session, consumable, quantity):
        made.session.add(_movement(made, consumable.id, draw, "count", reason=reason))
    made.session.flush()


def take_again(made: Change, movement: Movement) -> None:
    """Take out once more what was taken and given back: from what is there now, the oldest first.

    OutOfStock when less is on hand.
    """
    consumable = made.session.get_one(Consumable, movement.consumable_id)
    for draw in _draws(made.session, consumable, -movement.quantity):
        again = _movement(
            made,
            movement.consumable_id,
            draw,
            movement.kind,
            task_id=movement.task_id,
            reason=movement.reason,
        )
        again.at_us = movement.at_us
        made.session.add(again)
    made.session.flush()


def layers_of(session: Session, consumable_id: int) -> tuple[Layer, ...]:
    """What remains of each receipt of a consumable, as this transaction sees it."""
    session.flush()
    connection = plain_connection(session)
    return reads.layers(connection, facts(connection).zone, consumable_id).get(consumable_id, ())


def _check_quantity(consumable: Consumable, quantity: int) -> None:
    if quantity <= 0:
        raise BadInput(
            f"{show_quantity(quantity, consumable.base_unit)} of {consumable.name} cannot be taken.",
            "Give an amount above 0.",
        )
    if consumable.base_unit == "piece" and quantity % THOUSANDTHS:
        raise BadInput(
            f"{show_quantity(quantity, 'piece')} of {consumable.name} cannot be taken.",
            "Pieces are counted whole.",
        )


def _draws(session: Session, consumable: Consumable, quantity: int) -> Sequence[Draw]:
    assert consumable.id is not None
    layers = layers_of(session, consumable.id)
    left = sum(layer.quantity for layer in layers)
    if quantity > left:
        asked, kept = (show_quantity(amount, consumable.base_unit) for amount in (quantity, left))
        raise OutOfStock(
            f"{consumable.name}: {asked} asked for, {kept} left.", "Count it first, or take less."
        )
    return draw_oldest(layers, quantity)


def _movement(
    made: Change, consumable_id: int, draw: Draw, kind: str, *, task_id: int | None = None, reason: str = ""
) -> Movement:
    return Movement(
        consumable_id=consumable_id,
        kind=kind,
        quantity=-draw.quantity,
        cost_minor=-draw.cost_minor,
        at_us=made.now_us,
        person_id=made.desk.person_id,
        layer_id=draw.receipt_id,
        task_id=task_id,
        reason=reason,
    )
