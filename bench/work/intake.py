"""A machine's own file is taken in: it makes a unit or fills one, with drives, readings, specification."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from sqlmodel import col, select

from bench.desk import Desk
from bench.domain.condition.fields import check_moment
from bench.domain.condition.reading_files import DriveSeen
from bench.domain.machine.machine_file import MachineFile, read_machine_file
from bench.domain.machine.sections import HOW, MOST_BYTES
from bench.domain.specification import (
    COLLECTOR,
    Specification,
    SpecificationChange,
    changes_between,
    filled_up,
)
from bench.domain.tags import read_tag
from bench.domain.text import quoted
from bench.domain.typed import read_field
from bench.domain.wipe import serial_key
from bench.errors import NotFound, Refused
from bench.store import tables
from bench.store.tables import Drive, Stage, Unit
from bench.work.change import Change, change
from bench.work.drives import drive_with_serial, name_of
from bench.work.known_already import reason_again, unit_serial
from bench.work.readings import ReadingAdded, bytes_of_file, drive_of, keep_reading, left_out, record_seen
from bench.work.specification import keep_within, newest_of
from bench.work.units import add_within

MODEL_NOT_TOLD = "model not told"


@dataclass(frozen=True, slots=True)
class TakenIn:
    """A machine's file that was taken in. `new_unit`: it made the unit.

    `first`: no specification was known before. `changes`: what differs from it. `told`: what else the
    person must know, the gravest first. `new_drives`: drives recorded with it, by name.
    """

    unit_id: int
    tag: str
    new_unit: bool
    specification_id: int
    machine: Specification
    first: bool
    changes: tuple[SpecificationChange, ...]
    readings: tuple[ReadingAdded, ...]
    new_drives: tuple[str, ...]
    told: tuple[str, ...]
    cell_finding: str | None = None


def take_in(
    desk: Desk,
    *,
    path: Path | None = None,
    data: bytes = b"",
    tag_text: str = "",
    route_id: int | None = None,
    moment: str = "before",
    again: str = "",
) -> TakenIn:
    """Take in the file that the collector left, given by its path or by its bytes: all of it, or nothing.

    The unit is the one with the tag; without a tag the one with the file's serial number that is here; else
    it is new, with the tasks of the route. `moment`: whether its readings are before or after the work.
    BadInput for what is no such file; Refused where it was taken in before, or is another machine's;
    KnownAlready where a unit with that serial number has left, unless `again` says why it is taken in.
    """
    whole = data if path is None else read_field("path", bytes_of_file, path, HOW, MOST_BYTES)
    file = read_field("path", read_machine_file, whole)
    check_moment(moment)
    digest = sha256(whole).hexdigest()
    with change(desk, "intake") as made:
        _taken_in_once(made, digest)
        unit = _unit_meant(made, file, tag_text)
        new_unit = unit is None
        if unit is None:
            unit = _made(made, file, route_id, again)
        told = [] if new_unit else [*_filled(unit, file)]
        told += [MODEL_NOT_TOLD.capitalize() + ": type it in."] if unit.model == MODEL_NOT_TOLD else []
        readings, new_drives, about_drives = _drives_and_readings(made, unit, file, moment)
        assert unit.id is not None
        before = newest_of(made, unit.id)
        known = filled_up(file.specification, before)
        told += [*about_drives, *file.told]
        row = keep_within(made, unit.id, known, COLLECTOR, digest, "\n".join(file.told))
        name = f"{unit.maker} {unit.model}".strip()
        words = (
            f"Added {unit.tag} {name} from its own file" if new_unit else f"Took in the file of {unit.tag}"
        )
        made.tells(words, unit_id=unit.id, reason=reason_again(again))
        assert row.id is not None
        return TakenIn(
            unit_id=unit.id,
            tag=unit.tag,
            new_unit=new_unit,
            specification_id=row.id,
            machine=known,
            first=before is None,
            changes=() if before is None else changes_between(before, known),
            readings=readings,
            new_drives=new_drives,
            told=tuple(told),
            cell_finding=unit.cell_finding,
        )


def _taken_in_once(made: Change, digest: str) -> None:
    statement = (
        select(Unit.tag)
        .join(tables.Specification, col(tables.Specification.unit_id) == Unit.id)
        .where(
            tables.Specification.file_digest == digest,
            col(tables.Specification.file_digest) != "",
            tables.Specification.removed == 0,
        )
    )
    tag = made.session.exec(statement).first()
    if tag is not None:
        raise Refused(
            f"This file was taken in already, for unit {tag}.",
            "Run the collector again on the machine, or undo the first time.",
            field="path",
        )


def _unit_meant(made: Change, file: MachineFile, tag_text: str) -> Unit | None:
    """The unit with the tag, else the one here with the file's serial number; None for a new one."""
    if tag_text.strip():
        tag = read_field("tag_text", read_tag, tag_text)
        unit = made.session.exec(select(Unit).where(Unit.tag == tag, Unit.removed == 0)).first()
        if unit is None:
            raise NotFound(
                f"No unit bears the tag {tag}.", "Look at the sticker, or add the unit.", field="tag_text"
            )
        if file.serial and unit.serial and serial_key(file.serial) != serial_key(unit.serial):
            raise Refused(
                f"The file is of machine {quoted(file.serial)}; unit {unit.tag} is {quoted(unit.serial)}.",
                "Look which machine it is, or set the unit's serial number right.",
                field="tag_text",
            )
        return unit
    if not serial_key(file.serial):
        return None
    alike = made.session.exec(
        select(Unit)
        .join(Stage, col(Stage.id) == Unit.stage_id)
        .where(
            unit_serial() == serial_key(file.serial),
            Unit.removed == 0,
            Stage.final == 0,
        )
        .order_by(col(Unit.id))
    ).all()
    if len(alike) > 1:
        raise Refused(
            f"Units {', '.join(unit.tag for unit in alike)} have the serial number {quoted(file.serial)}.",
            "Say which one it is by its tag.",
            field="tag_text",
        )
    return alike[0] if alike else None


