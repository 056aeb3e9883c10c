"""The demo's orders as rows: what is on its way, what lies on the shelf, what went back and was refunded."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import timedelta

from bench.domain.amounts import Instant
from bench.domain.orders import ARRIVED, FAULTY, REFUNDED, SENT_BACK, WANTED
from bench.domain.quantities import read_quantity
from bench.domain.tags import tag_from_number
from bench.domain.weeks import day_bounds_us
from bench.store.demo_trade import DemoOrder
from bench.store.tables import Component, Part, PartsOrder, Task, TaskWait
from bench.work.demo.ground import Ground, Line, numbered

MORNING_US = 9 * 3600 * 1_000_000


@dataclass
class OrderRows:
    """Orders, the parts they brought, the tasks that wait, and the journal's lines about them.

    `gone`: the parts that went back, with the instant; they are told once their moves are stored.
    """

    components: list[Component] = field(default_factory=list)
    parts: list[Part] = field(default_factory=list)
    orders: list[PartsOrder] = field(default_factory=list)
    waits: list[TaskWait] = field(default_factory=list)
    gone: list[tuple[Component, Instant, int | None]] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)


def order_rows(ground: Ground, tasks: Iterable[Task], first_component: int) -> OrderRows:
    """Rows of all orders. `first_component`: the number of the first part that they brought."""
    rows, numbers = OrderRows(), {(task.unit_id, task.name): task.id for task in tasks}
    for one in ground.demo.trade.orders:
        order = _order(ground, one, len(rows.orders) + 1)
        before = [other for other in rows.orders if other.what == one.instead and one.instead]
        order.instead_of_id = before[-1].id if before else None
        rows.orders.append(order)
        _tell(ground, rows, one, order, "Wants" if one.state == WANTED else "Ordered", one.ordered_days_ago)
        if one.arrived_days_ago is not None and order.consumable_id is None:
            _arrived(ground, rows, one, order, first_component + len(rows.components))
        if one.task:
            task_id = numbers[order.unit_id or 0, one.task]
            rows.waits.append(TaskWait(task_id=numbered(task_id), order_id=numbered(order.id)))
    return rows


def _order(ground: Ground, one: DemoOrder, number: int) -> PartsOrder:
    price = ground.terms.money(one.price) if one.price else None
    consumable = ground.consumables[one.consumable] if one.consumable else None
    freight = ground.terms.money(one.freight)
    owed = (price or 0) + freight if one.state in (*FAULTY, SENT_BACK) else 0
    unit_id = ground.unit_ids[one.unit] if one.unit else None
    refunded = one.state == REFUNDED
    return PartsOrder(
        id=number,
        what=one.what,
        maker_number=one.maker_number,
        unit_id=unit_id,
        consumable_id=consumable.id if consumable else None,
        quantity=read_quantity(one.quantity, consumable.base_unit) if consumable else None,
        supplier=one.supplier,
        price_minor=price,
        freight_minor=freight,
        state=one.state,
        wanted_us=_at(ground, one.ordered_days_ago),
        ordered_on=None if one.state == WANTED else _day(ground, one.ordered_days_ago),
        due_on=_day(ground, None if one.due_in_days is None else -one.due_in_days),
        arrived_on=_day(ground, one.arrived_days_ago),
        faulty_on=_day(ground, one.arrived_days_ago) if one.found else None,
        found=one.found,
        sent_back_on=_day(ground, one.sent_days_ago),
        refunded_us=_at(ground, one.refunded_days_ago) if refunded else None,
        owed_minor=owed,
        refund_minor=ground.terms.money(one.refund),
        refund_unit_id=unit_id if refunded else None,
        note=one.note,
    )


def _arrived(ground: Ground, rows: OrderRows, one: DemoOrder, order: PartsOrder, number: int) -> None:
    component = Component(id=number, name=one.what, maker_number=one.maker_number, place=one.place)
    at_us = _at(ground, one.arrived_days_ago)
    rows.components.append(component)
    rows.parts.append(
        Part(
            name=one.what,
            component_id=number,
            cost_minor=(order.price_minor or 0) + order.freight_minor,
            at_us=at_us,
            person_id=ground.people[first_person_of(ground)],
            supplier=one.supplier,
        )
    )
    order.component_id = number
    took = "Took in" if order.state == ARRIVED else f"Took in, {one.found}:"
    _tell(ground, rows, one, order, took, one.arrived_days_ago)
    if one.sent_days_ago is not None:
        rows.gone.append((component, _at(ground, one.sent_days_ago), order.unit_id))
        _tell(ground, rows, one, order, "Sent back", one.sent_days_ago)
    if one.refunded_days_ago is not None:
        back = ground.terms.shown(order.refund_minor)
        _tell(ground, rows, one, order, f"{back} back for", one.refunded_days_ago)


def _tell(
    ground: Ground, rows: OrderRows, one: DemoOrder, order: PartsOrder, verb: str, days_ago: int | None
) -> None:
    whom = f" for {tag_from_number(one.unit)}" if one.unit else ""
    words = f"{verb} {one.what}{whom}"
    rows.lines.append(
        Line(_at(ground, days_ago), first_person_of(ground), "order part", words, order.unit_id)
    )


def first_person_of(ground: Ground) -> str:
    """Who orders."""
    return ground.demo.people[0].name


def _day(ground: Ground, days_ago: int | None) -> str | None:
    return None if days_ago is None else (ground.today - timedelta(days=days_ago)).isoformat()


def _at(ground: Ground, days_ago: int | None) -> Instant:
    """That morning; nothing lies after now."""
    day = ground.today - timedelta(days=days_ago or 0)
    return min(day_bounds_us(day, ground.demo.zone)[0] + MORNING_US, ground.now_us)
