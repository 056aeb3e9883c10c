"""Routes and their tasks as rows."""

from __future__ import annotations

from collections.abc import Sequence

from bench.dashboard.presenters.parts import Line, Part, spread
from bench.dashboard.presenters.rows import Column, Row, cell, heading
from bench.domain.durations import MINUTE_US, hours_and_minutes
from bench.domain.quantities import show_quantity
from bench.domain.text import for_display
from bench.views.routes import RouteLine, RouteSheet, RouteTaskLine

ROUTE_COLUMNS = (
    Column("Route", 14, grow=1),
    Column("Tasks", 5, right=True),
    Column("Hands on", 9, right=True),
    Column("By itself", 9, right=True, from_width=56),
    Column("Units", 5, right=True),
)
TASK_COLUMNS = (
    Column("Task", 18, grow=3),
    Column("Takes", 12, grow=2),
    Column("Estimate", 9, right=True),
)


def route_rows(routes: Sequence[RouteLine]) -> tuple[Row, ...]:
    """The routes; the key is the route's number."""
    return tuple(
        Row(
            one.route_id,
            (
                cell(one.name),
                cell(str(one.tasks), "muted"),
                cell(_minutes(one.attended_minutes)),
                cell(_minutes(one.unattended_minutes), "muted"),
                cell(str(one.units), "muted"),
            ),
        )
        for one in routes
    )


def route_task_rows(route: RouteSheet | None) -> tuple[Row, ...]:
    """The tasks under their stages; the key is the task's number."""
    rows: list[Row] = []
    stage_id = None
    for task in route.tasks if route else ():
        if task.stage_id != stage_id:
            stage_id = task.stage_id
            rows.append(heading(f"stage {stage_id}", task.stage))
        rows.append(_task_row(task))
    return tuple(rows)


def route_head(route: RouteSheet | None, width: int) -> tuple[Line, ...]:
    """The route under the cursor and how long it takes."""
    if route is None:
        return ((Part(" Routes", "strong"),),)
    times = f"{_minutes(route.attended_minutes)} hands on, {_minutes(route.unattended_minutes)} by itself "
    name = (Part(" Routes: ", "muted"), Part(for_display(route.name), "strong"))
    return (spread(name, (Part(times, "heading"),), width),)


def _task_row(task: RouteTaskLine) -> Row:
    marks = [mark for mark, there in (("cover off", task.lid_off), ("unattended", task.unattended)) if there]
    name = f"{task.name} ({', '.join(marks)})" if marks else task.name
    takes = ", ".join(f"{show_quantity(use.quantity, use.base_unit)} {use.name}" for use in task.uses)
    cells = (cell(name), cell(takes, "muted"), cell(_minutes(task.estimate_minutes)))
    return Row(task.route_task_id, cells)


def _minutes(minutes: int) -> str:
    return hours_and_minutes(minutes * MINUTE_US)
