"""The tasks of one unit as lines: what is done, what runs, what is still to do."""

from __future__ import annotations

from dataclasses import dataclass

from bench.dashboard.presenters.pieces import Line, Part, fit
from bench.domain.durations import spent_of
from bench.views.tasks import MARKS, TaskLine
from bench.views.timers import chief, ticking
from bench.views.unit import UnitSheet

TIME = 11


@dataclass(frozen=True, slots=True)
class StageHead:
    """The stage above its tasks; `here`: the unit stands at it."""

    name: str
    here: bool


def task_rows(sheet: UnitSheet | None) -> tuple[StageHead | TaskLine, ...]:
    """A unit's tasks under the stages they belong to."""
    rows: list[StageHead | TaskLine] = []
    stage_id = None
    for task in sheet.tasks if sheet else ():
        if task.stage_id != stage_id:
            stage_id = task.stage_id
            rows.append(StageHead(task.stage, here=sheet is not None and stage_id == sheet.stage_id))
        rows.append(task)
    return tuple(rows)


def task_line(task: TaskLine, width: int, now_us: int) -> Line:
    """One task: its mark, its name, and the time it runs or took."""
    entry = chief(task.running)
    name = Part(fit(task.name + (" (machine time)" if task.unattended else ""), width - TIME - 3))
    if entry is not None:
        look = "running" if entry.attended else "waiting"
        return (Part("► ", look), name, Part(" "), Part(fit(ticking(entry, now_us), TIME, right=True), look))
    time = spent_of(task.spent_us, task.estimate_minutes) if task.state != "skipped" else "skipped"
    mark = Part(f"{MARKS[task.state]} ", "good" if task.state == "done" else "muted")
    mark = Part("… ", "waiting") if task.awaits else mark
    mark = Part("↩ ", "waiting") if task.left_by else mark
    look = "" if task.state == "todo" else "muted"
    return (mark, Part(name.text, look), Part(" "), Part(fit(time, TIME, right=True), "muted"))


def stage_head_line(head: StageHead, width: int) -> Line:
    """A stage's heading among the tasks."""
    return (Part(fit(head.name + ("  ◄ here" if head.here else ""), width), "heading"),)
