"""The tasks of the unit under the cursor, beside the queue where there is room."""

from __future__ import annotations

from bench.dashboard.presenters.pieces import Line, Part
from bench.dashboard.presenters.task_lines import StageHead, stage_head_line, task_line, task_rows
from bench.dashboard.widgets.line_list import LineList
from bench.views.tasks import TaskLine
from bench.views.unit import UnitSheet


class TasksPanel(LineList[StageHead | TaskLine]):
    """One unit's tasks; Enter or a double click starts or stops one."""

    BORDER_TITLE = "Tasks"

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self.now_us = 0
        self._unit_id: int | None = None

    @property
    def task_line(self) -> TaskLine | None:
        """The task under the cursor."""
        return self.current if isinstance(self.current, TaskLine) else None

    def show_sheet(self, sheet: UnitSheet | None) -> None:
        """Show a unit's tasks: the cursor on its next task, or where it was if the unit is the same."""
        rows = task_rows(sheet)
        unit_id = sheet.unit_id if sheet else None
        self.border_subtitle = sheet.tag if sheet else ""
        kept = self.task_line if unit_id == self._unit_id else None
        self._unit_id = unit_id
        index = _index_of(rows, kept.task_id) if kept else _next(rows)
        self.show(rows, index)

    def tick(self, now_us: int) -> None:
        """Draw again the lines of tasks that run and say something else now."""
        before_us, self.now_us, width = self.now_us, now_us, self.line_width - 2
        for index in self.visible_range:
            item = self.items[index]
            if not isinstance(item, TaskLine) or not item.running:
                continue
            if task_line(item, width, before_us) != task_line(item, width, now_us):
                self.refresh_line(index)

    def line_of(self, item: StageHead | TaskLine, width: int) -> Line:
        """A heading or a task as parts."""
        if isinstance(item, StageHead):
            return stage_head_line(item, width - 2)
        return task_line(item, width - 2, self.now_us)

    def stops_at(self, item: StageHead | TaskLine) -> bool:
        """The cursor skips headings."""
        return isinstance(item, TaskLine)

    def when_empty(self) -> Line:
        """What to say when there is no task."""
        return (Part(" No tasks.", "muted"),)


def _index_of(rows: tuple[StageHead | TaskLine, ...], task_id: int) -> int:
    found = (at for at, row in enumerate(rows) if isinstance(row, TaskLine) and row.task_id == task_id)
    return next(found, _next(rows))


def _next(rows: tuple[StageHead | TaskLine, ...]) -> int:
    tasks = [(at, row) for at, row in enumerate(rows) if isinstance(row, TaskLine)]
    return next((at for at, row in tasks if row.state == "todo"), tasks[0][0] if tasks else -1)
