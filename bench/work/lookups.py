"""What several use cases look up inside their transaction: the shop, its zone, a unit's ticks."""

from __future__ import annotations

from datetime import date

from sqlmodel import Session, col, select

from bench.domain.weeks import local_day
from bench.errors import NotFound
from bench.store.tables import SafetyCheck, Shop, Stage, Task, TimeEntry, Unit
from bench.work.change import Change


def shop_of(session: Session) -> Shop:
    """The shop's one row of settings."""
    shop = session.get(Shop, 1)
    if shop is None:
        raise NotFound("The data file has no shop in it.", "Restore it from a backup.")
    return shop


def today(made: Change) -> date:
    """The day it is in the shop's zone."""
    return local_day(made.now_us, shop_of(made.session).zone)


def ticks_of(session: Session, unit: Unit, which: str) -> dict[str, SafetyCheck]:
    """What is ticked of a unit's list since its cover was last on, by item."""
    rows = session.exec(
        select(SafetyCheck).where(
            SafetyCheck.unit_id == unit.id, SafetyCheck.lid_count == unit.lid_count, SafetyCheck.list == which
        )
    )
    return {row.item: row for row in rows}


def open_entries(session: Session, unit_id: int | None) -> list[TimeEntry]:
    """A unit's entries that still run, oldest first."""
    return list(
        session.exec(
            select(TimeEntry)
            .join(Task, col(Task.id) == TimeEntry.task_id)
            .where(Task.unit_id == unit_id, col(TimeEntry.stopped_us).is_(None))
            .order_by(col(TimeEntry.started_us))
        )
    )


def stages_in_order(session: Session) -> list[Stage]:
    """The shop's stages as units pass them."""
    return list(
        session.exec(select(Stage).where(Stage.removed == 0).order_by(col(Stage.position), col(Stage.id)))
    )


def tasks_in_order(session: Session, unit_id: int | None) -> list[Task]:
    """A unit's tasks in the order in which they come up."""
    statement = (
        select(Task)
        .join(Stage, col(Stage.id) == Task.stage_id)
        .where(Task.unit_id == unit_id, Task.removed == 0)
        .order_by(col(Stage.position), col(Task.position), col(Task.id))
    )
    return list(session.exec(statement))
