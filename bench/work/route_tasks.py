"""Routes and their tasks: added, edited, put in another order, given what they take and new estimates."""

from __future__ import annotations

from collections.abc import Sequence

from sqlmodel import col, func, select

from bench.desk import Desk
from bench.domain.durations import LEAST_MINUTES, MOST_MINUTES, read_minutes
from bench.domain.outcomes import read_kind
from bench.domain.quantities import read_quantity, show_quantity
from bench.domain.safety import check_hazard
from bench.domain.text import clean_line
from bench.domain.typed import TypedFields, read_field
from bench.errors import BadInput, NotFound, Refused
from bench.store.tables import Consumable, Route, RouteTask, RouteUse, Stage
from bench.work.change import Change, change
from bench.work.names import free_name, tells_if_changed
from bench.work.ordering import shift


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


def add_route_task(
    desk: Desk,
    route_id: int,
    *,
    name: str,
    stage_id: int,
    estimate_text: str,
    unattended: bool,
    lid_off: bool,
    opens: bool = False,
    hazard: str = "",
    test: str = "",
    public: bool = False,
) -> int:
    """One more task of a route, last at its stage; answers its number.

    `opens`: it takes the cover off. `hazard`: one of the kinds of `domain.safety`, empty for none. `test`: a
    kind of `domain.outcomes`, empty where it is no test. `public`: a listing may name it.
    """
    with change(desk, "add route task") as made:
        route = made.get(Route, route_id, "route")
        task = RouteTask(route_id=route_id, stage_id=stage_id, position=0, name="", estimate_minutes=1)
        task.opens, task.hazard = int(opens), check_hazard(hazard)
        task.test, task.public = read_field("test", read_kind, test), int(public)
        _fill(made, task, name, stage_id, estimate_text, unattended, lid_off)
        made.add(task)
        made.tells(f"Added {task.name} to route {route.name}")
        assert task.id is not None
        return task.id


def edit_route_task(
    desk: Desk,
    route_task_id: int,
    *,
    name: str,
    stage_id: int,
    estimate_text: str,
    unattended: bool,
    lid_off: bool,
    opens: bool | None = None,
    hazard: str | None = None,
    test: str | None = None,
    public: bool | None = None,
) -> None:
    """Set a route's task right; what is given replaces what was, None leaves it.

    At another stage it comes last.
    """
    with change(desk, "edit route task") as made:
        task, route = _task_and_route(made, route_task_id)
        before = task.name
        task.opens = task.opens if opens is None else int(opens)
        task.hazard = task.hazard if hazard is None else check_hazard(hazard)
        task.test = task.test if test is None else read_field("test", read_kind, test)
        task.public = task.public if public is None else int(public)
        _fill(made, task, name, stage_id, estimate_text, unattended, lid_off)
        tells_if_changed(made, f"Edited {before} of route {route.name}")


def reorder_route_task(desk: Desk, route_task_id: int, steps: int) -> None:
    """Move a task up (below 0) or down among the route's tasks at its stage, no further than the ends."""
    with change(desk, "reorder route task") as made:
        task, route = _task_and_route(made, route_task_id)
        statement = (
            select(RouteTask)
            .where(
                RouteTask.route_id == route.id, RouteTask.stage_id == task.stage_id, RouteTask.removed == 0
            )
            .order_by(col(RouteTask.position), col(RouteTask.id))
        )
        if shift(list(made.session.exec(statement)), task, steps):
            made.tells(f"Moved {task.name} of route {route.name}")


def remove_route_task(desk: Desk, route_task_id: int) -> None:
    """Take a task out of a route. Units that were given it keep it."""
    with change(desk, "remove route task") as made:
        task, route = _task_and_route(made, route_task_id)
        task.removed = 1
        made.tells(f"Removed {task.name} from route {route.name}")


def set_route_use(desk: Desk, route_task_id: int, consumable_id: int, quantity_text: str) -> None:
    """Say what a route's task takes of a consumable, in its base unit; 0 or nothing typed for none."""
    with change(desk, "route use") as made:
        task, route = _task_and_route(made, route_task_id)
        consumable = made.get(Consumable, consumable_id, "consumable")
        typed = quantity_text.strip() or "0"
        quantity = read_field("quantity_text", read_quantity, typed, consumable.base_unit, allow_zero=True)
        statement = select(RouteUse).where(
            RouteUse.route_task_id == route_task_id, RouteUse.consumable_id == consumable_id
        )
        use = made.session.exec(statement).first()
        if use is None and quantity:
            made.add(RouteUse(route_task_id=route_task_id, consumable_id=consumable_id, quantity=quantity))
        elif use is not None and quantity:
            use.quantity = quantity
        elif use is not None:
            made.session.delete(use)
        amount = show_quantity(quantity, consumable.base_unit) if quantity else "no"
        tells_if_changed(made, f"{task.name} of route {route.name} now takes {amount} {consumable.name}")


def take_estimates(desk: Desk, route_task_ids: Sequence[int], minutes: int) -> None:
    """Give these tasks of routes, as far as they are kept, a new estimate for the units to come."""
    if not LEAST_MINUTES <= minutes <= MOST_MINUTES:
        raise BadInput(
            f"{minutes} minutes cannot be an estimate.", f"Give between {LEAST_MINUTES} and {MOST_MINUTES}."
        )
    with change(desk, "new estimate") as made:
        statement = select(RouteTask).where(col(RouteTask.id).in_(route_task_ids), RouteTask.removed == 0)
        tasks = list(made.session.exec(statement))
        if not tasks:
            raise NotFound("No route has that task any more.", "There is nothing to estimate again.")
        for task in tasks:
            task.estimate_minutes = minutes
        names = ", ".join(sorted({task.name for task in tasks}))
        tells_if_changed(made, f"New estimate for {names}: {minutes} min")


def _fill(
    made: Change,
    task: RouteTask,
    name: str,
    stage_id: int,
    estimate_text: str,
    unattended: bool,
    lid_off: bool,
) -> None:
    stage = made.get(Stage, stage_id, "stage")
    if stage.final:
        raise Refused(f"Units that reach {stage.name} have left.", "Give the task an earlier stage.")
    fields = TypedFields()
    new_name = fields.read("name", clean_line, name, "The task's name")
    minutes = fields.read("estimate_text", read_minutes, estimate_text)
    fields.check()
    if task.id is None or stage_id != task.stage_id:
        task.position = _last_position(made, task.route_id) + 1
    task.stage_id = stage_id
    task.name = new_name
    task.estimate_minutes = minutes
    task.unattended, task.lid_off = int(unattended), int(lid_off or task.opens)


def _last_position(made: Change, route_id: int) -> int:
    statement = select(func.max(col(RouteTask.position))).where(RouteTask.route_id == route_id)
    return made.session.exec(statement).one() or 0


def _task_and_route(made: Change, route_task_id: int) -> tuple[RouteTask, Route]:
    task = made.get(RouteTask, route_task_id, "task of a route")
    return task, made.get(Route, task.route_id, "route")
