"""What the certificate of a drive's wipe says."""

from __future__ import annotations

from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.amounts import Instant
from bench.domain.wipe import PASSED
from bench.errors import NotFound, Refused
from bench.views.binder import value
from bench.views.drives import DriveLine, WipeLine, drive_of
from bench.views.shop import facts


@dataclass(frozen=True, slots=True)
class Certificate:
    """A drive with one passed wipe, as certified by the shop on the day it was printed."""

    drive: DriveLine
    wipe: WipeLine
    shop: str
    zone: str
    issued_us: Instant


_DRIVE_OF_WIPE = "SELECT drive_id FROM wipe WHERE id = :wipe_id AND removed = 0"


def read_certificate(desk: Desk, wipe_id: int) -> Certificate:
    """What the certificate of a wipe says. Refused unless its verification passed."""
    now_us = desk.clock.now_us()
    with desk.store.read() as connection:
        drive = drive_of(connection, value(connection, _DRIVE_OF_WIPE, wipe_id=wipe_id))
        shop = facts(connection)
    if drive is None:
        raise NotFound(
            f"There is no wipe with number {wipe_id}.", "Look it up again; it may have been removed."
        )
    wipe = next(one for one in drive.wipes if one.wipe_id == wipe_id)
    if wipe.result != PASSED:
        raise Refused(
            f"That wipe of {drive.name} is {wipe.result}: there is nothing to certify.",
            "Record a verification that passed first.",
        )
    if not drive.counts(wipe):
        raise Refused(
            f"Someone outside the shop had {drive.name} after that wipe: it certifies nothing any more.",
            "Wipe it again and record that.",
        )
    return Certificate(drive, wipe, shop.name, shop.zone, now_us)
