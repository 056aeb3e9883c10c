"""What a calculator found out, recorded on the unit it was for."""

from __future__ import annotations

from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.text import clean_line, clean_note
from bench.errors import BadInput
from bench.store.tables import Task, Unit
from bench.work.change import Change, change
from bench.work.lookups import today


@dataclass(frozen=True, slots=True)
class ResultPut:
    """The line that now stands last on the unit's note."""

    unit_id: int
    tag: str
    line: str


def put_result(desk: Desk, unit_id: int, task_id: int | None, words: str) -> ResultPut:
    """Add a dated line to the unit's note, with the task it is for where one is named.

    BadInput for a line that cannot be kept, a task of another unit, or a note that is full.
    """
    with change(desk, "put result") as made:
        unit = made.get(Unit, unit_id, "unit")
        found = clean_line(words, "The result", longest=1000)
        line = f"{today(made).isoformat()} {_task_name(made, unit, task_id)}{found}"
        unit.note = clean_note(f"{unit.note}\n{line}", "The note")
        made.tells(f"Noted on {unit.tag}: {found}", unit_id=unit_id)
        return ResultPut(unit_id, unit.tag, line)


def _task_name(made: Change, unit: Unit, task_id: int | None) -> str:
    if task_id is None:
        return ""
    task = made.get(Task, task_id, "task")
    if task.unit_id != unit.id:
        raise BadInput(f"{task.name} is not a task of {unit.tag}.", "Choose one of its own tasks.")
    return f"({task.name}) "
