"""Routes and their tasks as rows."""

from __future__ import annotations

from itertools import groupby

from bench.dashboard.presenters.pieces import Line, Part, spread
from bench.dashboard.presenters.rows import Row, heading, rows_of
from bench.domain.durations import MINUTE_US, hours_and_minutes
from bench.domain.text import for_display
from bench.views.routes import RouteSheet
from bench.views.tables.routes import ROUTE_TASKS


def route_task_rows(route: RouteSheet | None) -> tuple[Row, ...]:
    """The tasks under their stages; the key is the task's number."""
    rows: list[Row] = []
    for stage_id, tasks in groupby(route.tasks if route else (), key=lambda task: task.stage_id):
        under = list(tasks)
        rows += [heading(f"stage {stage_id}", under[0].stage), *rows_of(ROUTE_TASKS, under)]
    return tuple(rows)


def route_head(route: RouteSheet | None, width: int) -> tuple[Line, ...]:
    """The route under the cursor and how long it takes."""
    if route is None:
        return ((Part(" Routes", "strong"),),)
    times = f"{_minutes(route.attended_minutes)} hands on, {_minutes(route.unattended_minutes)} by itself "
    name = (Part(" Routes: ", "muted"), Part(for_display(route.name), "strong"))
    return (spread(name, (Part(times, "heading"),), width),)


def _minutes(minutes: int) -> str:
    return hours_and_minutes(minutes * MINUTE_US)
