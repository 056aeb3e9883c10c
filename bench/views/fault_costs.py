"""What faults cost: one with the rows behind it, and all of them by place, model and origin."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from bench.desk import Desk
from bench.domain.amounts import Instant, Length, Minor
from bench.domain.unit_money import labour_minor
from bench.errors import BadInput
from bench.views.binder import Query
from bench.views.faults import FaultLine, all_faults
from bench.views.faults import fault as one_fault
from bench.views.ledger import THESE, over
from bench.views.shop import facts


@dataclass(frozen=True, slots=True)
class FaultCost:
    """What a fault took: hands-on and machine time, parts, consumables, what its returns cost."""

    fault_id: int
    hours_us: Length
    machine_us: Length
    parts_minor: Minor
    consumables_minor: Minor
    returns: int
    returned_minor: Minor


@dataclass(frozen=True, slots=True)
class BehindFault:
    """A row that belongs to a fault. `what`: task, time, part, order, return or picture, with its number."""

    what: str
    row_id: int
    words: str
    at_us: Instant | None
    length_us: Length | None
    amount_minor: Minor | None


@dataclass(frozen=True, slots=True)
class FaultSheet:
    """One fault opened: what is known of it, what it took, and the rows that make that up."""

    fault: FaultLine
    cost: FaultCost
    rows: tuple[BehindFault, ...]
    rate_minor_per_hour: Minor
    currency: str
    zone: str

    @property
    def cost_minor(self) -> Minor:
        """What it cost in all, hands-on time at the shop's rate."""
        return cost_minor(self.cost, self.rate_minor_per_hour)


@dataclass(frozen=True, slots=True)
class FaultGroup:
    """Faults of one kind together. `cost_minor`: all of it, hands-on time at the shop's rate."""

    name: str
    faults: int
    open: int
    hours_us: Length
    parts_minor: Minor
    consumables_minor: Minor
    returns: int
    returned_minor: Minor
    cost_minor: Minor


@dataclass(frozen=True, slots=True)
class FaultReport:
    """What faults took, by place, model, origin or one by one; what costs most comes first."""

    by: str
    groups: tuple[FaultGroup, ...]
    total: FaultGroup
    rate_minor_per_hour: Minor
    currency: str
    zone: str


