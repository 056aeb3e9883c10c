"""The postings of a span: every amount of the money ledger, of the shelf and of general expenses, once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from bench.desk import Desk
from bench.domain.amounts import Instant, Minor
from bench.domain.postings import Booked, Posting, check_names, postings_of
from bench.domain.spans import Span
from bench.domain.weeks import local_day
from bench.views.binder import Query
from bench.views.ledger import GENERAL_LINES, over
from bench.views.shop import facts

_EVERY = "SELECT id FROM unit WHERE removed = 0"


@dataclass(frozen=True, slots=True)
class _Line:
    """An amount as it is kept."""

    kind: str
    row_id: int
    at_us: Instant | None
    day: date | None
    category: str
    tag: str
    amount_minor: Minor | None


@dataclass(frozen=True, slots=True)
class PostingBook:
    """What was posted in a span. `absent`: amounts that were never typed, and are left out."""

    span: Span
    postings: tuple[Posting, ...]
    absent: int
    currency: str
    zone: str
    read_us: Instant


_OF_UNITS = Query(
    _Line,
    over(
        _EVERY,
        """
SELECT ledger.kind, ledger.row_id, ledger.at_us, ledger.day, '' AS category, unit.tag,
       ledger.amount_minor
FROM ledger JOIN unit ON unit.id = ledger.unit_id
""",
    ),
)
_OF_SHELF = Query(
    _Line,
    """
SELECT COALESCE(reversed.kind, movement.kind) AS kind, movement.id AS row_id, movement.at_us,
       NULL AS day, '' AS category, consumable.name AS tag,
       CASE COALESCE(reversed.kind, movement.kind) WHEN 'receipt' THEN -movement.cost_minor
            ELSE movement.cost_minor END AS amount_minor
FROM movement JOIN consumable ON consumable.id = movement.consumable_id
LEFT JOIN movement AS reversed ON reversed.id = movement.reverses_id
WHERE movement.task_id IS NULL
""",
)
# Parts that no unit bears: bought for the shelf, gone off it, given back for.
_OF_PARTS = Query(
    _Line,
    """
SELECT 'shelf part' AS kind, part.id AS row_id, part.at_us, NULL AS day, '' AS category,
       part.name AS tag, -part.cost_minor AS amount_minor
FROM part WHERE part.removed = 0 AND part.from_unit_id IS NULL AND part.to_unit_id IS NULL
UNION ALL
SELECT 'part gone', component.id, component.gone_us, NULL, '', component.name, -part.cost_minor
FROM component CROSS JOIN part ON part.component_id = component.id AND part.removed = 0
AND part.to_unit_id IS NULL
WHERE component.gone <> '' AND component.bears_unit_id IS NULL
UNION ALL
SELECT 'part sold', component.id, component.gone_us, NULL, '', component.name, component.price_minor
FROM component WHERE component.gone = 'sold' AND component.price_minor <> 0
UNION ALL
SELECT 'shop refund', parts_order.id, parts_order.refunded_us, NULL, '', parts_order.what,
       parts_order.refund_minor
FROM parts_order WHERE parts_order.removed = 0 AND parts_order.refund_unit_id IS NULL
AND parts_order.refund_minor <> 0 AND parts_order.refunded_us IS NOT NULL
""",
)
_GENERAL = Query(
    _Line,
    f"""
WITH {GENERAL_LINES}
SELECT kind, row_id, at_us, day, category, '' AS tag, amount_minor FROM general
""",  # noqa: S608 - a text of ours
)


def read_postings(
    desk: Desk, span: Span | None = None, names: Mapping[str, Any] | None = None
) -> PostingBook:
    """The postings of a month or a year, this month for none. BadInput for a name that no account has."""
    check_names(names or {})
    with desk.store.read() as connection:
        shop, now_us = facts(connection), desk.clock.now_us()
        asked = span or Span.month_of(local_day(now_us, shop.zone))
        first, last = asked.first, asked.last
        days = {"first": first.isoformat(), "last": last.isoformat()}
        lines = (
            *_OF_UNITS.all(connection),
            *_OF_SHELF.all(connection),
            *_OF_PARTS.all(connection),
            *_GENERAL.all(connection, **days),
        )
    booked, absent = [], 0
    for line in lines:
        day = line.day or local_day(line.at_us or 0, shop.zone)
        if not first <= day <= last:
            continue
        if line.amount_minor is None:
            absent += 1
            continue
        booked.append(Booked(day, line.kind, line.row_id, line.tag, line.category, line.amount_minor))
    return PostingBook(asked, postings_of(booked, names or {}), absent, shop.currency, shop.zone, now_us)
