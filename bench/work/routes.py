"""The routes: added, renamed, copied, removed. Their tasks are edited next door and handed out here.

A unit is given its route's tasks once, when it comes in: what is changed here counts for units to come.
"""

from __future__ import annotations

from sqlmodel import col, select

from bench.desk import Desk
from bench.store.tables import Route, RouteTask, RouteUse
from bench.work.change import Change, change
from bench.work.names import free_name, tells_if_changed
from bench.work.route_tasks import add_route_task as add_route_task
from bench.work.route_tasks import edit_route_task as edit_route_task
from bench.work.route_tasks import remove_route_task as remove_route_task
from bench.work.route_tasks import reorder_route_task as reorder_route_task
from bench.work.route_tasks import set_route_use as set_route_use
from bench.work.route_tasks import take_estimates as take_estimates


def add_route(desk: Desk, name: str) -> int:
    """A new route without tasks; answers its number."""
    with change(desk, "add route") as made:
        route = made.add(Route(name=free_name(made, Route, name, "route")))
        made.tells(f"Added route {route.name}")
        assert route.id is not None
        return route.id


def rename_route(desk: Desk, route_id: int, name: str) -> None:
    """Give a route another name."""
    with change(desk, "rename route") as made:
        route = made.get(Route, route_id, "route")
        before, route.name = route.name, free_name(made, Route, name, "route", route_id)
        tells_if_changed(made, f"Renamed route {before} to {route.name}")


def copy_route(desk: Desk, route_id: int, name: str) -> int:
    """A new route with the same tasks, to be changed from there; answers its number."""
    with change(desk, "copy route") as made:
        pattern = made.get(Route, route_id, "route")
        route = made.add(Route(name=free_name(made, Route, name, "route")))
        assert route.id is not None
        for task in _tasks(made, route_id):
            _copy_task(made, task, route.id)
        made.tells(f"Copied route {pattern.name} to {route.name}")
        return route.id


def remove_route(desk: Desk, route_id: int) -> None:
    """Take a route off the list. Units on it keep their tasks."""
    with change(desk, "remove route") as made:
        route = made.get(Route, route_id, "route")
        route.removed = 1
        made.tells(f"Removed route {route.name}")


def _tasks(made: Change, route_id: int) -> list[RouteTask]:
    statement = (
        select(RouteTask)
        .where(RouteTask.route_id == route_id, RouteTask.removed == 0)
        .order_by(col(RouteTask.position), col(RouteTask.id))
    )
    return list(made.session.exec(statement))


def _copy_task(made: Change, task: RouteTask, route_id: int) -> None:
    copy = made.add(RouteTask(**task.model_dump(exclude={"id", "route_id"}), route_id=route_id))
    assert copy.id is not None
    uses = select(RouteUse).where(RouteUse.route_task_id == task.id).order_by(col(RouteUse.id))
    for use in made.session.exec(uses):
        made.session.add(
            RouteUse(route_task_id=copy.id, consumable_id=use.consumable_id, quantity=use.quantity)
        )
