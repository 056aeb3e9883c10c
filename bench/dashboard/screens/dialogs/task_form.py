"""A task added to a unit, or renamed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from bench.dashboard.screens.dialogs import task_fields as of
from bench.dashboard.screens.dialogs.choice_field import ChoiceField
from bench.dashboard.screens.dialogs.field import Field
from bench.dashboard.screens.dialogs.form import Form
from bench.views.shop import StageLine
from bench.views.unit import UnitSheet

Facts = tuple[tuple[StageLine, ...], UnitSheet]


class TaskForm(Form[bool]):
    """Asks for a unit's task; without `task_id` it is new. An existing one gets a name and an estimate."""

    def __init__(self, unit_id: int, task_id: int | None = None) -> None:
        super().__init__(
            "New task" if task_id is None else "Task", draft=f"task_form {unit_id} {task_id or 'new'}"
        )
        self.unit_id = unit_id
        self.task_id = task_id

    def fields(self) -> Sequence[Field]:
        """All of a new task; the name and estimate of one that is there."""
        return (*of.name_and_estimate(), *(of.stage_and_marks() if self.task_id is None else ()))

    def read(self) -> Facts:
        """The stages, and the unit with its tasks."""
        from bench.views.shop import read_stages
        from bench.views.unit import read_unit

        return read_stages(self.desk), read_unit(self.desk, self.unit_id)

    def begin(self, facts: Facts) -> None:
        """A new task belongs where the unit stands; an old one is shown as it is."""
        stages, unit = facts
        if self.task_id is None:
            stage = self.field(of.STAGE)
            assert isinstance(stage, ChoiceField)
            stage.offer(of.stage_choices(stages))
            stage.start(str(unit.stage_id))
            return
        for task in unit.tasks:
            if task.task_id == self.task_id:
                self.field(of.NAME).start(task.name)
                self.field(of.ESTIMATE).start(str(task.estimate_minutes))

    def work(self) -> Callable[[], Any]:
        """Add the task, or rename it."""
        return self._add() if self.task_id is None else self._rename(self.task_id)

    def _add(self) -> Callable[[], Any]:
        desk, unit_id, stage_id = self.desk, self.unit_id, self.chosen(of.STAGE)
        name, estimate_text = self.value(of.NAME), self.value(of.ESTIMATE)
        unattended, lid_off, opens = (
            of.marked(self.field(one)) for one in (of.UNATTENDED, of.LID_OFF, of.OPENS)
        )
        hazard = self.value(of.HAZARD)

        def add() -> object:
            from bench.work.tasks import add_task

            return add_task(
                desk,
                unit_id,
                name=name,
                stage_id=stage_id,
                estimate_text=estimate_text,
                unattended=unattended,
                lid_off=lid_off,
                opens=opens,
                hazard=hazard,
            )

        return add

    def _rename(self, task_id: int) -> Callable[[], Any]:
        desk, name, estimate_text = self.desk, self.value(of.NAME), self.value(of.ESTIMATE)

        def rename() -> None:
            from bench.work.tasks import rename_task

            rename_task(desk, task_id, name=name, estimate_text=estimate_text)

        return rename
