"""Suppliers as the shop's own orders tell of them: how often late, how often wrong, what they owe."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bench.desk import Desk
from bench.domain.amounts import Minor
from bench.domain.weeks import local_day
from bench.views.binder import Query
from bench.views.shop import facts


@dataclass(frozen=True, slots=True)
class SupplierLine:
    """One supplier's orders, cancelled ones apart. `arrived`: how many came; `dated`: of how many orders the
    day is known on which they were due and that has come or on which they came; `late`: how many of those
    were late. `faulty`: how many came wrong or broken. `spent_minor`: price and freight of what came.
    """

    supplier: str
    orders: int
    arrived: int
    dated: int
    late: int
    late_days: int
    faulty: int
    spent_minor: Minor
    refunded_minor: Minor
    owed_minor: Minor
    last_on: date | None


@dataclass(frozen=True, slots=True)
class SupplierBook:
    """Every supplier that anything was ordered of, those that owe most first."""

    lines: tuple[SupplierLine, ...]
    currency: str
    zone: str

    @property
    def owed_minor(self) -> Minor:
        """What all of them owe."""
        return sum(line.owed_minor for line in self.lines)


_LINES = Query(
    SupplierLine,
    """
WITH told AS (
    SELECT MIN(supplier) OVER (PARTITION BY LOWER(TRIM(supplier))) AS supplier, state, found, ordered_on,
           due_on, COALESCE(arrived_on, CASE WHEN state = 'ordered' THEN :today END) AS came_on, arrived_on,
           COALESCE(price_minor, 0) + freight_minor AS paid_minor, owed_minor, refund_minor
    FROM parts_order WHERE removed = 0 AND state NOT IN ('wanted', 'cancelled')
)
SELECT supplier, COUNT(*) AS orders, SUM(arrived_on IS NOT NULL) AS arrived,
       SUM(due_on IS NOT NULL AND (arrived_on IS NOT NULL OR due_on < :today)) AS dated,
       SUM(COALESCE(came_on > due_on, 0)) AS late,
       CAST(COALESCE(SUM(MAX(0, julianday(came_on) - julianday(due_on))), 0) AS INTEGER) AS late_days,
       SUM(found <> '') AS faulty,
       COALESCE(SUM(CASE WHEN arrived_on IS NOT NULL THEN paid_minor END), 0) AS spent_minor,
       SUM(refund_minor) AS refunded_minor, SUM(owed_minor) AS owed_minor, MAX(ordered_on) AS last_on
FROM told GROUP BY supplier ORDER BY owed_minor DESC, orders DESC, supplier
""",
)


def read_suppliers(desk: Desk) -> SupplierBook:
    """Every supplier of the shop's orders."""
    with desk.store.read() as connection:
        shop = facts(connection)
        today = local_day(desk.clock.now_us(), shop.zone).isoformat()
        return SupplierBook(_LINES.all(connection, today=today), shop.currency, shop.zone)
