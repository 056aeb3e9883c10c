"""Where a calculator's result is put: on the unit, or on one of its tasks."""

from __future__ import annotations

from collections.abc import Sequence

from bench.dashboard.screens.dialogs.pick import Choosable, PickDialog

THE_UNIT = 0


class ChoosePlace(PickDialog):
    """Answers the number of the task chosen, or THE_UNIT."""

    send_label = "Put it there"

    def __init__(self, unit_id: int, tag: str, words: str) -> None:
        super().__init__(f"Put on {tag}: {words}")
        self.unit_id = unit_id
        self.tag = tag

    def read(self) -> Sequence[Choosable]:
        """The unit itself first, then the tasks it has to do."""
        from bench.views.unit import read_unit

        tasks = read_unit(self.desk, self.unit_id).tasks
        return [
            Choosable(THE_UNIT, f"Unit {self.tag} itself", now=True),
            *(Choosable(task.task_id, task.name) for task in tasks if task.state == "todo"),
        ]
