"""What is wanted and ordered: parts for a unit or the shelf, consumables; and the tasks that wait for it."""

from __future__ import annotations

from collections.abc import Iterable

from sqlmodel import select

from bench.desk import Desk
from bench.domain.dates import read_day
from bench.domain.money import read_money
from bench.domain.orders import ARRIVED, CANCELLED, ORDERED, TO_COME, WANTED, OrderTold
from bench.domain.text import clean_line
from bench.domain.typed import TypedFields, read_field
from bench.errors import BadInput, Refused
from bench.store.tables import Consumable, PartsOrder, Task, TaskWait
from bench.work.change import Change, change
from bench.work.lookups import shop_of, today
from bench.work.order_rules import fault_of_unit, goes_on, in_the_shop, let_wait, past_day, taken_over, told
from bench.work.stock import typed_amount


def order_part(
    desk: Desk,
    unit_id: int | None,
    *,
    what: str,
    maker_number: str = "",
    supplier: str = "",
    price_text: str = "",
    freight_text: str = "",
    ordered_text: str = "",
    due_text: str = "",
    note: str = "",
    wanted: bool = False,
    task_ids: Iterable[int] = (),
    instead_of_id: int | None = None,
    fault_id: int | None = None,
) -> OrderTold:
    """Write down a part that is ordered, for a unit or for the shelf (None); `wanted`: not ordered yet.

    `task_ids`: the unit's tasks that need it; they wait until it is here. `instead_of_id`: the order in whose
    place it comes; what waited for that one waits for this, and it is for the same fault. `fault_id`: the
    unit's fault that it is for, which bears what it costs.
    """
    with change(desk, "order part") as made:
        order, fields = PartsOrder(what="", wanted_us=made.now_us, unit_id=unit_id), TypedFields()
        if unit_id is not None:
            in_the_shop(made, unit_id)
        order.what = fields.read("what", clean_line, what, "The part")
        order.maker_number = fields.read(
            "maker_number", clean_line, maker_number, "The maker's number", allow_empty=True
        )
        _fill(made, fields, order, supplier, price_text, freight_text, ordered_text, due_text, note)
        _as_ordered(made, order, wanted=wanted)
        tasks = list(task_ids)
        if instead_of_id is not None:
            before = made.get(PartsOrder, instead_of_id, "order")
            _may_be_replaced(before)
            order.instead_of_id = instead_of_id
            order.fault_id = before.fault_id if before.unit_id == unit_id else None
            tasks += taken_over(made, instead_of_id)
        if fault_id is not None:
            order.fault_id = fault_of_unit(made, fault_id, unit_id)
        made.add(order)
        let_wait(made, order, tasks)
        return told(made, order, "Wants" if wanted else "Ordered")


def order_consumable(
    desk: Desk,
    consumable_id: int,
    *,
    packs_text: str = "",
    quantity_text: str = "",
    supplier: str = "",
    price_text: str = "",
    freight_text: str = "",
    ordered_text: str = "",
    due_text: str = "",
    note: str = "",
    wanted: bool = False,
) -> OrderTold:
    """Write down a consumable that is ordered, in packs or in its base unit; days of cover count it."""
    with change(desk, "order consumable") as made:
        consumable, fields = made.get(Consumable, consumable_id, "consumable"), TypedFields()
        order = PartsOrder(what=consumable.name, wanted_us=made.now_us, consumable_id=consumable_id)
        order.quantity = fields.read("packs_text", typed_amount, consumable, packs_text, quantity_text)
        _fill(made, fields, order, supplier, price_text, freight_text, ordered_text, due_text, note)
        _as_ordered(made, order, wanted=wanted)
        made.add(order)
        return told(made, order, "Wants" if wanted else "Ordered")


def edit_order(
    desk: Desk,
    order_id: int,
    *,
    supplier: str,
    price_text: str,
    freight_text: str,
    ordered_text: str,
    due_text: str,
    note: str,
) -> OrderTold:
    """Say what is known of an order that has not arrived: what was only wanted is ordered with it."""
    with change(desk, "edit order") as made:
        order, fields = goes_on(made, order_id, ORDERED), TypedFields()
        verb = "Ordered" if order.state == WANTED else "Edited the order of"
        _fill(made, fields, order, supplier, price_text, freight_text, ordered_text, due_text, note)
        _as_ordered(made, order, wanted=False)
        return told(made, order, verb)


def cancel_order(desk: Desk, order_id: int, reason: str) -> OrderTold:
    """Call an order off before it arrives, with the reason; nothing waits for it any more."""
    with change(desk, "cancel order") as made:
        order = goes_on(made, order_id, CANCELLED)
        why = read_field("reason", clean_line, reason, "The reason")
        order.state = CANCELLED
        return told(made, order, "Cancelled", reason=why)


def wait_for(desk: Desk, task_id: int, order_id: int, *, waits: bool = True) -> None:
    """Let a task wait for what an order brings, or no longer. Refused for an order of another unit."""
    with change(desk, "wait") as made:
        task, order = made.get(Task, task_id, "task"), made.get(PartsOrder, order_id, "order")
        if waits:
            let_wait(made, order, [task_id])
            made.tells(f"{task.name} waits for {order.what}", unit_id=task.unit_id)
            return
        statement = select(TaskWait).where(
            TaskWait.task_id == task_id, TaskWait.order_id == order_id, TaskWait.removed == 0
        )
        rows = made.session.exec(statement).all()
        if not rows:
            raise Refused(f"{task.name} does not wait for {order.what}.", "There is nothing to end.")
        for row in rows:
            row.removed = 1
        made.tells(f"{task.name} no longer waits for {order.what}", unit_id=task.unit_id)


def _fill(
    made: Change,
    fields: TypedFields,
    order: PartsOrder,
    supplier: str,
    price_text: str,
    freight_text: str,
    ordered_text: str,
    due_text: str,
    note: str,
) -> None:
    currency, now = shop_of(made.session).currency, today(made)
    order.supplier = fields.read("supplier", clean_line, supplier, "The supplier", allow_empty=True)
    price = fields.read("price_text", read_money, price_text, currency) if price_text.strip() else None
    freight = fields.read("freight_text", read_money, freight_text, currency) if freight_text.strip() else 0
    ordered = fields.read("ordered_text", past_day, ordered_text, now, "The day it was ordered")
    due = fields.read("due_text", read_day, due_text, now, "The day it is due")
    order.note = fields.read("note", clean_line, note, "The note", allow_empty=True)
    fields.check()
    order.price_minor, order.freight_minor = price, freight
    order.ordered_on = ordered.isoformat() if ordered else None
    order.due_on = due.isoformat() if due else None


def _as_ordered(made: Change, order: PartsOrder, *, wanted: bool) -> None:
    if wanted:
        order.ordered_on = None
        return
    order.state = ORDERED
    order.ordered_on = order.ordered_on or today(made).isoformat()
    if order.due_on is not None and order.due_on < order.ordered_on:
        raise BadInput("It is due before it was ordered.", "Type a later day.", field="due_text")


def _may_be_replaced(before: PartsOrder) -> None:
    if before.state in (*TO_COME, ARRIVED):
        raise Refused(
            f"The order of {before.what} is {before.state}: nothing comes in its place.",
            "Say that it is wrong or broken, or cancel it first.",
        )
