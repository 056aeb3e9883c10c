"""What ends how long findings hold: the cover comes off, or a unit comes back from outside the shop."""

from __future__ import annotations

from sqlmodel import select

from bench.store.tables import Drive, Unit
from bench.work.change import Change


def cover_comes_off(made: Change, unit: Unit) -> None:
    """Take the cover off, if it is on; what was tested, read and graded before holds no longer."""
    if not unit.lid_off:
        unit.lid_off, unit.opened_us = 1, made.now_us


def comes_back(made: Change, unit: Unit) -> None:
    """Take a unit in that was outside the shop: neither what was found nor a wipe of its drives holds."""
    unit.back_us = made.now_us
    for drive in made.session.exec(select(Drive).where(Drive.unit_id == unit.id, Drive.removed == 0)):
        drive.outside_us = made.now_us
