"""A task that needs a part waits until it is here, or goes on for a reason; all else of the unit goes on."""

from __future__ import annotations

from datetime import date

from sqlmodel import Session, col, select

from bench.domain.orders import ARRIVED, CANCELLED, ORDERED
from bench.domain.text import clean_line, task_on
from bench.domain.typed import read_field
from bench.errors import PartAwaited
from bench.store.tables import PartsOrder, Task, TaskWait, Unit


def go_without(anyway: str) -> str:
    """The reason typed for going on without the part; empty for none."""
    return read_field("anyway", clean_line, anyway, "The reason for going on without it", allow_empty=True)


def parts_here(session: Session, unit: Unit, task: Task, anyway: str = "") -> str:
    """Pass, or raise PartAwaited, naming what the task still waits for, where no reason was typed.

    Answers the reason, which is kept with each wait that it ends.
    """
    awaited = session.exec(
        select(TaskWait, PartsOrder)
        .join(PartsOrder, col(PartsOrder.id) == col(TaskWait.order_id))
        .where(
            TaskWait.task_id == task.id,
            TaskWait.removed == 0,
            TaskWait.waived == "",
            col(PartsOrder.state).not_in((ARRIVED, CANCELLED)),
        )
        .order_by(col(TaskWait.id))
    ).all()
    if not awaited:
        return ""
    why = go_without(anyway)
    if not why:
        names = "; ".join(_words(order) for _, order in awaited)
        raise PartAwaited(
            f"{task_on(task.name, unit.tag)} waits for {names}.",
            "Take the part in when it is here, or type why the task goes on without it.",
        )
    for wait, _ in awaited:
        wait.waived = why
    return why


def _words(order: PartsOrder) -> str:
    """What is waited for and how it stands."""
    if order.state == ORDERED and order.due_on:
        day = date.fromisoformat(order.due_on)
        return f"{order.what} (ordered, due {day})"
    return f"{order.what} ({order.state})"
