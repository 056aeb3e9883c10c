"""Where money is tied up now: units not sold yet, by stage, and what is spent and not earned back."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

from bench.domain.amounts import Minor
from bench.store.standing import IS_SOLD
from bench.views import ledger
from bench.views.binder import Query, value
from bench.views.orders import UNDER_WAY
from bench.views.units_sold import under_way_minor

DONORS, SHELF = "kept for parts", "parts on the shelf"
UNDONE = "sales undone: fees, sending"
UNRECORDED, REPAIRS = "left, no sale recorded", "repairs under way"
AWAITED = "parts sent back, refund awaited"


@dataclass(frozen=True, slots=True)
class TiedUp:
    """Units not sold yet and their cost so far: at one stage, or kept for parts.

    `unpriced`: units whose price was not typed; with any, the cost is at least as much.
    """

    name: str
    units: int
    cost_so_far_minor: Minor
    unpriced: int = 0


@dataclass(frozen=True, slots=True)
class _AtStage:
    """The shop's units at one stage, donors apart."""

    name: str
    donor: bool
    units: int
    cost_so_far_minor: Minor
    unpriced: int


_COST = """,
cost AS (
    SELECT unit_id, -SUM(amount_minor) AS cost_so_far_minor, SUM(amount_minor IS NULL) AS unpriced
    FROM ledger WHERE side = 'cost' GROUP BY unit_id
)
"""
_BY_STAGE = Query(
    _AtStage,
    ledger.over(
        ledger.QUEUE,
        _COST
        + """
SELECT standing.name, COALESCE(purchase.donor, 0) AS donor, COUNT(*) AS units,
       SUM(COALESCE(cost.cost_so_far_minor, 0)) AS cost_so_far_minor, SUM(cost.unpriced) AS unpriced
FROM cost CROSS JOIN unit ON unit.id = cost.unit_id
CROSS JOIN stage AS standing ON standing.id = unit.stage_id LEFT JOIN purchase ON purchase.unit_id = unit.id
WHERE NOT {is_sold}
GROUP BY COALESCE(purchase.donor, 0), CASE WHEN purchase.donor THEN 0 ELSE standing.id END
ORDER BY COALESCE(purchase.donor, 0), standing.position, standing.id
""".replace("{is_sold}", IS_SOLD),
    ),
)
# Moved out, and no sale nor other way out recorded: their cost has not gone anywhere yet.
_MOVED_OUT = """
SELECT unit.id FROM unsettled_sale CROSS JOIN unit ON unit.id = unsettled_sale.unit_id
WHERE unsettled_sale.unrecorded = 1 AND unit.removed = 0 AND unit.owner_id IS NULL
"""
_UNRECORDED = Query(
    TiedUp,
    ledger.over(
        _MOVED_OUT,
        _COST
        + """
SELECT :name AS name, COUNT(*) AS units, COALESCE(SUM(cost_so_far_minor), 0) AS cost_so_far_minor,
       COALESCE(SUM(unpriced), 0) AS unpriced
FROM cost
""",
    ),
)
# What undone sales left over: fees not given back, sending there and back, less what was kept of the price.
# Only of units that are the shop's again, and were not scrapped or kept since.
_CAME_BACK = """
SELECT unit.id FROM unsettled_sale CROSS JOIN unit ON unit.id = unsettled_sale.unit_id
WHERE unsettled_sale.undone = 1 AND unit.removed = 0
"""
_UNDONE = ledger.over(_CAME_BACK, " SELECT -SUM(amount_minor) FROM ledger WHERE side = 'brought'")
_SHELF = """
SELECT SUM(part.cost_minor) FROM part CROSS JOIN component ON component.id = part.component_id
WHERE part.removed = 0 AND part.to_unit_id IS NULL AND component.gone = ''
"""
# Sent back for the shop itself, and nothing came back yet: what is owed, at what it cost.
_SENT_BACK = """
SELECT SUM(part.cost_minor) FROM parts_order
CROSS JOIN component ON component.id = parts_order.component_id AND component.bears_unit_id IS NULL
CROSS JOIN part ON part.component_id = component.id AND part.removed = 0 AND part.to_unit_id IS NULL
WHERE {under_way} AND parts_order.state = 'sent back' AND parts_order.removed = 0
AND component.gone = 'sent back'
""".replace("{under_way}", UNDER_WAY)


def tied_up(connection: sqlite3.Connection) -> tuple[TiedUp, ...]:
    """The cost of what is the shop's and not sold, by stage, and what is spent and not earned back yet."""
    lines = [
        TiedUp(DONORS if one.donor else one.name, one.units, one.cost_so_far_minor, one.unpriced)
        for one in _BY_STAGE.each(connection)
    ]
    out = _UNRECORDED.the(connection, name=UNRECORDED)
    others = (
        (UNDONE, value(connection, _UNDONE)),
        (REPAIRS, under_way_minor(connection)),
        (SHELF, value(connection, _SHELF)),
        (AWAITED, value(connection, _SENT_BACK)),
    )
    return (
        *lines,
        *([out] if out.units else []),
        *(TiedUp(name, 0, minor) for name, minor in others if minor),
    )
