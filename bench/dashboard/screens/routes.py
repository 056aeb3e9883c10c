"""The routes: the tasks that each kind of job needs, how long they take and what they use."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from pathlib import PurePath
from typing import ClassVar

from textual import on
from textual.widget import Widget

from bench.dashboard.keys import key_shown
from bench.dashboard.presenters.settings_rows import (
    route_head,
    route_task_rows,
)
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.views.routes import RouteLine, RouteSheet, RouteTaskLine, read_route, read_routes
from bench.views.tables.routes import ROUTE_TASKS, ROUTES


@dataclass(frozen=True, slots=True)
class RoutesFacts:
    """All routes, and the one under the cursor opened."""

    routes: tuple[RouteLine, ...]
    route: RouteSheet | None


class RoutesScreen(Sheet[RoutesFacts]):
    """Routes on the left, the tasks of the one under the cursor on the right."""

    keys = "routes"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "routes.tcss"]

    def panels(self) -> Iterable[Widget]:
        """The two tables."""
        none = f"None yet: {key_shown('routes.add', self.bench.own_keys)} adds one."
        yield RowTable(replace(ROUTES, empty=none), stays_lit=True, id="routes")
        yield RowTable(replace(ROUTE_TASKS, empty=none), id="tasks")

    def read(self) -> Callable[[], RoutesFacts]:
        """The routes and the tasks of one."""
        desk, key = self.desk, self.table("routes").key

        def work() -> RoutesFacts:
            routes = read_routes(desk)
            numbers = [one.route_id for one in routes]
            if not numbers:
                return RoutesFacts((), None)
            wanted = key if isinstance(key, int) and key in numbers else numbers[0]
            return RoutesFacts(routes, read_route(desk, wanted))

        return work

    def show(self, facts: RoutesFacts) -> None:
        """Both tables."""
        self.query_one("#head", LinesPanel).show(lambda width: route_head(facts.route, width))
        self.table("routes").fill(facts.routes)
        self.table("tasks").show(route_task_rows(facts.route))

    def open_row(self) -> None:
        """From a route to its tasks; a task is changed."""
        if self.table("tasks").is_current:
            self.action_act("edit")
        else:
            self.table("tasks").take_focus()

    def route_here(self) -> RouteLine | None:
        """The route under the cursor."""
        key = self.table("routes").key
        routes = self.facts.routes if self.facts else ()
        return next((one for one in routes if one.route_id == key), None)

    def task_here(self) -> RouteTaskLine | None:
        """The task under the cursor."""
        key = self.table("tasks").key
        route = self.facts.route if self.facts else None
        return next((one for one in route.tasks if one.route_task_id == key), None) if route else None

    def focused_route_here(self) -> RouteLine | None:
        """The route under the cursor, while the keys mean routes."""
        return None if self.table("tasks").is_current else self.route_here()

    def opened_route_here(self) -> RouteLine | None:
        """The route under the cursor, while the keys mean its tasks."""
        return self.route_here() if self.table("tasks").is_current else None

    def focused_task_here(self) -> RouteTaskLine | None:
        """The task under the cursor, while the keys mean tasks."""
        return self.task_here() if self.table("tasks").is_current else None

    @on(LineList.Moved, "#routes RowList")
    def _moved(self) -> None:
        shown = self.facts.route if self.facts else None
        here = self.route_here()
        if here is not None and (shown is None or shown.route_id != here.route_id):
            self.ask()
