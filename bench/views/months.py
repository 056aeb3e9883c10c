"""SQL texts behind a month or a year, each over all units at once."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Sequence

from bench.views.hours import PARTS, Span, in_text
from bench.views.lots import COST_LEFT
from bench.views.standing import IN_QUEUE, IS_SOLD, OF_RETURNS
from bench.views.stock import NOT_REVERSED
from bench.views.units_sold import ATTENDED, MATERIALS

_SPENT = """
{parts}
SELECT part.number, task.unit_id, SUM(part.us) AS us
FROM part JOIN task ON task.id = part.task_id WHERE part.attended = 1 GROUP BY part.number, task.unit_id
"""

_KINDS = """
SELECT unit.id AS unit_id, unit.maker, unit.route_id, COALESCE(route.name, '') AS route, lot.id AS lot_id,
       COALESCE(lot.name, '') AS lot, party.id AS party_id, COALESCE(party.name, '') AS party
FROM json_each(:ids) AS wanted JOIN unit ON unit.id = wanted.value
LEFT JOIN route ON route.id = unit.route_id LEFT JOIN purchase ON purchase.unit_id = unit.id
LEFT JOIN lot ON lot.id = purchase.lot_id AND lot.removed = 0
LEFT JOIN party ON party.id = purchase.party_id
"""

_RETURNS = """
SELECT COUNT(*) AS returns, COALESCE(SUM(refund_minor), 0) AS refunds_minor
FROM comeback WHERE removed = 0 AND at_us >= :lo AND at_us < :hi
"""

_TIED_UP = """
SELECT standing.name, COALESCE(purchase.donor, 0) AS donor, COUNT(*) AS units,
       SUM({cost_left} + {materials}) AS landed_minor,
       SUM(unit.price_minor IS NULL) AS unpriced
FROM {in_queue}
LEFT JOIN purchase ON purchase.unit_id = unit.id
WHERE unit.owner_id IS NULL AND NOT {is_sold}
GROUP BY COALESCE(purchase.donor, 0), CASE WHEN purchase.donor THEN 0 ELSE standing.id END
ORDER BY COALESCE(purchase.donor, 0), standing.position, standing.id
"""

_SHELF = """
SELECT COUNT(*) AS parts, COALESCE(SUM(cost_minor), 0) AS cost_minor
FROM part WHERE removed = 0 AND to_unit_id IS NULL
"""

# Moved out, and no sale nor other way out recorded: their cost has not gone anywhere yet.
_UNRECORDED = """
SELECT COUNT(*) AS units, COALESCE(SUM({cost_left} + {materials}), 0) AS landed_minor,
       COALESCE(SUM(unit.price_minor IS NULL), 0) AS unpriced
FROM unit JOIN way_out ON way_out.unit_id = unit.id AND way_out.removed = 0 AND way_out.ended_us IS NULL
WHERE unit.removed = 0 AND unit.owner_id IS NULL AND way_out.way = 'sold' AND NOT {is_sold}
"""

# What undone sales left over: fees not given back, sending there and back, less what was kept of the price.
_UNDONE = """
SELECT COALESCE(unit.price_minor, 0) AS purchase_minor, sale.price_minor, sale.fee_minor, sale.shipping_minor,
       sale.tax_minor,
{of_returns}
FROM (
    SELECT DISTINCT undone.unit_id FROM comeback JOIN sale AS undone ON undone.id = comeback.sale_id
    WHERE comeback.removed = 0 AND comeback.undoes = 1
) AS back CROSS JOIN unit ON unit.id = back.unit_id
CROSS JOIN sale ON sale.unit_id = unit.id AND sale.removed = 0
WHERE unit.removed = 0 AND NOT {is_sold}
AND NOT EXISTS (SELECT 1 FROM way_out WHERE way_out.unit_id = unit.id AND way_out.removed = 0
                AND way_out.ended_us IS NULL AND way_out.way <> 'sold')
