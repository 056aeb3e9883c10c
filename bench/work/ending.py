"""What ends how long findings hold: the cover comes off, or a unit comes back from outside the shop."""

from __future__ import annotations

from sqlmodel import select

from bench.domain.safety import CLOSE_UP
from bench.store.tables import Drive, Unit
from bench.work.change import Change
from bench.work.lookups import ticks_of


def cover_comes_off(made: Change, unit: Unit) -> None:
    """Take the cover off, if it is on; what was tested, read, graded or ticked before holds no longer."""
    if not unit.lid_off:
        unit.lid_off, unit.opened_us = 1, made.now_us
        closing_expires(made, unit)


def closing_expires(made: Change, unit: Unit) -> None:
    """Take off what was ticked for closing before the machine was opened, or its battery came out again."""
    for row in ticks_of(made.session, unit, CLOSE_UP).values():
        made.session.delete(row)


def comes_back(made: Change, unit: Unit) -> None:
    """Take a unit in that was outside the shop: neither what was found nor a wipe of its drives holds."""
    unit.back_us = made.now_us
    for drive in made.session.exec(select(Drive).where(Drive.unit_id == unit.id, Drive.removed == 0)):
        drive.outside_us = made.now_us
