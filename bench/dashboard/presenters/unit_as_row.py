"""A unit opened, as the row it has in the queue: what acts on a row acts on it too."""

from __future__ import annotations

from bench.views.queue import QueueRow
from bench.views.unit import UnitSheet


def unit_as_row(unit: UnitSheet) -> QueueRow:
    """The row. What only the queue shows (overdue, short of stock) is left out."""
    todo = next((task for task in unit.tasks if task.state == "todo"), None)
    return QueueRow(
        unit_id=unit.unit_id,
        tag=unit.tag,
        model=f"{unit.maker} {unit.model}".strip(),
        stage_id=unit.stage_id,
        next_task_id=todo.task_id if todo else None,
        next_task=todo.name if todo else "",
        next_unattended=todo.unattended if todo else False,
        spent_us=unit.attended_us,
        estimate_minutes=sum(task.estimate_minutes for task in unit.tasks if not task.unattended),
        running=tuple(entry for task in unit.tasks for entry in task.running),
        held=unit.held,
        due_on=unit.due_on,
        overdue=False,
        battery_alarm=unit.safety.alarm,
        cell_finding=unit.safety.cell_finding,
        short_of=(),
    )
