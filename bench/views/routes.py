"""The routes: the ordered tasks that each kind of job needs, and what they take."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass, field, replace

from bench.desk import Desk
from bench.domain.amounts import Thousandths
from bench.errors import NotFound
from bench.views.binder import Groups, Query, value
from bench.views.standing import IN_QUEUE


@dataclass(frozen=True, slots=True)
class RouteLine:
    """A route in the list of routes. `units`: how many units in the shop are on it."""

    route_id: int
    name: str
    tasks: int
    hands_on_minutes: int
    machine_minutes: int
    units: int


@dataclass(frozen=True, slots=True)
class RouteTaskUse:
    """What a route's task takes of a consumable, in thousandths of its base unit."""

    consumable_id: int
    name: str
    base_unit: str
    quantity: Thousandths


@dataclass(frozen=True, slots=True)
class RouteTaskLine:
    """One task of a route, and what it takes."""

    route_task_id: int
    stage_id: int
    stage: str
    name: str
    estimate_minutes: int
    unattended: bool
    lid_off: bool
    uses: tuple[RouteTaskUse, ...] = field(default=(), kw_only=True)
    opens: bool = False
    hazard: str = ""
    test: str = ""
    public: bool = False


@dataclass(frozen=True, slots=True)
class RouteSheet:
    """A route opened: its tasks in the order of the work."""

    route_id: int
    name: str
    tasks: tuple[RouteTaskLine, ...]

    @property
    def hands_on_minutes(self) -> int:
        """The estimated hands-on time of the whole job."""
        return sum(task.estimate_minutes for task in self.tasks if not task.unattended)

    @property
    def machine_minutes(self) -> int:
        """The estimated time of what runs by itself."""
        return sum(task.estimate_minutes for task in self.tasks if task.unattended)


_ROUTES = Query(
    RouteLine,
    """
SELECT route.id AS route_id, route.name, COUNT(task.id) AS tasks,
       COALESCE(SUM(task.estimate_minutes) FILTER (WHERE task.unattended = 0), 0) AS hands_on_minutes,
       COALESCE(SUM(task.estimate_minutes) FILTER (WHERE task.unattended = 1), 0) AS machine_minutes,
       (SELECT COUNT(*) FROM {in_queue} WHERE unit.route_id = route.id) AS units
FROM route LEFT JOIN route_task AS task ON task.route_id = route.id AND task.removed = 0
WHERE route.removed = 0
GROUP BY route.id ORDER BY route.name COLLATE NOCASE, route.id
""".replace("{in_queue}", IN_QUEUE),
)

_NAME = "SELECT name FROM route WHERE id = :route_id AND removed = 0"

_TASKS = Query(
    RouteTaskLine,
    """
SELECT task.id AS route_task_id, task.stage_id, stage.name AS stage, task.name, task.estimate_minutes,
       task.unattended, task.lid_off, task.opens, task.hazard, task.test, task.public
FROM route_task AS task JOIN stage ON stage.id = task.stage_id
WHERE task.route_id = :route_id AND task.removed = 0
ORDER BY stage.position, task.position, task.id
""",
)

_USES = Groups(
    RouteTaskUse,
    """
SELECT route_use.route_task_id, consumable.id AS consumable_id, consumable.name, consumable.base_unit,
       route_use.quantity
FROM route_task AS task JOIN route_use ON route_use.route_task_id = task.id
JOIN consumable ON consumable.id = route_use.consumable_id
WHERE task.route_id = :route_id AND task.removed = 0 AND consumable.removed = 0
ORDER BY route_use.id
""",
)


def read_routes(desk: Desk) -> tuple[RouteLine, ...]:
    """The routes by name, each with its estimated time and how many units are on it."""
    with desk.store.read() as connection:
        return _ROUTES.all(connection)


def read_route(desk: Desk, route_id: int) -> RouteSheet:
    """One route's tasks in the order of the work; NotFound when there is none of that number."""
    with desk.store.read() as connection:
        kept = sheet(connection, route_id)
    if kept is None:
        raise NotFound(
            f"There is no route with number {route_id}.", "Look it up again; it may have been removed."
        )
    return kept


def sheet(connection: sqlite3.Connection, route_id: int) -> RouteSheet | None:
    """One route with its tasks and what each takes; None when there is none of that number."""
    name = value(connection, _NAME, route_id=route_id)
    if name is None:
        return None
    uses = _USES.by_key(connection, route_id=route_id)
    tasks = _TASKS.each(connection, route_id=route_id)
    return RouteSheet(route_id, name, tuple(replace(task, uses=uses[task.route_task_id]) for task in tasks))