# What belongs to the faults of some units: time by entry or by its task, lines of the ledger by their rows.
# Of an order for one, what was lost with a part sent back counts, less what its supplier repaid. A return
# that undid its sale lost that sale's fees and shipping; its price went back with the unit.
_COSTS = Query(
    FaultCost,
    over(
        THESE,
        """,
own(id, unit_id) AS MATERIALIZED (
    SELECT fault.id, fault.unit_id FROM wanted CROSS JOIN fault ON fault.unit_id = wanted.unit_id
    WHERE fault.removed = 0
),
spent(fault_id, attended, us) AS (
    SELECT own.id, entry.attended, entry.stopped_us - entry.started_us
    FROM own CROSS JOIN time_entry AS entry ON entry.fault_id = own.id WHERE entry.stopped_us IS NOT NULL
    UNION ALL
    SELECT own.id, entry.attended, entry.stopped_us - entry.started_us
    FROM own CROSS JOIN task ON task.fault_id = own.id AND task.removed = 0
    CROSS JOIN time_entry AS entry ON entry.task_id = task.id
    WHERE entry.fault_id IS NULL AND entry.stopped_us IS NOT NULL
),
lines(fault_id, kind, amount_minor) AS MATERIALIZED (
    SELECT part.fault_id, 'part', ledger.amount_minor FROM ledger CROSS JOIN part ON part.id = ledger.row_id
    CROSS JOIN own ON own.id = part.fault_id AND own.unit_id = ledger.unit_id
    WHERE ledger.kind IN ('part bought', 'part in', 'part out')
    UNION ALL
    SELECT parts_order.fault_id, 'part', ledger.amount_minor
    FROM ledger CROSS JOIN parts_order ON parts_order.component_id = ledger.row_id AND parts_order.removed = 0
    CROSS JOIN own ON own.id = parts_order.fault_id AND own.unit_id = ledger.unit_id
    WHERE ledger.kind = 'part lost'
    UNION ALL
    SELECT parts_order.fault_id, 'part', ledger.amount_minor
    FROM ledger CROSS JOIN parts_order ON parts_order.id = ledger.row_id
    CROSS JOIN own ON own.id = parts_order.fault_id AND own.unit_id = ledger.unit_id
    WHERE ledger.kind = 'part refund'
    UNION ALL
    SELECT task.fault_id, 'consumable', ledger.amount_minor
    FROM ledger CROSS JOIN movement ON movement.id = ledger.row_id
    CROSS JOIN task ON task.id = movement.task_id AND task.fault_id IS NOT NULL
    WHERE ledger.kind = 'consumable'
    UNION ALL
    SELECT comeback.fault_id, 'return', ledger.amount_minor
    FROM ledger CROSS JOIN comeback ON comeback.id = ledger.row_id
    WHERE comeback.fault_id IS NOT NULL
    AND (ledger.kind IN ('fee back', 'postage') OR (ledger.kind = 'refund' AND comeback.undoes = 0))
    UNION ALL
    SELECT comeback.fault_id, 'return', ledger.amount_minor
    FROM ledger CROSS JOIN comeback ON comeback.sale_id = ledger.row_id AND comeback.undoes = 1
    WHERE comeback.fault_id IS NOT NULL AND comeback.removed = 0 AND ledger.kind IN ('fee', 'shipping')
),
times(fault_id, hours_us, machine_us) AS MATERIALIZED (
    SELECT fault_id, SUM(us) FILTER (WHERE attended = 1), SUM(us) FILTER (WHERE attended = 0)
    FROM spent GROUP BY fault_id
),
sums(fault_id, parts, consumables, returned) AS MATERIALIZED (
    SELECT fault_id, -SUM(amount_minor) FILTER (WHERE kind = 'part'),
           -SUM(amount_minor) FILTER (WHERE kind = 'consumable'),
           -SUM(amount_minor) FILTER (WHERE kind = 'return') FROM lines GROUP BY fault_id
)
SELECT own.id AS fault_id, COALESCE(times.hours_us, 0) AS hours_us,
       COALESCE(times.machine_us, 0) AS machine_us, COALESCE(sums.parts, 0) AS parts_minor,
       COALESCE(sums.consumables, 0) AS consumables_minor,
       (SELECT COUNT(*) FROM comeback WHERE comeback.fault_id = own.id AND comeback.removed = 0) AS returns,
       COALESCE(sums.returned, 0) AS returned_minor
FROM own LEFT JOIN times ON times.fault_id = own.id LEFT JOIN sums ON sums.fault_id = own.id
""",
    ),
)

_BEHIND = Query(
    BehindFault,
    """
SELECT 'task' AS what, task.id AS row_id, task.name AS words, task.ended_us AS at_us,
       (SELECT SUM(stopped_us - started_us) FROM time_entry AS entry WHERE entry.task_id = task.id
        AND entry.fault_id IS NULL AND entry.stopped_us IS NOT NULL) AS length_us, NULL AS amount_minor
FROM task WHERE task.fault_id = :fault_id AND task.removed = 0
UNION ALL
SELECT 'time', entry.id, task.name || ', ' || person.name, entry.started_us,
       entry.stopped_us - entry.started_us, NULL
FROM time_entry AS entry JOIN task ON task.id = entry.task_id JOIN person ON person.id = entry.person_id
WHERE entry.fault_id = :fault_id
UNION ALL
SELECT 'part', part.id, part.name, part.at_us, NULL, part.cost_minor
FROM part JOIN component ON component.id = part.component_id AND component.gone = ''
WHERE part.fault_id = :fault_id AND part.removed = 0
AND (part.from_unit_id IS NOT NULL OR part.to_unit_id IS NOT NULL)
UNION ALL
SELECT 'order', parts_order.id, parts_order.what || ', ' || parts_order.state, parts_order.wanted_us, NULL,
       CASE WHEN component.bears_unit_id = parts_order.unit_id THEN part.cost_minor - parts_order.refund_minor
            WHEN parts_order.refund_minor <> 0 AND parts_order.refund_unit_id = parts_order.unit_id
            THEN -parts_order.refund_minor END
FROM parts_order LEFT JOIN component ON component.id = parts_order.component_id
LEFT JOIN part ON part.component_id = component.id AND part.removed = 0 AND part.to_unit_id IS NULL
WHERE parts_order.fault_id = :fault_id AND parts_order.removed = 0
UNION ALL
SELECT 'return', comeback.id, comeback.reason, comeback.at_us, NULL, comeback.refund_minor FROM comeback
WHERE comeback.fault_id = :fault_id AND comeback.removed = 0
UNION ALL
SELECT 'picture', photograph.id, COALESCE(caption.caption, photograph.name), photograph.kept_us, NULL, NULL
FROM photograph LEFT JOIN photograph_caption AS caption
ON caption.photograph_id = photograph.id AND caption.removed = 0
WHERE photograph.fault_id = :fault_id AND photograph.removed = 0 AND photograph.erased_us IS NULL
""",
)


