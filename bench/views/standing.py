"""Conditions that several texts share: what stands, what is in the queue, what takes the cover off.

A sale stands while no later one of its unit was made and no return undid it, wherever the unit is: back for
repair under warranty, it is still the buyer's. Each text names the `unit` or the `sale` of what it is put in.
"""

from __future__ import annotations

import sqlite3

from bench.views.binder import value

# Where the units in the queue come from, however many have left: down the stages, in this order (CROSS JOIN).
IN_QUEUE = """stage AS standing
CROSS JOIN unit ON standing.final = 0 AND unit.stage_id = standing.id AND unit.removed = 0"""

UNDONE = """
EXISTS (SELECT 1 FROM comeback WHERE comeback.sale_id = sale.id AND comeback.removed = 0
        AND comeback.undoes = 1)
"""

NEWEST = """
NOT EXISTS (SELECT 1 FROM sale AS later WHERE later.unit_id = sale.unit_id AND later.removed = 0
            AND (later.sold_us, later.id) > (sale.sold_us, sale.id))
"""

# Of the kept sales of a unit, whether one stands.
IS_SOLD = """
EXISTS (SELECT 1 FROM sale WHERE sale.unit_id = unit.id AND sale.removed = 0 AND {newest} AND NOT {undone})
""".replace("{newest}", NEWEST).replace("{undone}", UNDONE)


# Of a unit whose tasks do not say which opens it, the first cover-off one does.
OPENS = """(task.opens = 1 OR task.id IS (
    SELECT first.id FROM task AS first JOIN stage AS place ON place.id = first.stage_id
    WHERE first.unit_id = task.unit_id AND first.removed = 0 AND first.lid_off = 1
    AND NOT EXISTS (SELECT 1 FROM task AS marked WHERE marked.unit_id = task.unit_id
                    AND marked.removed = 0 AND marked.opens = 1)
    ORDER BY place.position, first.position, first.id LIMIT 1))"""

# Since the cover last came off: a cover-off task was done or stopped, or one runs that does not open.
WORKED_INSIDE = """(unit.lid_off = 1 AND EXISTS (
    SELECT 1 FROM task JOIN time_entry AS entry ON entry.task_id = task.id
    WHERE task.unit_id = unit.id AND task.removed = 0 AND task.lid_off = 1
    AND (entry.stopped_us IS NULL OR entry.stopped_us >= unit.opened_us)
    AND NOT (entry.stopped_us IS NULL AND {opens})))""".replace("{opens}", OPENS)

_OPENS = """
SELECT task.id FROM task WHERE task.id = :task_id AND task.lid_off = 1 AND {opens}""".replace(
    "{opens}", OPENS
)


def opens(connection: sqlite3.Connection, task_id: int | None) -> bool:
    """Whether a task is the one that takes its unit's cover off."""
    return value(connection, _OPENS, task_id=task_id) is not None
