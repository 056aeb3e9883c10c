"""The days that are ahead: units and parts due, waiting periods that end, quotes, warranties, repairs."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from bench.desk import Desk
from bench.domain.amounts import Instant
from bench.domain.weeks import local_day
from bench.store.standing import NEWEST, UNDONE
from bench.views.binder import Query, value
from bench.views.shop import facts
from bench.views.standing import IN_QUEUE
from bench.views.trade import settings

BACK_DAYS = 30  # what has been due longer is in the queue, and no calendar's business any more


@dataclass(frozen=True, slots=True)
class DueDate:
    """A day on which something is due. `what` and `number`: the record that it is of."""

    what: str
    number: int
    day: date
    words: str


@dataclass(frozen=True, slots=True)
class DueDates:
    """The days ahead, the nearest first, as of one instant. `identity`: of the data file."""

    days: tuple[DueDate, ...]
    shop: str
    read_us: Instant
    zone: str
    identity: str


_NAMED = "unit.tag || ' ' || TRIM(unit.maker || ' ' || unit.model)"
_DAYS = Query(
    DueDate,
    """
SELECT 'unit' AS what, unit.id AS number, unit.due_on AS day, 'Due: ' || {named} AS words
FROM {in_queue} WHERE unit.due_on >= :since
UNION ALL
SELECT 'order', parts_order.id, parts_order.due_on, 'Part due: ' || parts_order.what
FROM parts_order WHERE removed = 0 AND state = 'ordered' AND due_on >= :since
UNION ALL
SELECT 'waiting', purchase.unit_id, DATE(purchase.bought_on, '+' || :hold_days || ' days'),
       'Waiting period ends: ' || {named}
FROM {in_queue} CROSS JOIN purchase ON purchase.unit_id = unit.id
WHERE :hold_days > 0 AND purchase.bought_on IS NOT NULL
AND DATE(purchase.bought_on, '+' || :hold_days || ' days') >= :since
UNION ALL
SELECT 'quote', repair_job.id, repair_job.quote_until, 'Quote ends: ' || {named}
FROM repair_job JOIN unit ON unit.id = repair_job.unit_id
WHERE repair_job.removed = 0 AND repair_job.answer IS NULL AND repair_job.collected_on IS NULL
AND repair_job.quote_until >= :since
UNION ALL
SELECT 'warranty', sale.id, sale.warranty_until, 'Warranty ends: ' || {named}
FROM sale JOIN unit ON unit.id = sale.unit_id AND unit.removed = 0
WHERE sale.removed = 0 AND sale.warranty_until >= :since AND {newest} AND NOT {undone}
ORDER BY day, what, number
""".replace("{in_queue}", IN_QUEUE)
    .replace("{named}", _NAMED)
    .replace("{newest}", NEWEST)
    .replace("{undone}", UNDONE),
)


_IDENTITY = "SELECT identity FROM file_identity"


def read_due_dates(desk: Desk) -> DueDates:
    """Every day ahead, and those that passed in the last weeks. Names of people are in none of them."""
    now_us = desk.clock.now_us()
    with desk.store.read() as connection:
        shop = facts(connection)
        since = local_day(now_us, shop.zone) - timedelta(days=BACK_DAYS)
        hold_days = settings(connection).hold_days
        days = _DAYS.all(connection, since=since.isoformat(), hold_days=hold_days)
        return DueDates(days, shop.name, now_us, shop.zone, value(connection, _IDENTITY))
