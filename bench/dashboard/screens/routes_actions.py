"""What the keys of the routes do to the route or the task under the cursor."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable
from typing import Any

from bench.dashboard.doing import Doing, say
from bench.desk import Desk
from bench.views.routes import RouteLine, RouteTaskLine


class RoutesActions(Doing):
    """Mixed into the screen of the routes, which says what stands under its cursors."""

    @abstractmethod
    def at_tasks(self) -> bool:
        """Whether the keys mean a task, not a route."""

    @abstractmethod
    def route_here(self) -> RouteLine | None:
        """The route under the cursor."""

    @abstractmethod
    def task_here(self) -> RouteTaskLine | None:
        """The task under the cursor."""

    def action_add(self) -> None:
        """A new route, or a new task of the route."""
        route = self.route_here()
        if self.at_tasks() and route is not None:
            from bench.dashboard.screens.dialogs.unit_forms import route_task_form

            self.app.push_screen(route_task_form(route.route_id))
        else:
            self._ask_name("New route", "route new", _add_route)

    def action_edit(self) -> None:
        """Change the task, or rename the route."""
        route, task = self.route_here(), self.task_here()
        if route is None:
            return
        if not self.at_tasks():
            route_id = route.route_id

            def rename(desk: Desk, name: str) -> None:
                from bench.work.routes import rename_route

                rename_route(desk, route_id, name)

            self._ask_name("Rename the route", f"route {route_id}", rename, route.name)
        elif task is not None:
            from bench.dashboard.screens.dialogs.unit_forms import route_task_form

            self.app.push_screen(route_task_form(route.route_id, task.route_task_id))

    def action_copy(self) -> None:
        """A route with the same tasks, under another name."""
        route = self.route_here()
        if route is None:
            return
        route_id = route.route_id

        def copy(desk: Desk, name: str) -> None:
            from bench.work.routes import copy_route

            copy_route(desk, route_id, name)

        self._ask_name(f"Copy {route.name}", f"route copy {route_id}", copy, f"{route.name} 2")

    def action_set_use(self) -> None:
        """What the task takes."""
        task = self.task_here()
        if task is None:
            say(self.app, "There is no task under the cursor.")
            return
        task_id = task.route_task_id

        def set_use(desk: Desk, consumable_id: int, quantity_text: str) -> None:
            from bench.work.route_tasks import set_route_use

            set_route_use(desk, task_id, consumable_id, quantity_text)

        from bench.dashboard.screens.dialogs.stock_forms import use_form

        uses = {use.consumable_id: use.quantity for use in task.uses}
        self.app.push_screen(use_form(task.name, set_use, uses, draft=f"route takes {task_id}"))

    def action_earlier(self) -> None:
        """The task one place up."""
        self._reorder(-1)

    def action_later(self) -> None:
        """The task one place down."""
        self._reorder(1)

    def action_remove(self) -> None:
        """Take the task out of the route, or the route off the list."""
        route, task, desk = self.route_here(), self.task_here(), self.desk
        if self.at_tasks() and task is not None:
            self.take_off(lambda: _remove_task(desk, task.route_task_id), task.name)
        elif not self.at_tasks() and route is not None:
            self.take_off(lambda: _remove_route(desk, route.route_id), route.name)

    def _reorder(self, steps: int) -> None:
        task, desk = self.task_here(), self.desk
        if task is None:
            return

        def work() -> None:
            from bench.work.route_tasks import reorder_route_task

            reorder_route_task(desk, task.route_task_id, steps)

        self.change(work)

    def _ask_name(
        self, heading: str, draft: str, use_case: Callable[[Desk, str], Any], name: str = ""
    ) -> None:
        from bench.dashboard.screens.dialogs.settings_forms import name_form

        self.app.push_screen(name_form(heading, use_case, name, draft=draft))


def _add_route(desk: Desk, name: str) -> None:
    from bench.work.routes import add_route

    add_route(desk, name)


def _remove_task(desk: Desk, route_task_id: int) -> None:
    from bench.work.route_tasks import remove_route_task

    remove_route_task(desk, route_task_id)


def _remove_route(desk: Desk, route_id: int) -> None:
    from bench.work.routes import remove_route

    remove_route(desk, route_id)
