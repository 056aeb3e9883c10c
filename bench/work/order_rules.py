"""Rules of orders: how one goes on, which tasks wait for it, and what is said of it afterwards."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from sqlmodel import col, select

from bench.domain.dates import read_day
from bench.domain.localtime import FIRST_YEAR
from bench.domain.orders import AFTER, TO_COME, OrderTold
from bench.domain.quantities import show_quantity
from bench.errors import BadInput, Refused
from bench.store.tables import Consumable, PartsOrder, Stage, Task, TaskWait, Unit
from bench.work.change import Change
from bench.work.lookups import shop_of


def goes_on(made: Change, order_id: int, state: str) -> PartsOrder:
    """The order, if it may come to that state; Refused where it may not."""
    order = made.get(PartsOrder, order_id, "order")
    if order.state not in AFTER[state]:
        raise Refused(
            f"The order of {order.what} is {order.state}: it cannot be {state}.",
            "Look at the order again, or undo what was said of it.",
        )
    return order


def in_the_shop(made: Change, unit_id: int) -> Unit:
    """The unit, if it has not left; Refused where it has."""
    unit = made.get(Unit, unit_id, "unit")
    if made.get(Stage, unit.stage_id, "stage").final:
        raise Refused(f"Unit {unit.tag} has left.", "Undo it first, or order for the shelf.")
    return unit


def let_wait(made: Change, order: PartsOrder, task_ids: Iterable[int]) -> None:
    """Let these tasks wait for what the order brings. Refused for another unit's and for one that is done."""
    assert order.id is not None
    for task_id in dict.fromkeys(task_ids):
        task = made.get(Task, task_id, "task")
        if task.unit_id != order.unit_id:
            raise Refused(
                f"{task.name} is a task of another unit than the order of {order.what}.",
                "Choose a task of the unit that the part is for.",
            )
        if task.state != "todo":
            raise Refused(f"{task.name} is {task.state} already.", "Reopen it first.")
        known = select(TaskWait.id).where(
            TaskWait.task_id == task_id,
            TaskWait.order_id == order.id,
            TaskWait.removed == 0,
            TaskWait.waived == "",
        )
        if made.session.exec(known).first() is None:
            made.add(TaskWait(task_id=task_id, order_id=order.id))


def taken_over(made: Change, order_id: int) -> list[int]:
    """The tasks that waited for an order, which from now on do no longer."""
    rows = _waits(made, order_id)
    for row in rows:
        row.removed = 1
    return [row.task_id for row in rows]


def past_day(text: str, now: date, what: str) -> date | None:
    """A day up to today; BadInput for one to come, or one too long ago."""
    day = read_day(text, now, what)
    if day is not None and not date(FIRST_YEAR, 1, 1) <= day <= now:
        raise BadInput(f"{what} is {day}.", f"Type today or an earlier day, from {FIRST_YEAR} on.")
    return day


def told(made: Change, order: PartsOrder, verb: str, reason: str = "") -> OrderTold:
    """Say in the journal what was done with the order, and answer it as it is now."""
    made.session.flush()
    assert order.id is not None
    unit = made.session.get(Unit, order.unit_id) if order.unit_id is not None else None
    tasks = [made.get(Task, row.task_id, "task").name for row in _waits(made, order.id)]
    due = f", due {order.due_on}" if order.due_on and order.state in TO_COME else ""
    words = f"{verb} {order.what}{_amount(made, order)}{_for(order, unit)}{due}"
    made.tells(words, unit_id=order.unit_id, reason=reason)
    return OrderTold(
        order_id=order.id,
        what=order.what,
        state=order.state,
        tag=unit.tag if unit else "",
        supplier=order.supplier,
        quantity=order.quantity,
        price_minor=order.price_minor,
        freight_minor=order.freight_minor,
        due_on=date.fromisoformat(order.due_on) if order.due_on else None,
        owed_minor=order.owed_minor,
        refund_minor=order.refund_minor,
        component_id=order.component_id,
        tasks=tuple(tasks),
        currency=shop_of(made.session).currency,
    )


def _waits(made: Change, order_id: int) -> list[TaskWait]:
    statement = (
        select(TaskWait)
        .where(TaskWait.order_id == order_id, TaskWait.removed == 0, TaskWait.waived == "")
        .order_by(col(TaskWait.id))
    )
    return list(made.session.exec(statement))


def _amount(made: Change, order: PartsOrder) -> str:
    if order.consumable_id is None or order.quantity is None:
        return ""
    base_unit = made.get(Consumable, order.consumable_id, "consumable").base_unit
    return f", {show_quantity(order.quantity, base_unit)}"


def _for(order: PartsOrder, unit: Unit | None) -> str:
    if unit is not None:
        return f" for {unit.tag}"
    return " for the shelf" if order.consumable_id is None else ""
