"""A task added to a route, or changed there."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from bench.dashboard.screens.dialogs import task_fields as of
from bench.dashboard.screens.dialogs.choice_field import ChoiceField
from bench.dashboard.screens.dialogs.field import Field
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.dialogs.mark_field import YES
from bench.views.routes import RouteSheet
from bench.views.shop import StageLine

Facts = tuple[tuple[StageLine, ...], RouteSheet]


class RouteTaskForm(Form[bool]):
    """Asks for a route's task; without `route_task_id` it is new."""

    def __init__(self, route_id: int, route_task_id: int | None = None) -> None:
        super().__init__(
            "New task of the route" if route_task_id is None else "Task of the route",
            draft=f"route_task_form {route_id} {route_task_id or 'new'}",
        )
        self.route_id = route_id
        self.route_task_id = route_task_id

    def fields(self) -> Sequence[Field]:
        """All of the task."""
        return (*of.name_and_estimate(), *of.stage_and_marks())

    def read(self) -> Facts:
        """The stages, and the route with its tasks."""
        from bench.views.routes import read_route
        from bench.views.shop import read_stages

        return read_stages(self.desk), read_route(self.desk, self.route_id)

    def begin(self, facts: Facts) -> None:
        """Offer the stages, and show the task as it is."""
        stages, route = facts
        stage = self.field(of.STAGE)
        assert isinstance(stage, ChoiceField)
        stage.offer(of.stage_choices(stages))
        for task in route.tasks:
            if task.route_task_id == self.route_task_id:
                stage.start(str(task.stage_id))
                self.field(of.NAME).start(task.name)
                self.field(of.ESTIMATE).start(str(task.estimate_minutes))
                self.field(of.UNATTENDED).start(YES if task.unattended else "")
                self.field(of.LID_OFF).start(YES if task.lid_off else "")
                self.field(of.OPENS).start(YES if task.opens else "")
                self.field(of.HAZARD).start(task.hazard)

    def work(self) -> Callable[[], Any]:
        """Add the task, or change it."""
        desk, route_id, route_task_id = self.desk, self.route_id, self.route_task_id
        stage_id = self.chosen(of.STAGE)
        name, estimate_text = self.value(of.NAME), self.value(of.ESTIMATE)
        marks = {one: of.marked(self.field(one)) for one in (of.UNATTENDED, of.LID_OFF, of.OPENS)}
        hazard = self.value(of.HAZARD)

        def write() -> object:
            from bench.work.routes import add_route_task, edit_route_task

            use_case: Callable[..., object] = add_route_task if route_task_id is None else edit_route_task
            return use_case(
                desk,
                route_id if route_task_id is None else route_task_id,
                name=name,
                stage_id=stage_id,
                estimate_text=estimate_text,
                hazard=hazard,
                **marks,
            )

        return write
