"""Asking what a task takes: a unit's task, or one of a route."""

from __future__ import annotations

from functools import partial

from bench.dashboard.acts import places
from bench.dashboard.acts.act import call
from bench.dashboard.doing import Doing
from bench.desk import Desk
from bench.views.routes import RouteTaskLine
from bench.views.tasks import TaskLine


def ask_task_use(screen: Doing, task: TaskLine) -> None:
    """What a unit's task takes."""
    _ask(screen, task, "bench.work.tasks:set_task_use", task.task_id, f"takes {task.task_id}")


def ask_route_use(screen: Doing, task: RouteTaskLine) -> None:
    """What a route's task takes."""
    number = task.route_task_id
    _ask(screen, task, "bench.work.route_tasks:set_route_use", number, f"route takes {number}")


def _ask(screen: Doing, task: TaskLine | RouteTaskLine, use_case: str, number: int, draft: str) -> None:
    uses = {use.consumable_id: use.quantity for use in task.uses}
    set_use = partial(_set_use, use_case, number)
    screen.open_screen(places.USE_FORM, task.name, set_use, uses, draft=draft)


def _set_use(use_case: str, number: int, desk: Desk, consumable_id: int, quantity_text: str) -> None:
    call(use_case, desk, number, consumable_id, quantity_text)