"""

_SLOWEST = """
WITH waiting AS (
    SELECT unit.id, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS model, standing.name AS stage,
           unit.held_reason,
           COALESCE((SELECT MAX(comeback.at_us) FROM sale JOIN comeback ON comeback.sale_id = sale.id
                     WHERE sale.unit_id = unit.id AND sale.removed = 0 AND comeback.removed = 0),
                    unit.added_us) AS since_us
    FROM {in_queue}
    LEFT JOIN purchase ON purchase.unit_id = unit.id
    WHERE COALESCE(purchase.donor, 0) = 0
    ORDER BY since_us, unit.id LIMIT :most
)
SELECT unit.id AS unit_id, tag, model, stage, held_reason AS held, since_us,
       {attended} AS attended_us,
       (SELECT COALESCE(SUM(estimate_minutes), 0) FROM task WHERE task.unit_id = unit.id
        AND task.removed = 0 AND task.unattended = 0 AND task.state <> 'skipped') AS estimate_minutes
FROM waiting AS unit ORDER BY since_us, unit.id
"""

_ISSUES = """
FROM consumable CROSS JOIN movement ON movement.consumable_id = consumable.id
AND movement.at_us >= :lo AND movement.at_us < :hi JOIN task ON task.id = movement.task_id
WHERE movement.kind = 'issue'
AND {not_reversed}
""".replace("{not_reversed}", NOT_REVERSED)

_USED = """
SELECT consumable.id AS consumable_id, consumable.name, consumable.base_unit,
       -SUM(movement.quantity) AS quantity, -SUM(movement.cost_minor) AS cost_minor,
       COUNT(DISTINCT task.unit_id) AS units
{issues} GROUP BY consumable.id ORDER BY cost_minor DESC, consumable.name, consumable.id
"""

_USED_UNITS = "SELECT COUNT(DISTINCT task.unit_id) {issues}"


def spent(connection: sqlite3.Connection, spans: Sequence[Span], now_us: int) -> list[sqlite3.Row]:
    """Attended microseconds within each span, by its place in `spans` and unit."""
    return connection.execute(_with(_SPENT), {"spans": in_text(spans), "now": now_us}).fetchall()


def kinds(connection: sqlite3.Connection, unit_ids: Iterable[int]) -> list[sqlite3.Row]:
    """Route, maker, lot and seller of these units."""
    return connection.execute(_KINDS, {"ids": json.dumps(sorted(unit_ids))}).fetchall()


def returns(connection: sqlite3.Connection, span: Span) -> sqlite3.Row:
    """How many units came back within a span, and what was refunded."""
    row: sqlite3.Row = connection.execute(_RETURNS, {"lo": span[0], "hi": span[1]}).fetchone()
    return row


def tied_up(connection: sqlite3.Connection) -> list[sqlite3.Row]:
    """The shop's units in the queue and their cost so far, by stage; donors last, in one row."""
    return connection.execute(_with(_TIED_UP)).fetchall()


def unrecorded(connection: sqlite3.Connection) -> sqlite3.Row:
    """Units that were moved out with no sale nor other way out, and their cost."""
    row: sqlite3.Row = connection.execute(_with(_UNRECORDED)).fetchone()
    return row


def undone(connection: sqlite3.Connection) -> list[sqlite3.Row]:
    """The undone sales of units that are the shop's again, and were not scrapped or kept since."""
    return connection.execute(_with(_UNDONE)).fetchall()


def shelf(connection: sqlite3.Connection) -> sqlite3.Row:
    """Parts on the shelf and their cost."""
    row: sqlite3.Row = connection.execute(_SHELF).fetchone()
    return row


def slowest(connection: sqlite3.Connection, most: int) -> list[sqlite3.Row]:
    """The units longest in the queue, counted from their last return."""
    return connection.execute(_with(_SLOWEST), {"most": most}).fetchall()


def used(connection: sqlite3.Connection, span: Span) -> list[sqlite3.Row]:
    """Consumables issued within a span and not taken back, the costliest first."""
    return connection.execute(_with(_USED), {"lo": span[0], "hi": span[1]}).fetchall()


def used_units(connection: sqlite3.Connection, span: Span) -> int:
    """How many units took any of them."""
    row = connection.execute(_with(_USED_UNITS), {"lo": span[0], "hi": span[1]}).fetchone()
    return int(row[0])


def _with(text: str) -> str:
    for name, part in _SHARED.items():
        text = text.replace(name, part)
    return text


_SHARED = {
    "{cost_left}": COST_LEFT,
    "{materials}": MATERIALS,
    "{attended}": ATTENDED,
    "{parts}": PARTS,
    "{issues}": _ISSUES,
    "{is_sold}": IS_SOLD,
    "{in_queue}": IN_QUEUE,
    "{of_returns}": OF_RETURNS,
}
