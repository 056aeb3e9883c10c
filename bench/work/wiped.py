"""Which drives in a unit have no wipe that counts, and which stages that matters for."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from sqlmodel import Session, col, select

from bench.domain.wipe import counts, outside_until_us
from bench.store.tables import Drive, Purchase, Shop, Stage, Unit, Unwiped, Wipe


def is_wiped(session: Session, drive: Drive) -> bool:
    """Whether a drive's newest wipe passed its verification, and nobody outside had the drive since."""
    newest = session.exec(
        select(Wipe)
        .where(Wipe.drive_id == drive.id, Wipe.removed == 0)
        .order_by(col(Wipe.wiped_us).desc(), col(Wipe.id).desc())
        .limit(1)
    ).first()
    return newest is not None and wipe_counts(session, drive, newest)


def wipe_counts(session: Session, drive: Drive, wipe: Wipe) -> bool:
    """Whether that wipe of a drive counts as one."""
    came = session.get(Unit, drive.came_in_unit_id) if drive.came_in_unit_id is not None else None
    bought = select(Purchase.bought_on).where(Purchase.unit_id == drive.came_in_unit_id)
    bought_on = session.exec(bought).first() if came is not None else None
    until_us = outside_until_us(
        drive.outside_us,
        came.added_us if came is not None else None,
        date.fromisoformat(bought_on) if bought_on else None,
        session.exec(select(Shop.zone)).one(),
    )
    return counts(wipe.result, wipe.wiped_us, until_us)


def not_wiped(session: Session, unit_id: int | None) -> list[Drive]:
    """The drives in a unit without a wipe that counts."""
    drives = select(Drive).where(Drive.unit_id == unit_id, Drive.removed == 0).order_by(col(Drive.id))
    return [drive for drive in session.exec(drives) if not is_wiped(session, drive)]


def has_drive(session: Session, unit_id: int | None) -> bool:
    """Whether a drive is recorded in a unit."""
    drives = select(Drive.id).where(Drive.unit_id == unit_id, Drive.removed == 0).limit(1)
    return session.exec(drives).first() is not None


def reasons_of(session: Session, unit_id: int | None) -> list[Unwiped]:
    """What was said of a unit for listing it all the same, ended or not."""
    return list(session.exec(select(Unwiped).where(Unwiped.unit_id == unit_id, Unwiped.removed == 0)))


def is_listed(stages: Sequence[Stage], stage_id: int | None) -> bool:
    """Whether a unit at that stage is offered for sale or sold: from the first stage that lists on.

    A way out at which nothing is sold is neither.
    """
    first = next((at for at, stage in enumerate(stages) if stage.lists), len(stages))
    return any(
        stage.id == stage_id and (stage.lists or stage.sells or (at >= first and not stage.final))
        for at, stage in enumerate(stages)
    )
