"""Drives come in, are corrected, move between units and the shelf, and leave."""

from __future__ import annotations

from sqlmodel import select

from bench.desk import Desk
from bench.domain.calculators.shape import Given, read_given
from bench.domain.holding import NO_DRIVE, WIPE
from bench.domain.text import clean_line, quoted
from bench.domain.typed import TypedFields, read_field
from bench.errors import BadInput, WipeFirst
from bench.store.tables import Drive, Unit
from bench.work.change import Change, change
from bench.work.gates import no_bad_cell
from bench.work.lookups import stages_in_order
from bench.work.turned_out import turned_out
from bench.work.wanting import is_listed, is_wiped, reasons_of

SIZE = Given("size", "The size", "GB", 0.001, 1_000_000)
GIGABYTE = 10**9


def add_drive(
    desk: Desk,
    unit_id: int | None,
    *,
    maker: str = "",
    model: str = "",
    serial: str = "",
    media_type: str = "",
    media_number: str = "",
    size_text: str = "",
    came_from: str = "",
) -> int:
    """Record a drive that is in a unit, or on the shelf (None); answers its number.

    A unit that is listed already gets it too: what is in it is recorded, and the unit waits for its wipe.
    BadInput for a serial number that another drive has, or when neither model nor serial number is given.
    """
    with change(desk, "add drive") as made:
        unit = made.get(Unit, unit_id, "unit") if unit_id is not None else None
        drive = Drive(unit_id=unit_id)
        _fill(made, drive, maker, model, serial, media_type, media_number, size_text, came_from)
        then = add_drive_within(made, drive)
        where = f"in {unit.tag}" if unit else "on the shelf"
        made.tells(f"Recorded the drive {name_of(drive)} {where}{then}", unit_id=unit_id)
        assert drive.id is not None
        return drive.id


def edit_drive(
    desk: Desk,
    drive_id: int,
    *,
    maker: str,
    model: str,
    serial: str,
    media_type: str,
    media_number: str,
    size_text: str,
    came_from: str,
) -> None:
    """Set a drive's particulars right; what is typed replaces what was."""
    with change(desk, "edit drive") as made:
        drive = made.get(Drive, drive_id, "drive")
        _fill(made, drive, maker, model, serial, media_type, media_number, size_text, came_from)
        made.tells(f"Edited the drive {name_of(drive)}", unit_id=drive.unit_id)


def remove_drive(desk: Desk, drive_id: int, reason: str) -> None:
    """Take a drive off the records because it left the shop or was never there, with the reason."""
    with change(desk, "remove drive") as made:
        drive = made.get(Drive, drive_id, "drive")
        why = read_field("reason", clean_line, reason, "The reason")
        drive.removed = 1
        then = turned_out(made, drive.unit_id, none_left=f"{name_of(drive)} off the records: {why}")
        made.tells(
            f"Took the drive {name_of(drive)} off the records{then}", unit_id=drive.unit_id, reason=why
        )


def add_drive_within(made: Change, drive: Drive) -> str:
    """Store a new drive inside another use case; answers what that did to its unit, for the journal.

    One that is found in a unit came in it, and was outside as long as the unit was.
    """
    if drive.unit_id is not None:
        drive.came_in_unit_id = drive.unit_id
        drive.outside_us = made.get(Unit, drive.unit_id, "unit").back_us
    made.add(drive)
    _forget_reasons(made, drive, drive.unit_id)
    return turned_out(made, drive.unit_id)


def place_drive_within(made: Change, drive: Drive, to_unit_id: int | None) -> str:
    """Move a drive inside another use case, by the same rules; answers where to, in words."""
    from_unit_id = drive.unit_id
    if from_unit_id is not None:
        no_bad_cell(made.get(Unit, from_unit_id, "unit"))
    if to_unit_id is None:
        drive.unit_id = None
        return "to the shelf" + _taken_out(made, drive, from_unit_id)
    unit = made.get(Unit, to_unit_id, "unit")
    no_bad_cell(unit)
    if is_listed(stages_in_order(made.session), unit.stage_id) and not is_wiped(made.session, drive):
        raise WipeFirst(
            f"Unit {unit.tag} is listed and the drive {name_of(drive)} has no passed wipe record.",
            "Wipe it and verify that first.",
            unit_id=to_unit_id,
        )
    drive.unit_id = to_unit_id
    _forget_reasons(made, drive, to_unit_id)
    return f"into {unit.tag}" + _taken_out(made, drive, from_unit_id)


def _taken_out(made: Change, drive: Drive, from_unit_id: int | None) -> str:
    return turned_out(made, from_unit_id, none_left=f"{name_of(drive)} was taken out")


def name_of(drive: Drive) -> str:
    """A drive in one line: maker, model and serial number, else its own number."""
    return " ".join(word for word in (drive.maker, drive.model, drive.serial) if word) or f"drive {drive.id}"


def drive_with_serial(made: Change, serial: str) -> Drive | None:
    """The drive that bears a serial number."""
    statement = select(Drive).where(Drive.serial == serial, Drive.removed == 0)
    return made.session.exec(statement).first()


def _forget_reasons(made: Change, drive: Drive, unit_id: int | None) -> None:
    """A reason for going without covers the drives that were there when it was typed, and no later one.

    That none was seen in it is past with the first that comes in, wiped or not.
    """
    past = {NO_DRIVE} if unit_id is None or is_wiped(made.session, drive) else {NO_DRIVE, WIPE}
    for reason in reasons_of(made.session, unit_id):
        kept = [one for one in reason.covers.split() if one not in past]
        if not kept:
            reason.removed = 1
        else:
            reason.covers = " ".join(kept)


def _fill(
    made: Change,
    drive: Drive,
    maker: str,
    model: str,
    serial: str,
    media_type: str,
    media_number: str,
    size_text: str,
    came_from: str,
) -> None:
    fields, size = TypedFields(), size_text.strip()
    drive.maker = fields.read("maker", clean_line, maker, "The maker", allow_empty=True)
    drive.model = fields.read("model", clean_line, model, "The model", allow_empty=True)
    drive.serial = fields.read("serial", clean_line, serial, "The serial number", allow_empty=True)
    drive.media_type = fields.read("media_type", clean_line, media_type, "The media type", allow_empty=True)
    drive.media_number = fields.read(
        "media_number", clean_line, media_number, "The media number", allow_empty=True
    )
    drive.came_from = fields.read("came_from", clean_line, came_from, "Where it came from", allow_empty=True)
    drive.size_bytes = fields.read("size_text", _bytes_typed, size) if size else None
    fields.check()
    if not (drive.model or drive.serial):
        raise BadInput(
            "The drive has neither model nor serial number.",
            "Type one of them, off its label.",
            field="model",
        )
    with made.session.no_autoflush:
        other = drive_with_serial(made, drive.serial) if drive.serial else None
    if other is not None and other.id != drive.id:
        raise BadInput(
            f"The serial number {quoted(drive.serial)} is another drive's already.",
            "Move that one, or read the label again.",
            field="serial",
        )


def _bytes_typed(text: str) -> int:
    return round(read_given(SIZE, text).value * GIGABYTE)
