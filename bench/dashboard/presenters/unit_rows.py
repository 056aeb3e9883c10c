"""A unit opened, as rows: its tasks, what the task under the cursor took, and what is behind its figures."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from bench.dashboard.presenters.pieces import Line, Part, spread
from bench.dashboard.presenters.rows import Row, cell, heading, room, rows_of
from bench.domain.durations import hours_and_minutes
from bench.domain.money import show_money
from bench.domain.quantities import short_quantity
from bench.domain.timers import elapsed_us
from bench.views.columns import Table
from bench.views.entries import EntryLine
from bench.views.kinds import Context, context_of
from bench.views.tables.entries import length_words, span_words
from bench.views.tables.tasks import TASKS
from bench.views.tasks import TaskLine, Use
from bench.views.unit import UnitConsumables, UnitSheet

DETAIL = Table[Any](
    "detail",
    "The task's consumables and time",
    (room("", 18, grow=2), room("", 14, grow=1), room("", 16, right=True)),
)


def task_rows(unit: UnitSheet, now_us: int) -> tuple[Row, ...]:
    """The unit's tasks, each stage named above its own; the key of a task is its number."""
    rows: list[Row] = []
    context = context_of(unit, now_us)
    stage_id = None
    for task in unit.tasks:
        if task.stage_id != stage_id:
            stage_id = task.stage_id
            here = "  ◄ here" if stage_id == unit.stage_id else ""
            rows.append(heading(f"stage {stage_id}", f"{task.stage}{here}"))
        rows += rows_of(TASKS, (task,), context)
    return tuple(rows)


def first_task(unit: UnitSheet) -> int | None:
    """The task to begin with: one that runs, else the next one to do."""
    running = (task.task_id for task in unit.tasks if task.running)
    return next(running, next((task.task_id for task in unit.tasks if task.state == "todo"), None))


def detail_rows(task: TaskLine | None, entries: Iterable[EntryLine], context: Context) -> tuple[Row, ...]:
    """What the task takes and the time spent on it; keys are ("use" or "entry", number)."""
    if task is None:
        return ()
    rows = [heading("uses", f"{task.name}: takes{'' if task.uses else ' nothing'}"), *map(use_row, task.uses)]
    own = [entry for entry in entries if entry.task_id == task.task_id]
    rows.append(heading("entries", "Time" if own else "No time yet"))
    return (*rows, *(entry_row(entry, context) for entry in own))


def use_row(use: Use) -> Row:
    """A consumable that the task takes, and what is on hand."""
    short = use.on_hand < use.quantity
    left = f"{short_quantity(use.on_hand, use.base_unit)} on hand"
    return Row(
        ("use", use.consumable_id),
        (
            cell(use.name),
            cell(f"↓ {left}" if short else left, "alert" if short else "muted"),
            cell(short_quantity(use.quantity, use.base_unit)),
        ),
    )


def entry_row(entry: EntryLine, context: Context) -> Row:
    """A time entry: from when to when, whose, how long; * where it was corrected."""
    look = ""
    if entry.stopped_us is None:
        look = "running" if entry.attended else "waiting"
    return Row(
        ("entry", entry.entry_id),
        (
            cell(span_words(entry.started_us, entry.stopped_us, context)),
            cell(entry.person, "muted"),
            cell(length_words(entry, context.now_us), look),
        ),
    )


def entries_head(
    entries: Sequence[EntryLine], now_us: int, width: int, *, attended: bool
) -> tuple[Line, ...]:
    """What the rows add up to."""
    total = sum(elapsed_us(one.started_us, _stop(one, now_us)) for one in entries)
    tag = f" of {entries[0].tag}" if entries else ""
    name = f" Hands-on time{tag}" if attended else f" Machine time{tag}"
    return (spread((Part(name, "strong"),), (Part(f"{hours_and_minutes(total)} ", "heading"),), width),)


def consumables_head(materials: UnitConsumables, width: int) -> tuple[Line, ...]:
    """What the rows add up to."""
    total = show_money(-sum(line.cost_minor for line in materials.lines), materials.currency)
    name = Part(f" Consumables of {materials.tag}, oldest receipt first", "strong")
    return (spread((name,), (Part(f"{total} ", "heading"),), width),)


def _stop(entry: EntryLine, now_us: int) -> int:
    return now_us if entry.stopped_us is None else entry.stopped_us
