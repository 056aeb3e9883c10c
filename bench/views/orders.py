"""Parts on order: what is under way, what is due and late, and which tasks wait for it."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from bench.desk import Desk
from bench.domain.amounts import Instant, Minor, Thousandths
from bench.domain.orders import late_days
from bench.domain.weeks import local_day
from bench.errors import NotFound
from bench.views.binder import Groups, Query
from bench.views.particulars import particulars
from bench.views.shop import facts
from bench.views.standing import IN_QUEUE

# Orders of which something is still to come or to be done; the index that holds them says it so too.
UNDER_WAY = "parts_order.state IN ('wanted', 'ordered', 'wrong', 'broken', 'sent back')"
MOST_SETTLED = 200  # of those that are done with, the newest


@dataclass(frozen=True, slots=True)
class OrderLine:
    """An order. `late_days`: by how many days it is late, or was; `placed`: in which unit the part is now.

    `quantity`: of a consumable, in thousandths of `base_unit`. `tasks`: those that wait for it. `fault`: what
    is seen of the fault that it is for.
    """

    order_id: int
    what: str
    maker_number: str
    unit_id: int | None
    tag: str
    consumable_id: int | None
    quantity: Thousandths | None
    base_unit: str
    supplier: str
    price_minor: Minor | None
    freight_minor: Minor
    state: str
    found: str
    wanted_us: Instant
    ordered_on: date | None
    due_on: date | None
    arrived_on: date | None
    faulty_on: date | None
    sent_back_on: date | None
    refunded_us: Instant | None
    owed_minor: Minor
    refund_minor: Minor
    component_id: int | None
    part_id: int | None
    placed: str
    gone: str
    instead_of_id: int | None
    fault_id: int | None
    fault: str
    note: str
    late_days: int = 0
    tasks: tuple[str, ...] = ()

    @property
    def cost_minor(self) -> Minor | None:
        """Price and freight; None where no price is known."""
        return None if self.price_minor is None else self.price_minor + self.freight_minor

    @property
    def standing(self) -> str:
        """How it stands, in one word or two: where the part is once it is fitted."""
        if self.state == "arrived" and self.placed:
            return f"fitted in {self.placed}"
        return self.state


@dataclass(frozen=True, slots=True)
class OrderBook:
    """The orders, what is late and due first. `due_today` and `late`: how many are still to come."""

    lines: tuple[OrderLine, ...]
    due_today: int
    late: int
    owed_minor: Minor
    currency: str
    zone: str


@dataclass(frozen=True, slots=True)
class OrdersDue:
    """How many orders are due today, and how many are late."""

    due_today: int
    late: int


NOTHING_DUE = OrdersDue(0, 0)


@dataclass(frozen=True, slots=True)
class Awaited:
    """An order for which a task of the queue waits, and how it stands."""

    task_id: int
    unit_id: int
    order_id: int
    what: str
    state: str
    due_on: date | None


@dataclass(frozen=True, slots=True)
class OnOrder:
    """What is ordered of a consumable, in thousandths, and when the first of it is due."""

    quantity: Thousandths
    due_on: date | None


NOTHING_ORDERED = OnOrder(0, None)


@dataclass(frozen=True, slots=True)
class _Waiting:
    """A task that waits for an order."""

    task: str


_LINE = """
SELECT parts_order.id AS order_id, parts_order.what, parts_order.maker_number, parts_order.unit_id,
       COALESCE(unit.tag, '') AS tag, parts_order.consumable_id, parts_order.quantity,
       COALESCE(consumable.base_unit, '') AS base_unit, parts_order.supplier, parts_order.price_minor,
       parts_order.freight_minor, parts_order.state, parts_order.found, parts_order.wanted_us,
       parts_order.ordered_on, parts_order.due_on, parts_order.arrived_on, parts_order.faulty_on,
       parts_order.sent_back_on, parts_order.refunded_us, parts_order.owed_minor, parts_order.refund_minor,
       parts_order.component_id, part.id AS part_id, COALESCE(holder.tag, '') AS placed,
       COALESCE(component.gone, '') AS gone, parts_order.instead_of_id,
       parts_order.fault_id, COALESCE(fault.symptom, '') AS fault, parts_order.note
FROM {orders} LEFT JOIN unit ON unit.id = parts_order.unit_id
LEFT JOIN fault ON fault.id = parts_order.fault_id
LEFT JOIN consumable ON consumable.id = parts_order.consumable_id
LEFT JOIN component ON component.id = parts_order.component_id
LEFT JOIN part ON part.id = (SELECT MAX(last.id) FROM part AS last
                             WHERE last.component_id = component.id AND last.removed = 0)
LEFT JOIN unit AS holder ON holder.id = part.to_unit_id
WHERE parts_order.removed = 0 AND {which}
"""


def _lines(which: str, orders: str = "parts_order", order: str = "") -> Query[OrderLine]:
    return Query(OrderLine, _LINE.replace("{orders}", orders).replace("{which}", which) + order)


_BY_DAY = "ORDER BY parts_order.due_on IS NULL, parts_order.due_on, parts_order.id"
_UNDER_WAY = _lines(UNDER_WAY, "parts_order INDEXED BY ix_parts_order_under_way", _BY_DAY)
_SETTLED = _lines(f"NOT {UNDER_WAY}", order="ORDER BY parts_order.id DESC LIMIT :most")
_OF_UNIT = _lines("parts_order.unit_id = :unit_id", order=_BY_DAY)
_ONE = _lines("parts_order.id = :order_id")
_TASKS = Groups(
    _Waiting,
    """
