"""SQL texts behind the list of routes and one route opened."""

from __future__ import annotations

import sqlite3

from bench.domain.routes import RouteLine, RouteSheet, RouteTaskLine, RouteTaskUse
from bench.views.standing import IN_QUEUE

_ROUTES = """
SELECT route.id, route.name, COUNT(task.id),
       COALESCE(SUM(task.estimate_minutes) FILTER (WHERE task.unattended = 0), 0),
       COALESCE(SUM(task.estimate_minutes) FILTER (WHERE task.unattended = 1), 0),
       (SELECT COUNT(*) FROM {in_queue} WHERE unit.route_id = route.id)
FROM route LEFT JOIN route_task AS task ON task.route_id = route.id AND task.removed = 0
WHERE route.removed = 0
GROUP BY route.id ORDER BY route.name COLLATE NOCASE, route.id
""".replace("{in_queue}", IN_QUEUE)

_TASKS = """
SELECT task.id, task.stage_id, stage.name, task.name, task.estimate_minutes, task.unattended, task.lid_off,
       task.opens, task.hazard
FROM route_task AS task JOIN stage ON stage.id = task.stage_id
WHERE task.route_id = ? AND task.removed = 0
ORDER BY stage.position, task.position, task.id
"""

_USES = """
SELECT route_use.route_task_id, consumable.id, consumable.name, consumable.base_unit, route_use.quantity
FROM route_task AS task JOIN route_use ON route_use.route_task_id = task.id
JOIN consumable ON consumable.id = route_use.consumable_id
WHERE task.route_id = ? AND task.removed = 0 AND consumable.removed = 0
ORDER BY route_use.id
"""


def routes(connection: sqlite3.Connection) -> tuple[RouteLine, ...]:
    """The routes that are kept, by name."""
    return tuple(RouteLine(*row) for row in connection.execute(_ROUTES))


def sheet(connection: sqlite3.Connection, route_id: int) -> RouteSheet | None:
    """One route with its tasks and what each takes; None when there is none of that number."""
    kept = connection.execute("SELECT name FROM route WHERE id = ? AND removed = 0", (route_id,)).fetchone()
    if kept is None:
        return None
    uses: dict[int, tuple[RouteTaskUse, ...]] = {}
    for task_id, *use in connection.execute(_USES, (route_id,)):
        uses[task_id] = (*uses.get(task_id, ()), RouteTaskUse(*use))
    tasks = tuple(
        RouteTaskLine(
            task_id,
            stage_id,
            stage,
            name,
            minutes,
            bool(unattended),
            bool(lid_off),
            uses.get(task_id, ()),
            bool(opens),
            hazard,
        )
        for (
            task_id,
            stage_id,
            stage,
            name,
            minutes,
            unattended,
            lid_off,
            opens,
            hazard,
        ) in connection.execute(_TASKS, (route_id,))
    )
    return RouteSheet(route_id, kept[0], tasks)
