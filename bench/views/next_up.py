"""SQL texts behind the ranking: each unit's cost, what it brought, the time it still takes.

Each is one statement over the whole queue, whatever the number of units.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable

from bench.views.standing import IN_QUEUE, IS_SOLD

# Of a channel sold through often, its newest sales tell most of what the next one costs.
MOST_SALES = 200
MOST_TASKS = 200  # of one name, the newest: how long such tasks take

_UNITS = """
SELECT unit.id AS unit_id, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS model, unit.stage_id,
       standing.name AS stage, unit.stage_since_us, unit.added_us, unit.held_reason, unit.cell_finding,
       unit.due_on, unit.price_minor, purchase.expected_minor,
       purchase.shipping_minor,
       COALESCE(purchase.donor, 0) AS donor, purchase.bought_on, {is_sold} AS is_sold, unit.owner_id
FROM {in_queue} LEFT JOIN purchase ON purchase.unit_id = unit.id ORDER BY unit.id
""".replace("{is_sold}", IS_SOLD).replace("{in_queue}", IN_QUEUE)

# What an offer said would have to be bought, less what has been bought for the unit since.
_PARTS_TO_BUY = """
SELECT offer.unit_id, MAX(0, offer.parts_minor - COALESCE((
    SELECT SUM(part.cost_minor) FROM part
    WHERE part.to_unit_id = offer.unit_id AND part.from_unit_id IS NULL AND part.removed = 0), 0))
FROM {in_queue} CROSS JOIN offer ON offer.unit_id = unit.id WHERE offer.removed = 0
""".replace("{in_queue}", IN_QUEUE)

_USES = """
SELECT task.unit_id, consumable.id, consumable.name, SUM(task_use.quantity)
FROM {in_queue} CROSS JOIN task ON task.unit_id = unit.id
CROSS JOIN task_use INDEXED BY ix_task_use_task_id ON task_use.task_id = task.id
JOIN consumable ON consumable.id = task_use.consumable_id
WHERE task.removed = 0 AND task.state = 'todo' AND consumable.removed = 0
GROUP BY task.unit_id, consumable.id
""".replace("{in_queue}", IN_QUEUE)

_SOLD_THROUGH = """
SELECT sale.unit_id, sale.channel_id FROM {in_queue} CROSS JOIN sale ON sale.unit_id = unit.id
WHERE sale.removed = 0 AND sale.channel_id IS NOT NULL ORDER BY sale.sold_us, sale.id
""".replace("{in_queue}", IN_QUEUE)

_OFFERED_THROUGH = """
SELECT offer.unit_id, offer.channel_id FROM {in_queue} CROSS JOIN offer ON offer.unit_id = unit.id
WHERE offer.removed = 0 AND offer.channel_id IS NOT NULL ORDER BY offer.id
""".replace("{in_queue}", IN_QUEUE)

# What sending cost in the newest sales of each channel, of those of which it was typed.
_SHIPPED = """
SELECT shipping_minor FROM sale WHERE channel_id = ? AND removed = 0 AND shipping_known = 1
ORDER BY sold_us DESC, id DESC LIMIT ?
"""

_SPENT = """COALESCE((SELECT SUM(MAX(0, COALESCE(entry.stopped_us, :now) - entry.started_us))
    FROM time_entry AS entry WHERE entry.task_id = task.id AND entry.attended = 1), 0)"""

_OPEN = """
SELECT task.unit_id, task.name, task.estimate_minutes * 60000000, {spent}
FROM {in_queue} CROSS JOIN task ON task.unit_id = unit.id
WHERE task.removed = 0 AND task.state = 'todo' AND task.unattended = 0
""".replace("{in_queue}", IN_QUEUE).replace("{spent}", _SPENT)

_PAST = """
SELECT task.name, {spent} FROM task
WHERE task.name = :name AND task.ended_us >= :since AND task.state = 'done' AND task.removed = 0
ORDER BY task.ended_us DESC LIMIT :most
""".replace("{spent}", _SPENT)


def units(connection: sqlite3.Connection) -> list[sqlite3.Row]:
    """The units in the queue with where they come from."""
    return connection.execute(_UNITS).fetchall()


def parts_to_buy(connection: sqlite3.Connection) -> dict[int, int]:
    """Cost of the parts that each unit still needs, as far as its offer said."""
    return {row[0]: row[1] for row in connection.execute(_PARTS_TO_BUY)}


def uses(connection: sqlite3.Connection) -> list[tuple[int, int, str, int]]:
    """Unit, consumable, its name and thousandths of its base unit that the unit's open tasks still take."""
    return [tuple(row) for row in connection.execute(_USES)]


def sold_through(connection: sqlite3.Connection) -> dict[int, int]:
    """The channel of the last sale of units that are back in the queue."""
    return {row[0]: row[1] for row in connection.execute(_SOLD_THROUGH)}


def offered_through(connection: sqlite3.Connection) -> dict[int, int]:
    """The channel meant for each unit when it was looked at."""
    return {row[0]: row[1] for row in connection.execute(_OFFERED_THROUGH)}


def shipped(connection: sqlite3.Connection) -> dict[int, list[int]]:
    """What sending a unit cost in the newest sales of each channel, in minor units."""
    channels = [row[0] for row in connection.execute("SELECT id FROM channel")]
    costs = {one: [row[0] for row in connection.execute(_SHIPPED, (one, MOST_SALES))] for one in channels}
    return {channel_id: paid for channel_id, paid in costs.items() if paid}


def open_tasks(connection: sqlite3.Connection, now_us: int) -> list[tuple[int, str, int, int]]:
    """Unit, name, estimate and time spent of each open hands-on task, in microseconds."""
    return [tuple(row) for row in connection.execute(_OPEN, {"now": now_us})]


def past_times(
    connection: sqlite3.Connection, names: Iterable[str], since_us: int, now_us: int
) -> dict[str, list[int]]:
    """How long the newest tasks of these names took, finished since an instant, in microseconds."""
    found: dict[str, list[int]] = {}
    for name in sorted(set(names)):
        asked = {"name": name, "since": since_us, "now": now_us, "most": MOST_TASKS}
        if times := [spent_us for _, spent_us in connection.execute(_PAST, asked) if spent_us]:
            found[name] = times
    return found
