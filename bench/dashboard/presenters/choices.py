"""Which task or timer a key means for the unit under the cursor."""

from __future__ import annotations

from dataclasses import dataclass

from bench.views.queue import QueueRow
from bench.views.tasks import TaskLine
from bench.views.timers import Running, chief


@dataclass(frozen=True, slots=True)
class Marked:
    """What is marked, for one act on all of it: the numbers, and how many of what in words."""

    ids: tuple[int, ...]
    words: str


def marked(ids: tuple[int, ...], one: str) -> Marked | None:
    """So many of that; None for none."""
    return Marked(ids, f"{len(ids)} {one}{'' if len(ids) == 1 else 's'}") if ids else None


def entry_to_stop(row: QueueRow, person_id: int) -> Running | None:
    """The timer that start/stop stops: one's own hands-on timer there, else the next task's, else any once
    no task is left to start."""
    own = [entry for entry in row.running if entry.attended and entry.person_id == person_id]
    of_next = [entry for entry in row.running if entry.task_id == row.next_task_id]
    left = row.running if row.next_task_id is None else ()
    return chief(own) or chief(of_next) or chief(left)


def entry_of_task(task: TaskLine, person_id: int) -> Running | None:
    """The timer that start/stop stops on one task: one's own; anyone's where nobody's hands are on it."""
    return chief(entry for entry in task.running if entry.person_id == person_id or not entry.attended)


def task_to_finish(row: QueueRow, person_id: int) -> int | None:
    """The task that done means: the one whose timer one would stop, else the unit's next."""
    entry = entry_to_stop(row, person_id)
    return row.next_task_id if entry is None else entry.task_id
