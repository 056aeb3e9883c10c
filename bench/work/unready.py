"""What must not be in a unit listed or sold: a drive without a wipe that counts, or none looked for."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Collection, Iterator
from dataclasses import dataclass

from bench.domain.holding import NO_DRIVE, WIPE, condition_of
from bench.domain.wipe import counts, outside_until_us
from bench.errors import ListingFirst, WipeFirst
from bench.store.engine import Store
from bench.views import listed as reads
from bench.views.listed import ListedDrive, ListedReason, ListedUnit


@dataclass(frozen=True, slots=True)
class Unready:
    """One drive without a wipe that counts, or (`drive_id` 0) that none is recorded, in a unit.

    `out`: the unit has left. `held`: it is on hold, so that it is not sold as it is.
    """

    unit_id: int
    drive_id: int
    out: bool
    held: bool
    tag: str
    name: str

    @property
    def key(self) -> tuple[int, int, bool]:
        """What is the same before and after a transaction."""
        return self.unit_id, self.drive_id, self.out

    def error(self) -> ListingFirst:
        """What is raised where a transaction would leave it so."""
        state = "has left the shop" if self.out else "is listed"
        if not self.drive_id:
            return ListingFirst(
                f"Unit {self.tag} {state} and no drive is recorded in it.",
                "Record the drive, or say that you looked and none is in it.",
                unit_id=self.unit_id,
                matters=(NO_DRIVE,),
            )
        return WipeFirst(
            f"Unit {self.tag} {state} and no passed wipe is recorded for its drive {self.name}.",
            "Record that it was wiped and verified, or type the reason for going on without.",
            unit_id=self.unit_id,
            matters=(WIPE,),
        )


def unready(connection: sqlite3.Connection, unit_ids: Collection[int]) -> Iterator[Unready]:
    """Everything of the kind that nobody has answered for, among these units."""
    listed = reads.units(connection, json.dumps(sorted(unit_ids)))
    if not listed:
        return
    numbers = json.dumps([unit.unit_id for unit in listed])
    drives, reasons = reads.drives(connection, numbers), reads.reasons(connection, numbers)
    for unit in listed:
        answered = _answered(unit, reasons[unit.unit_id])
        for drive_id, name in _wanting(drives[unit.unit_id], answered):
            yield Unready(unit.unit_id, drive_id, unit.out, unit.held, unit.tag, name)


def newly_unready(
    store: Store, connection: sqlite3.Connection, unit_ids: Collection[int], *, found: bool
) -> Iterator[Unready]:
    """What a transaction leaves so that was not so before it; a unit on hold waits and is passed over.

    `found`: it tells what turned out, so that what has left already is recorded as it is.
    """
    now = [one for one in unready(connection, unit_ids) if not (found if one.out else one.held)]
    if not now:
        return
    with store.read() as committed:
        before = {one.key for one in unready(committed, unit_ids) if one.out or not one.held}
    yield from (one for one in now if one.key not in before)


def standing(connection: sqlite3.Connection, unit_ids: Collection[int]) -> Iterator[Unready]:
    """What is so in the file now. Nobody was asked to look for a drive in what left long ago."""
    return (one for one in unready(connection, unit_ids) if (one.drive_id if one.out else not one.held))


def _wanting(drives: tuple[ListedDrive, ...], answered: frozenset[str]) -> Iterator[tuple[int, str]]:
    if not drives and NO_DRIVE not in answered:
        yield 0, ""
    for drive in drives if WIPE not in answered else ():
        until_us = outside_until_us(drive.outside_us, drive.came_us, drive.bought_on, drive.zone)
        if (
            drive.result is None
            or drive.wiped_us is None
            or not counts(drive.result, drive.wiped_us, until_us)
        ):
            yield drive.drive_id, drive.name


def _answered(unit: ListedUnit, reasons: tuple[ListedReason, ...]) -> frozenset[str]:
    held = condition_of(unit.opened_us, unit.back_us)
    return frozenset(
        matter for reason in reasons for matter in reason.covers if held.still_answers(matter, reason.at_us)
    )
