"""Which drive a reading is of: the one named, the one a file tells of, or the only one in the unit."""

from __future__ import annotations

from sqlmodel import select

from bench.domain.condition.reading_files import DriveSeen, FileReading
from bench.domain.text import quoted
from bench.errors import BadInput, Refused
from bench.store.tables import Drive, Unit
from bench.work.change import Change
from bench.work.drives import add_drive_within, drive_with_serial, name_of


def drive_of(
    made: Change, unit: Unit, reading: FileReading, drive_id: int | None
) -> tuple[Drive | None, bool]:
    """The drive a reading is of, and whether it was recorded just now.

    `drive_id` says which; else the serial number a file tells; else the unit's only drive, or none.
    Refused when the drive is recorded elsewhere.
    """
    if reading.subject != "drive":
        if drive_id is not None:
            raise BadInput(f"A reading of {reading.subject} is of no drive.", "Leave the drive away.")
        return None, False
    if drive_id is not None:
        return _named_drive(made, unit, reading.drive, drive_id), False
    if reading.drive is not None and reading.drive.serial:
        return _seen_drive(made, unit, reading.drive)
    drives = select(Drive).where(Drive.unit_id == unit.id, Drive.removed == 0)
    there = list(made.session.exec(drives))
    return (there[0] if len(there) == 1 else None), False


def _named_drive(made: Change, unit: Unit, seen: DriveSeen | None, drive_id: int) -> Drive:
    drive = made.get(Drive, drive_id, "drive")
    if drive.unit_id != unit.id:
        raise Refused(f"The drive {name_of(drive)} is not in unit {unit.tag}.", "Move it there first.")
    if seen is not None and seen.serial and drive.serial and seen.serial != drive.serial:
        raise Refused(
            f"The file is of the drive {quoted(seen.serial)}, not of {name_of(drive)}.",
            "Choose the right one.",
        )
    return drive


def _seen_drive(made: Change, unit: Unit, seen: DriveSeen) -> tuple[Drive, bool]:
    known = drive_with_serial(made, seen.serial)
    if known is None:
        drive = Drive(
            unit_id=unit.id,
            maker=seen.maker,
            model=seen.model,
            serial=seen.serial,
            media_type=seen.media_type,
            size_bytes=seen.size_bytes,
        )
        add_drive_within(made, drive)
        return drive, True
    if known.unit_id != unit.id:
        other = made.session.get(Unit, known.unit_id) if known.unit_id is not None else None
        where = f"in unit {other.tag}" if other is not None else "on the shelf"
        raise Refused(
            f"The drive {quoted(seen.serial)} of the file is recorded {where}, not in {unit.tag}.",
            "Move it here first, or choose the right unit.",
        )
    return known, False
