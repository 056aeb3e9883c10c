"""Drives in a unit or on the shelf, their wipes, and what was said for going without one."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from dataclasses import dataclass, replace
from datetime import date

from bench.desk import Desk
from bench.domain.amounts import Instant
from bench.domain.holding import MATTERS, NO_DRIVE, WIPE
from bench.domain.wipe import ENDED, PASSED, counts, outside_until_us
from bench.errors import NotFound
from bench.views.binder import Query, shared
from bench.views.particulars import Particulars, particulars
from bench.views.shop import facts


@dataclass(frozen=True, slots=True)
class WipeLine:
    """One sanitization of a drive and its verification."""

    wipe_id: int
    drive_id: int
    method: str
    technique: str
    tool: str
    tool_version: str
    confidentiality_before: str
    confidentiality_after: str
    destination: str
    person: str
    title: str
    location: str
    contact: str
    wiped_us: Instant
    verification: str
    result: str
    verifier: str
    verifier_title: str
    verifier_location: str
    verifier_contact: str
    verified_us: Instant | None
    note: str


@dataclass(frozen=True, slots=True)
class DriveKept:
    """What is kept of a drive. `unit_id` None: on the shelf."""

    drive_id: int
    unit_id: int | None
    tag: str
    maker: str
    model: str
    serial: str
    media_type: str
    media_number: str
    size_bytes: int | None
    came_from: str


@dataclass(frozen=True, slots=True)
class DriveLine(DriveKept):
    """A drive and its wipes, the newest first.

    `outside_until_us`: until when someone outside the shop had it, 0 where nobody is known to have had it.
    """

    wipes: tuple[WipeLine, ...]
    outside_until_us: Instant = 0

    @property
    def name(self) -> str:
        """The drive in one line: maker, model and serial number, else its own number."""
        return " ".join(word for word in (self.maker, self.model, self.serial) if word) or (
            f"drive {self.drive_id}"
        )

    @property
    def wiped(self) -> bool:
        """Whether its newest wipe counts: an earlier pass does not outlive a later failure."""
        return bool(self.wipes) and self.counts(self.wipes[0])

    @property
    def standing(self) -> str:
        """How it stands, in a few words."""
        if not self.wipes:
            return "no wipe record"
        newest = self.wipes[0]
        ended = newest.result == PASSED and not self.counts(newest)
        return ENDED if ended else f"{newest.method}, {newest.result}"

    def counts(self, wipe: WipeLine) -> bool:
        """Whether a wipe of it counts as one."""
        return counts(wipe.result, wipe.wiped_us, self.outside_until_us)


@dataclass(frozen=True, slots=True)
class UnwipedReason:
    """Why a unit may be listed without something, or who looked into it. `covers`: of `holding.MATTERS`."""

    reason: str
    person: str
    at_us: Instant
    covers: tuple[str, ...] = (WIPE,)

    @property
    def matters(self) -> str:
        """What it covers, in words."""
        return ", ".join(MATTERS[one] for one in self.covers)


@dataclass(frozen=True, slots=True)
class DriveSheet:
    """The drives in a unit, or (`unit_id` None) on the shelf.

    `unwiped`: a typed reason for going without a wipe, if one stands. `looked`: who found no drive in it.
    """

    unit_id: int | None
    tag: str
    model: str
    drives: tuple[DriveLine, ...]
    unwiped: UnwipedReason | None
    zone: str
    looked: UnwipedReason | None = None

    @property
    def not_wiped(self) -> tuple[DriveLine, ...]:
        """The drives without a passed record."""
        return tuple(drive for drive in self.drives if not drive.wiped)

    @property
    def may_be_listed(self) -> bool:
        """Whether nothing about its drives stands in the way of listing the unit."""
        if not self.drives:
            return self.looked is not None
        return not self.not_wiped or self.unwiped is not None


@dataclass(frozen=True, slots=True)
class _Drive(DriveKept):
    """A drive as its row tells it. `outside_us`, `came_us`, `bought_on`: see `domain.wipe`."""

    outside_us: Instant | None
    came_us: Instant | None
    bought_on: date | None
    zone: str


_DRIVE = """
SELECT drive.id AS drive_id, drive.unit_id, COALESCE(unit.tag, '') AS tag, drive.maker, drive.model,
       drive.serial, drive.media_type, drive.media_number, drive.size_bytes, drive.came_from,
       drive.outside_us, came.added_us AS came_us, purchase.bought_on, shop.zone