def _made(made: Change, file: MachineFile, route_id: int | None, again: str) -> Unit:
    added = add_within(
        made,
        maker=file.maker,
        model=file.model or MODEL_NOT_TOLD,
        serial=file.serial,
        route_id=route_id,
        again=again,
    )
    return made.get(Unit, added.unit_id, "unit")


def _filled(unit: Unit, file: MachineFile) -> Iterator[str]:
    """Put what the machine says of itself where nothing stood; answers what it says otherwise."""
    if file.maker and not unit.maker:
        unit.maker = file.maker
    if file.serial and not unit.serial:
        unit.serial = file.serial
    if file.model and unit.model == MODEL_NOT_TOLD:
        unit.model = file.model
    elif file.model and file.model.casefold() not in f"{unit.maker} {unit.model}".casefold():
        yield f"The machine calls itself {quoted(file.model)}; it is kept as {quoted(unit.model)}."


def _drives_and_readings(
    made: Change, unit: Unit, file: MachineFile, moment: str
) -> tuple[tuple[ReadingAdded, ...], tuple[str, ...], tuple[str, ...]]:
    """Readings kept, drives recorded, and what was said of drives that are elsewhere, or not there."""
    told: list[str] = []
    added: list[str] = []
    there = _drives_in(made, unit)
    elsewhere = {seen.serial for seen in file.drives if _is_elsewhere(made, unit, seen, told)}
    readings = []
    for reading in file.readings:
        if reading.drive is None or reading.drive.serial not in elsewhere:
            drive = drive_of(made, unit, reading, None)
            readings.append(keep_reading(made, unit, reading, moment, left_out(reading), drive))
            if drive[0] is not None and drive[1]:
                added.append(name_of(drive[0]))
    for seen in file.drives:
        if seen.serial not in elsewhere and _is_new(made, unit, seen):
            added.append(name_of(record_seen(made, unit, seen)))
    told += [f"Recorded the drive {name}." for name in added]
    if file.drives_looked_for:
        told += _not_seen(there, file)
    return tuple(readings), tuple(added), tuple(told)


def _drives_in(made: Change, unit: Unit) -> list[Drive]:
    return list(made.session.exec(select(Drive).where(Drive.unit_id == unit.id, Drive.removed == 0)))


def _is_elsewhere(made: Change, unit: Unit, seen: DriveSeen, told: list[str]) -> bool:
    known = drive_with_serial(made, seen.serial) if seen.serial else None
    if known is None or known.unit_id == unit.id:
        return False
    other = made.session.get(Unit, known.unit_id) if known.unit_id is not None else None
    where = f"in unit {other.tag}" if other is not None else "on the shelf"
    told.append(
        f"The drive {name_of(known)} is in the machine but recorded {where}: move it, if that is so. "
        "Nothing of it was taken."
    )
    return True


def _is_new(made: Change, unit: Unit, seen: DriveSeen) -> bool:
    """Whether no drive on record is the one seen; one without serial number is told by model and size."""
    if not (seen.model or seen.serial):
        return False
    if seen.serial:
        return drive_with_serial(made, seen.serial) is None
    alike = {(drive.model, drive.size_bytes) for drive in _drives_in(made, unit)}
    return (seen.model, seen.size_bytes) not in alike


def _not_seen(there: list[Drive], file: MachineFile) -> Iterator[str]:
    serials = {serial_key(seen.serial) for seen in file.drives}
    for drive in there:
        if drive.serial and serial_key(drive.serial) not in serials:
            yield f"The drive {name_of(drive)} is on record here but was not seen in the machine."