def read_fault(desk: Desk, fault_id: int) -> FaultSheet:
    """One fault with what it took. NotFound when there is none of that number."""
    with desk.store.read() as connection:
        fault = one_fault(connection, fault_id)
        shop = facts(connection)
        cost = next(one for one in costs_of(connection, (fault.unit_id,)) if one.fault_id == fault_id)
        rows = _BEHIND.all(connection, fault_id=fault_id)
        return FaultSheet(fault, cost, rows, shop.rate_minor_per_hour, shop.currency, shop.zone)


def costs_of(connection: sqlite3.Connection, unit_ids: Iterable[int]) -> tuple[FaultCost, ...]:
    """What the faults of these units took, each fault apart."""
    return _COSTS.all(connection, ids=json.dumps(sorted(set(unit_ids))))


_BY: dict[str, Callable[[FaultLine], str]] = {
    "place": lambda one: one.place or "not said",
    "model": lambda one: one.model,
    "origin": lambda one: one.whose,
    "fault": lambda one: f"f{one.fault_id} {one.tag}: {one.symptom}",
}
BY = tuple(_BY)


def read_fault_report(desk: Desk, by: str) -> FaultReport:
    """What all faults took, by "place", "model", "origin", or "fault" for each alone."""
    name_of = _BY.get(by)
    if name_of is None:
        raise BadInput(f"Faults are not summed by {by}.", f"Choose one of: {', '.join(BY)}.")
    with desk.store.read() as connection:
        shop = facts(connection)
        faults = all_faults(connection)
        costs = {one.fault_id: one for one in costs_of(connection, (one.unit_id for one in faults))}
    groups: dict[str, FaultGroup] = {}
    total = _nothing("total")
    for fault in faults:
        one, name = _alone(fault, costs[fault.fault_id], shop.rate_minor_per_hour), name_of(fault)
        groups[name] = _added(groups.get(name, _nothing(name)), one)
        total = _added(total, one)
    ordered = sorted(groups.values(), key=lambda one: (-one.cost_minor, -one.faults, one.name))
    return FaultReport(by, tuple(ordered), total, shop.rate_minor_per_hour, shop.currency, shop.zone)


def cost_minor(cost: FaultCost, rate_minor_per_hour: int) -> int:
    """What a fault cost in all, hands-on time at the shop's rate."""
    money = cost.parts_minor + cost.consumables_minor + cost.returned_minor
    return money + labour_minor(cost.hours_us, rate_minor_per_hour)


def _nothing(name: str) -> FaultGroup:
    return FaultGroup(name, 0, 0, 0, 0, 0, 0, 0, 0)


def _alone(fault: FaultLine, cost: FaultCost, rate: int) -> FaultGroup:
    return FaultGroup(
        name="",
        faults=1,
        open=int(fault.closed_us is None),
        hours_us=cost.hours_us,
        parts_minor=cost.parts_minor,
        consumables_minor=cost.consumables_minor,
        returns=cost.returns,
        returned_minor=cost.returned_minor,
        cost_minor=cost_minor(cost, rate),
    )


def _added(group: FaultGroup, one: FaultGroup) -> FaultGroup:
    return replace(
        group,
        faults=group.faults + one.faults,
        open=group.open + one.open,
        hours_us=group.hours_us + one.hours_us,
        parts_minor=group.parts_minor + one.parts_minor,
        consumables_minor=group.consumables_minor + one.consumables_minor,
        returns=group.returns + one.returns,
        returned_minor=group.returned_minor + one.returned_minor,
        cost_minor=group.cost_minor + one.cost_minor,
    )