FROM drive CROSS JOIN shop LEFT JOIN unit ON unit.id = drive.unit_id
LEFT JOIN unit AS came ON came.id = drive.came_in_unit_id
LEFT JOIN purchase ON purchase.unit_id = drive.came_in_unit_id
"""

_DRIVES = Query(_Drive, _DRIVE + "WHERE drive.unit_id IS :unit_id AND drive.removed = 0 ORDER BY drive.id")

_ONE = Query(_Drive, _DRIVE + "WHERE drive.id = :drive_id AND drive.removed = 0")

# Which wipe is the newest: bench/work/wiped.py asks for the same order.
_WIPE = """
SELECT wipe.id AS wipe_id, wipe.drive_id, wipe.method, wipe.technique, wipe.tool, wipe.tool_version,
       wipe.confidentiality_before, wipe.confidentiality_after, wipe.destination, person.name AS person,
       wipe.title, wipe.location, wipe.contact, wipe.wiped_us, wipe.verification, wipe.result,
       COALESCE(verifier.name, '') AS verifier, wipe.verifier_title, wipe.verifier_location,
       wipe.verifier_contact, wipe.verified_us, wipe.note
FROM wipe JOIN person ON person.id = wipe.person_id
LEFT JOIN person AS verifier ON verifier.id = wipe.verified_by_id
{which} AND wipe.removed = 0 ORDER BY wipe.wiped_us DESC, wipe.id DESC
"""

_WIPES_OF_ONE = Query(WipeLine, _WIPE.replace("{which}", "WHERE wipe.drive_id = :drive_id"))

_WIPES = Query(
    WipeLine,
    _WIPE.replace(
        "{which}",
        "JOIN drive ON drive.id = wipe.drive_id WHERE drive.unit_id IS :unit_id AND drive.removed = 0",
    ),
)

_REASONS = Query(
    UnwipedReason,
    """
SELECT unwiped.reason, person.name AS person, unwiped.at_us, unwiped.covers
FROM unwiped JOIN person ON person.id = unwiped.person_id
WHERE unwiped.unit_id = :unit_id AND unwiped.removed = 0 ORDER BY unwiped.id DESC
""",
    covers=lambda matters: tuple(matters.split()),
)


def read_drives(desk: Desk, unit_id: int | None) -> DriveSheet:
    """The drives in a unit, or on the shelf (None), with their wipes. NotFound when there is no such unit."""
    with desk.store.read() as connection:
        return drives_in(connection, unit_id)


def read_drive(desk: Desk, drive_id: int) -> DriveLine:
    """One drive with its wipes, wherever it is. NotFound when there is no such drive."""
    with desk.store.read() as connection:
        drive = drive_of(connection, drive_id)
    if drive is None:
        raise NotFound(
            f"There is no drive with number {drive_id}.", "Look it up again; it may have been removed."
        )
    return drive


def drives_in(connection: sqlite3.Connection, unit_id: int | None) -> DriveSheet:
    """A unit's drives within a snapshot that other reads share."""
    unit = particulars(connection, unit_id) if unit_id is not None else None
    reasons = reasons_of(connection, unit) if unit is not None else ()
    wipes: defaultdict[int, tuple[WipeLine, ...]] = defaultdict(tuple)
    for wipe in _WIPES.each(connection, unit_id=unit_id):
        wipes[wipe.drive_id] += (wipe,)
    drives = _DRIVES.each(connection, unit_id=unit_id)
    return DriveSheet(
        unit_id=unit_id,
        tag=unit.tag if unit else "",
        model=unit.name if unit else "",
        drives=tuple(_line(drive, wipes[drive.drive_id]) for drive in drives),
        unwiped=next((one for one in reasons if WIPE in one.covers), None),
        zone=facts(connection).zone,
        looked=next((one for one in reasons if NO_DRIVE in one.covers), None),
    )


def drive_of(connection: sqlite3.Connection, drive_id: int | None) -> DriveLine | None:
    """One drive with its wipes, within a snapshot that other reads share; None for none."""
    drive = _ONE.first(connection, drive_id=drive_id)
    return _line(drive, _WIPES_OF_ONE.all(connection, drive_id=drive_id)) if drive is not None else None


def reasons_of(connection: sqlite3.Connection, unit: Particulars) -> tuple[UnwipedReason, ...]:
    """The reasons of a unit that still answer, the newest first, each with what it still covers."""
    held = unit.condition
    found = (
        replace(said, covers=tuple(one for one in said.covers if held.still_answers(one, said.at_us)))
        for said in _REASONS.each(connection, unit_id=unit.unit_id)
    )
    return tuple(reason for reason in found if reason.covers)


def _line(drive: _Drive, wipes: tuple[WipeLine, ...]) -> DriveLine:
    until_us = outside_until_us(drive.outside_us, drive.came_us, drive.bought_on, drive.zone)
    return DriveLine(**shared(DriveKept, drive), wipes=wipes, outside_until_us=until_us)
