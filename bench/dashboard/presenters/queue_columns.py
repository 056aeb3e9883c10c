"""How wide each column of the queue is, for the room there is."""

from __future__ import annotations

from dataclasses import dataclass

GAP = 2
TAG_LEAST = 5
TIME = 9
SPENT = 11
FLAGS_LEAST = 12
NAME_LEAST = 10
ROOMY = 96
NAME_MOST = 40


@dataclass(frozen=True, slots=True)
class QueueColumns:
    """Cells for each column; `spent` is 0 where time runs and time spent share the one column `time`."""

    tag: int
    model: int
    task: int
    time: int
    spent: int
    flags: int

    @property
    def time_at(self) -> int:
        """The cell at which the ticking column begins."""
        return self.tag + self.model + self.task + 3 * GAP


def queue_columns(width: int, longest_tag: int = 5) -> QueueColumns:
    """The columns for a queue `width` cells wide: names share what is left, flags get a part of it."""
    tag = max(TAG_LEAST, longest_tag)
    roomy = width >= ROOMY
    time = TIME if roomy else SPENT
    spent = SPENT if roomy else 0
    gaps = GAP * (5 if roomy else 4)
    left = max(width - tag - time - spent - gaps, 2 * NAME_LEAST + FLAGS_LEAST)
    flags = max(FLAGS_LEAST, left // 4)
    model = min((left - flags) // 2, NAME_MOST)
    task = min(left - flags - model, NAME_MOST)
    return QueueColumns(tag, model, task, time, spent, left - model - task)