SELECT task_wait.order_id, task.name AS task
FROM json_each(:ids) AS wanted CROSS JOIN task_wait ON task_wait.order_id = wanted.value
JOIN task ON task.id = task_wait.task_id AND task.removed = 0
WHERE task_wait.removed = 0 AND task_wait.waived = '' ORDER BY task_wait.id
""",
)
_DUE = Query(
    OrdersDue,
    """
SELECT COALESCE(SUM(parts_order.due_on = :today), 0) AS due_today,
       COALESCE(SUM(parts_order.due_on < :today), 0) AS late
FROM parts_order INDEXED BY ix_parts_order_under_way
WHERE {under_way} AND parts_order.due_on <= :today AND parts_order.state = 'ordered'
AND parts_order.removed = 0
""".replace("{under_way}", UNDER_WAY),
)
# Orders that a task waits for while they have not brought the part: a refunded one has not either.
AWAITED = """task_wait.removed = 0 AND task_wait.waived = '' AND EXISTS (
    SELECT 1 FROM parts_order AS awaited WHERE awaited.id = task_wait.order_id
    AND awaited.state NOT IN ('arrived', 'cancelled'))"""
_AWAITED = Query(
    Awaited,
    """
SELECT task.id AS task_id, unit.id AS unit_id, parts_order.id AS order_id, parts_order.what,
       parts_order.state, parts_order.due_on
FROM {in_queue} CROSS JOIN task ON task.unit_id = unit.id
CROSS JOIN task_wait INDEXED BY ix_task_wait_task_id ON task_wait.task_id = task.id
CROSS JOIN parts_order ON parts_order.id = task_wait.order_id
WHERE task.removed = 0 AND task.state = 'todo' AND {awaited} ORDER BY task_wait.id
""".replace("{in_queue}", IN_QUEUE).replace("{awaited}", AWAITED),
)
_AWAITED_OF_UNIT = Query(
    Awaited,
    """
SELECT task.id AS task_id, task.unit_id, parts_order.id AS order_id, parts_order.what, parts_order.state,
       parts_order.due_on
FROM task CROSS JOIN task_wait INDEXED BY ix_task_wait_task_id ON task_wait.task_id = task.id
CROSS JOIN parts_order ON parts_order.id = task_wait.order_id
WHERE task.unit_id = :unit_id AND task.removed = 0 AND task.state = 'todo' AND {awaited}
ORDER BY task_wait.id
""".replace("{awaited}", AWAITED),
)
_ON_ORDER = Groups(
    OnOrder,
    """
SELECT parts_order.consumable_id, SUM(parts_order.quantity) AS quantity, MIN(parts_order.due_on) AS due_on
FROM parts_order INDEXED BY ix_parts_order_under_way
WHERE {under_way} AND parts_order.state = 'ordered' AND parts_order.consumable_id IS NOT NULL
AND parts_order.removed = 0 GROUP BY parts_order.consumable_id
""".replace("{under_way}", UNDER_WAY),
)


def read_orders(desk: Desk, *, settled: bool = False) -> OrderBook:
    """What is under way, the earliest due first; `settled`: what is done with instead, the newest first."""
    with desk.store.read() as connection:
        lines = _SETTLED.all(connection, most=MOST_SETTLED) if settled else _UNDER_WAY.all(connection)
        return _book(connection, lines, desk.clock.now_us())


def read_orders_of(desk: Desk, unit_id: int) -> OrderBook:
    """The orders for one unit. NotFound when there is no such unit."""
    with desk.store.read() as connection:
        particulars(connection, unit_id)
        return _book(connection, _OF_UNIT.all(connection, unit_id=unit_id), desk.clock.now_us())


def read_order(desk: Desk, order_id: int) -> OrderLine:
    """One order. NotFound when there is none of that number."""
    with desk.store.read() as connection:
        book = _book(connection, _ONE.all(connection, order_id=order_id), desk.clock.now_us())
    if not book.lines:
        raise NotFound(f"There is no order with number {order_id}.", "Look it up again: bench order.")
    return book.lines[0]


def orders_due(connection: sqlite3.Connection, today: date) -> OrdersDue:
    """What is due today and what is late."""
    return _DUE.the(connection, today=today.isoformat())


def awaited(connection: sqlite3.Connection) -> defaultdict[int, list[Awaited]]:
    """What tasks of the queue wait for, by unit."""
    by_unit: defaultdict[int, list[Awaited]] = defaultdict(list)
    for one in _AWAITED.each(connection):
        by_unit[one.unit_id].append(one)
    return by_unit


def awaited_of(connection: sqlite3.Connection, unit_id: int) -> tuple[Awaited, ...]:
    """What the tasks of one unit wait for."""
    return _AWAITED_OF_UNIT.all(connection, unit_id=unit_id)


def on_order(connection: sqlite3.Connection) -> dict[int, OnOrder]:
    """What is ordered of each consumable."""
    return {number: rows[0] for number, rows in _ON_ORDER.by_key(connection).items()}


def _book(connection: sqlite3.Connection, lines: Iterable[OrderLine], now_us: int) -> OrderBook:
    shop = facts(connection)
    today = local_day(now_us, shop.zone)
    found = tuple(lines)
    tasks = _TASKS.by_key(connection, ids=_numbers(found))
    told = tuple(
        replace(
            one,
            late_days=late_days(one.due_on, one.arrived_on, one.state, today),
            tasks=tuple(waiting.task for waiting in tasks[one.order_id]),
        )
        for one in found
    )
    due = orders_due(connection, today)
    return OrderBook(
        lines=told,
        due_today=due.due_today,
        late=due.late,
        owed_minor=sum(one.owed_minor for one in told),
        currency=shop.currency,
        zone=shop.zone,
    )


def _numbers(lines: Iterable[OrderLine]) -> str:
    return "[" + ", ".join(str(one.order_id) for one in lines) + "]"
