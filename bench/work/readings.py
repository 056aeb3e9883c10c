"""Readings are taken: typed in, or read from a file that was made on the unit itself."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sqlmodel import select

from bench.desk import Desk
from bench.domain.condition.fields import YES, check_moment, read_fields, subject_named
from bench.domain.condition.reading_files import (
    HOW,
    MOST_BYTES,
    SOURCES,
    TYPED,
    DriveSeen,
    FileReading,
    read_file,
)
from bench.domain.condition.verdicts import Verdict, verdicts
from bench.domain.safety import AFTER_A_BAD_CELL, FINDINGS
from bench.domain.text import clean_line, clean_note, quoted
from bench.domain.typed import read_field
from bench.errors import BadInput, Refused
from bench.store.tables import Drive, Reading, Unit
from bench.work.change import Change, change
from bench.work.drives import add_drive_within, drive_with_serial, name_of
from bench.work.safety import stop_for_cell

SWOLLEN = "swollen"


@dataclass(frozen=True, slots=True)
class ReadingAdded:
    """A reading that was taken. `told`: what else the person must know, the gravest first.

    `cell_finding`: set when the reading stopped work on the unit. `drive_id`: the drive it is of;
    `new_drive`: whether that drive was recorded with it.
    """

    reading_id: int
    unit_id: int
    tag: str
    subject: str
    moment: str
    verdicts: tuple[Verdict, ...]
    told: tuple[str, ...]
    cell_finding: str | None = None
    drive_id: int | None = None
    new_drive: bool = False


def add_reading(
    desk: Desk,
    unit_id: int,
    *,
    moment: str,
    subject: str,
    fields: Mapping[str, str],
    note: str = "",
    drive_id: int | None = None,
) -> ReadingAdded:
    """Take a reading typed in by the fields of `domain.condition.fields.SUBJECTS`; moment: before or after.

    Swelling seen also stops work on the unit, in the same step. A drive's reading is of the unit's only
    drive unless `drive_id` names one. BadInput for what cannot be read.
    """
    chosen = subject_named(subject)
    figures = read_fields(chosen, fields)
    with change(desk, "reading") as made:
        unit = made.get(Unit, unit_id, "unit")
        reading = FileReading(chosen.name, TYPED, figures)
        drive = drive_of(made, unit, reading, drive_id)
        added = keep_reading(made, unit, reading, check_moment(moment), clean_note(note, "The note"), drive)
        made.tells(f"Read {chosen.label.casefold()} of {unit.tag} {moment} the work", unit_id=unit_id)
        return added


def read_reading_file(
    desk: Desk,
    unit_id: int,
    *,
    moment: str,
    path: Path | None = None,
    data: bytes = b"",
    kind: str | None = None,
    drive_id: int | None = None,
) -> tuple[ReadingAdded, ...]:
    """Take the readings a file from the unit holds, given by its path or by its bytes: all of them or none.

    `kind`: power_supply, nvme_log or smartctl; None to tell by the content. A drive that smartctl names is
    recorded in the unit if it is new. BadInput, one sentence, for a file that cannot be read; Refused when
    the drive is recorded in another unit.
    """
    readings = read_field(
        "path", lambda: read_file(data if path is None else bytes_of_file(path, HOW, MOST_BYTES), kind)
    )
    check_moment(moment)
    with change(desk, "reading") as made:
        unit = made.get(Unit, unit_id, "unit")
        added = []
        for reading in readings:
            drive = drive_of(made, unit, reading, drive_id)
            added.append(keep_reading(made, unit, reading, moment, left_out(reading), drive))
        what = SOURCES[readings[0].source]
        made.tells(f"Read {what} of {unit.tag} {moment} the work", unit_id=unit_id)
        return tuple(added)


def left_out(reading: FileReading) -> str:
    """The note on what a file held that cannot be; empty where there was nothing."""
    return f"Left out of the file: {'; '.join(reading.doubts)}." if reading.doubts else ""


def remove_reading(desk: Desk, reading_id: int, reason: str) -> None:
    """Take a reading off the records, with the reason; it stays in the file. A bad cell stays reported."""
    with change(desk, "remove reading") as made:
        reading = made.get(Reading, reading_id, "reading")
        unit = made.get(Unit, reading.unit_id, "unit")
        why = read_field("reason", clean_line, reason, "The reason")
        reading.removed = 1
        made.tells(f"Took a reading of {reading.subject} off {unit.tag}", unit_id=unit.id, reason=why)


def keep_reading(
    made: Change, unit: Unit, reading: FileReading, moment: str, note: str, drive: tuple[Drive | None, bool]
) -> ReadingAdded:
    """Keep a reading inside a transaction that may do more."""
    assert unit.id is not None
    row = made.add(
        Reading(
            unit_id=unit.id,
            drive_id=drive[0].id if drive[0] else None,
            moment=moment,
            subject=reading.subject,
            source=reading.source,
            figures=_json(reading.figures),
            note=note,
            at_us=made.now_us,
            person_id=made.desk.person_id,
        )
    )
    assert row.id is not None
    told = [note] if reading.doubts else []
    if drive[0] is not None and drive[1]:
        told.append(f"Recorded the drive {name_of(drive[0])} in {unit.tag}.")
    finding = None
    if reading.figures.get("swelling") == YES:
        finding = _stop(made, unit)
        told = [f"Unit {unit.tag} is on hold: {FINDINGS[finding]}.", *AFTER_A_BAD_CELL, *told]
    return ReadingAdded(
        reading_id=row.id,
        unit_id=unit.id,
        tag=unit.tag,
        subject=reading.subject,
        moment=moment,
        verdicts=verdicts(reading.subject, reading.figures),
        told=tuple(told),
        cell_finding=finding,
        drive_id=row.drive_id,
        new_drive=drive[1],
    )


def _stop(made: Change, unit: Unit) -> str:
    if unit.cell_finding is None:
        stop_for_cell(made, unit, SWOLLEN)
    assert unit.cell_finding is not None
    return unit.cell_finding


def bytes_of_file(path: Path, how: str, most: int) -> bytes:
    """What the file holds, and one byte more where it is larger than `most`. BadInput, of the field path."""
    try:
        if not path.is_file():
            raise BadInput(f"{path} is not a file.", how, field="path")
        with path.open("rb") as file:
            return file.read(most + 1)
    except OSError as error:
        why = f"{path} cannot be read ({error.strerror})."
        raise BadInput(why, "Look at its name and at who may read it.", field="path") from error


def _json(figures: Mapping[str, Any]) -> str:
    return json.dumps(dict(figures), ensure_ascii=False, allow_nan=False)


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


def record_seen(made: Change, unit: Unit, seen: DriveSeen) -> Drive:
    """A drive that is on no record yet, as a file tells of it, in the unit."""
    drive = Drive(
        unit_id=unit.id,
        maker=seen.maker,
        model=seen.model,
        serial=seen.serial,
        media_type=seen.media_type,
        size_bytes=seen.size_bytes,
    )
    add_drive_within(made, drive)
    return drive


def _seen_drive(made: Change, unit: Unit, seen: DriveSeen) -> tuple[Drive, bool]:
    known = drive_with_serial(made, seen.serial)
    if known is None:
        return record_seen(made, unit, seen), True
    if known.unit_id != unit.id:
        other = made.session.get(Unit, known.unit_id) if known.unit_id is not None else None
        where = f"in unit {other.tag}" if other is not None else "on the shelf"
        raise Refused(
            f"The drive {quoted(seen.serial)} of the file is recorded {where}, not in {unit.tag}.",
            "Move it here first, or choose the right unit.",
        )
    return known, False
