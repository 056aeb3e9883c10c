"""Which drives in a unit have no passed wipe record, and which stages that matters for."""

from __future__ import annotations

from collections.abc import Sequence

from sqlmodel import Session, col, select

from bench.domain.wipe import PASSED
from bench.store.tables import Drive, Stage, Unwiped, Wipe

LISTING_STAGE = "listed"


def is_wiped(session: Session, drive_id: int | None) -> bool:
    """Whether a drive's newest wipe passed its verification."""
    newest = (
        select(Wipe.result)
        .where(Wipe.drive_id == drive_id, Wipe.removed == 0)
        .order_by(col(Wipe.wiped_us).desc(), col(Wipe.id).desc())
        .limit(1)
    )
    return session.exec(newest).first() == PASSED


def not_wiped(session: Session, unit_id: int | None) -> list[Drive]:
    """The drives in a unit without a passed record."""
    drives = select(Drive).where(Drive.unit_id == unit_id, Drive.removed == 0).order_by(col(Drive.id))
    return [drive for drive in session.exec(drives) if not is_wiped(session, drive.id)]


def reasons_of(session: Session, unit_id: int | None) -> list[Unwiped]:
    """The reasons typed for listing a unit all the same."""
    return list(session.exec(select(Unwiped).where(Unwiped.unit_id == unit_id, Unwiped.removed == 0)))


def listing_begins_at(stages: Sequence[Stage]) -> int:
    """From which place in the order a unit counts as listed: the stage so named, else the last not final."""
    named = [at for at, stage in enumerate(stages) if stage.name.casefold() == LISTING_STAGE]
    return (named or [at for at, stage in enumerate(stages) if not stage.final][-1:] or [len(stages)])[0]


def is_listed(stages: Sequence[Stage], stage_id: int | None) -> bool:
    """Whether a unit at that stage is listed or beyond."""
    return any(stage.id == stage_id for stage in stages[listing_begins_at(stages) :])
