"""The units in the queue as a table."""

from __future__ import annotations

from bench.domain.durations import MINUTE_US, hours_and_minutes
from bench.domain.timers import elapsed_us
from bench.views.columns import Column, Table
from bench.views.kinds import DAY, LENGTH, Context, Kind
from bench.views.queue import QueueRow


def spent_us(row: QueueRow, now_us: int) -> int:
    """The hands-on time that a unit took, what still runs counted until now."""
    running = sum(elapsed_us(timer.started_us, now_us) for timer in row.running if timer.attended)
    return row.spent_us + running


def _spent(row: QueueRow, context: Context) -> str:
    return hours_and_minutes(spent_us(row, context.now_us))


SPENT = Kind(_spent, order=lambda row: row.spent_us)

QUEUE = Table[QueueRow](
    "queue",
    "Queue",
    (
        Column("Unit", "tag", width=6),
        Column("Model", "model", width=10, grow=2),
        Column("Next task", "next_task", width=12, grow=2),
        Column("Spent", lambda row: row, SPENT),
        Column("Of", lambda row: row.estimate_minutes * MINUTE_US, LENGTH),
        Column("Due", "due_on", DAY, from_width=70),
    ),
    key="unit_id",
    empty="The queue is empty.",
)
