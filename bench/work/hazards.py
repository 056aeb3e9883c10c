"""What can hurt in a task, of a unit or a route, or with a consumable: said again, whatever its name says."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.safety import HAZARD_NAMES, check_hazard
from bench.domain.text import clean_line, task_on
from bench.domain.typed import read_field
from bench.store.tables import Consumable, Route, RouteTask, Task, Unit
from bench.work.change import change
from bench.work.names import tells_if_changed


def set_task_hazard(desk: Desk, task_id: int, kind: str) -> None:
    """Say which hazard a unit's task has: a kind of `domain.safety`, empty for none; BadInput for another."""
    with change(desk, "task hazard") as made:
        task = made.get(Task, task_id, "task")
        unit = made.get(Unit, task.unit_id, "unit")
        task.hazard = read_field("hazard", check_hazard, kind)
        tells_if_changed(made, f"Hazard of {task_on(task.name, unit.tag)}: {HAZARD_NAMES[kind]}", unit.id)


def set_route_task_hazard(desk: Desk, route_task_id: int, kind: str) -> None:
    """The same of a route's task; units that were given it keep what they have."""
    with change(desk, "route task hazard") as made:
        task = made.get(RouteTask, route_task_id, "task of a route")
        route = made.get(Route, task.route_id, "route")
        task.hazard = read_field("hazard", check_hazard, kind)
        tells_if_changed(made, f"Hazard of {task.name} of route {route.name}: {HAZARD_NAMES[kind]}")


def set_consumable_hazard(desk: Desk, consumable_id: int, caution: str) -> None:
    """Say in a line what can hurt with a consumable, nothing for none."""
    with change(desk, "consumable hazard") as made:
        consumable = made.get(Consumable, consumable_id, "consumable")
        consumable.hazard = read_field("hazard", clean_line, caution, "The caution", allow_empty=True)
        tells_if_changed(made, f"Caution of {consumable.name}: {consumable.hazard or 'none'}")
