"""Routes and their tasks as tables."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

from bench.domain.durations import MINUTE_US
from bench.views.columns import Column, Table
from bench.views.kinds import COUNT, LENGTH, PLAIN, QUANTITY, Amount
from bench.views.routes import RouteLine, RouteTaskLine


class Taken(Protocol):
    """What a task takes of a consumable."""

    @property
    def name(self) -> str:
        """The consumable."""

    @property
    def quantity(self) -> int:
        """How much, in thousandths of the base unit."""

    @property
    def base_unit(self) -> str:
        """The base unit."""


def takes_words(uses: Iterable[Taken]) -> str:
    """What a task takes, in words."""
    return ", ".join(
        f"{QUANTITY.told(Amount(use.quantity, use.base_unit), PLAIN)} {use.name}" for use in uses
    )


def _name(task: RouteTaskLine) -> str:
    told = (("cover off", task.lid_off), ("machine time", task.unattended), ("public", task.public))
    marks = [mark for mark, there in told if there]
    return f"{task.name} ({', '.join(marks)})" if marks else task.name


ROUTES = Table[RouteLine](
    "routes",
    "Routes",
    (
        Column("Route", "name", width=14, grow=1),
        Column("Tasks", "tasks", COUNT, 5, look="muted"),
        Column("Hands-on", lambda one: one.hands_on_minutes * MINUTE_US, LENGTH, 9),
        Column(
            "Machine time",
            lambda one: one.machine_minutes * MINUTE_US,
            LENGTH,
            9,
            from_width=56,
            look="muted",
        ),
        Column("Units", "units", COUNT, 5, look="muted"),
    ),
    key="route_id",
)
ROUTE_TASKS = Table[RouteTaskLine](
    "route_tasks",
    "Its tasks",
    (
        Column("Task", _name, width=18, grow=3),
        Column("Consumables", lambda task: takes_words(task.uses), width=12, grow=2, look="muted"),
        Column("Estimate", lambda task: task.estimate_minutes * MINUTE_US, LENGTH, 9),
    ),
    key="route_task_id",
)
