"""A unit opened, as rows: its tasks under their stages, and what the task under the cursor took."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from bench.dashboard.presenters.rows import Row, cell, heading, room
from bench.dashboard.presenters.times import chief, spent_of, ticking
from bench.domain.quantities import show_quantity
from bench.views.columns import Table
from bench.views.entries import EntryLine
from bench.views.tables.entries import length_words, span_words
from bench.views.tables.routes import takes_words
from bench.views.tasks import TaskLine, Use
from bench.views.unit import UnitSheet

TASKS = Table[Any](
    "tasks",
    "Tasks",
    (
        room("", 1),
        room("Task", 20, grow=3),
        room("Takes", 16, grow=2, from_width=86),
        room("Time", 17, right=True),
    ),
)
DETAIL = Table[Any](
    "detail",
    "The task's use and time",
    (room("", 18, grow=2), room("", 14, grow=1), room("", 16, right=True)),
)
MARKS = {"todo": "·", "done": "✓", "skipped": "×"}


def task_rows(unit: UnitSheet, now_us: int) -> tuple[Row, ...]:
    """The unit's tasks, each stage named above its own; the key of a task is its number."""
    rows: list[Row] = []
    stage_id = None
    for task in unit.tasks:
        if task.stage_id != stage_id:
            stage_id = task.stage_id
            here = "  ◄ here" if stage_id == unit.stage_id else ""
            rows.append(heading(f"stage {stage_id}", f"{task.stage}{here}"))
        rows.append(task_row(task, now_us))
    return tuple(rows)


def task_row(task: TaskLine, now_us: int) -> Row:
    """One task: its mark, name, what it takes, and the time it runs or took."""
    entry = chief(task.running)
    look = "" if task.state == "todo" else "muted"
    name, takes = cell(_name(task), look), cell(takes_words(task.uses), "muted")
    if entry is not None:
        look = "running" if entry.attended else "waiting"
        return Row(task.task_id, (cell("►", look), name, takes, cell(ticking(entry, now_us), look)))
    mark = cell(MARKS[task.state], "good" if task.state == "done" else "muted")
    mark = mark if task.holds else cell("!", "alert")
    time = "skipped" if task.state == "skipped" else spent_of(task.spent_us, task.estimate_minutes)
    time = time if task.holds else "do again"
    return Row(task.task_id, (mark, name, takes, cell(time, "muted")))


def first_task(unit: UnitSheet) -> int | None:
    """The task to begin with: one that runs, else the next one to do."""
    running = (task.task_id for task in unit.tasks if task.running)
    return next(running, next((task.task_id for task in unit.tasks if task.state == "todo"), None))


def detail_rows(
    task: TaskLine | None, entries: Iterable[EntryLine], zone: str, now_us: int
) -> tuple[Row, ...]:
    """What the task takes and the time spent on it; keys are ("use" or "entry", number)."""
    if task is None:
        return ()
    rows = [heading("uses", f"{task.name}: takes{'' if task.uses else ' nothing'}"), *map(use_row, task.uses)]
    own = [entry for entry in entries if entry.task_id == task.task_id]
    rows.append(heading("entries", "Time" if own else "No time yet"))
    return (*rows, *(entry_row(entry, zone, now_us) for entry in own))


def use_row(use: Use) -> Row:
    """A consumable that the task takes, and what is on hand."""
    short = use.on_hand < use.quantity
    left = f"{show_quantity(use.on_hand, use.base_unit)} there"
    return Row(
        ("use", use.consumable_id),
        (
            cell(use.name),
            cell(f"↓ {left}" if short else left, "alert" if short else "muted"),
            cell(show_quantity(use.quantity, use.base_unit)),
        ),
    )


def entry_row(entry: EntryLine, zone: str, now_us: int) -> Row:
    """A time entry: from when to when, whose, how long; * where it was corrected."""
    look = ""
    if entry.stopped_us is None:
        look = "running" if entry.attended else "waiting"
    return Row(
        ("entry", entry.entry_id),
        (
            cell(span_words(entry.started_us, entry.stopped_us, zone)),
            cell(entry.person, "muted"),
            cell(length_words(entry, now_us), look),
        ),
    )


def _name(task: TaskLine) -> str:
    marks = [
        mark
        for mark, there in (("cover off", task.lid_off), ("unattended", task.unattended))
        if there and task.state == "todo"
    ]
    if task.skip_reason:
        marks.append(task.skip_reason)
    marks += [f"waits for {', '.join(task.awaits)}"] if task.awaits else []
    return f"{task.name} ({', '.join(marks)})" if marks else task.name
