"""Wipes are recorded and verified."""

from __future__ import annotations

from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.text import clean_line, clean_note
from bench.domain.typed import TypedFields, read_field
from bench.domain.weeks import local_day
from bench.domain.wipe import (
    FAILED,
    NOT_VERIFIED,
    check_method,
    check_result,
)
from bench.domain.wipe_techniques import check_technique
from bench.errors import BadInput, Refused
from bench.store.tables import Drive, Unit, Wipe
from bench.work.change import Change, change
from bench.work.drives import name_of
from bench.work.gates import may_alter, no_bad_cell
from bench.work.lookups import shop_of
from bench.work.turned_out import turned_out
from bench.work.typed_time import read_instant
from bench.work.wanting import wipe_counts


@dataclass(frozen=True, slots=True)
class WipeKept:
    """A wipe as it now stands. `counts`: whether the drive counts as wiped by it."""

    wipe_id: int
    drive_id: int
    drive: str
    unit_id: int | None
    method: str
    result: str
    counts: bool


def record_wipe(
    desk: Desk,
    drive_id: int,
    *,
    method: str,
    technique: str,
    tool: str = "",
    tool_version: str = "",
    at_text: str = "",
    title: str = "",
    location: str = "",
    contact: str = "",
    confidentiality_before: str = "",
    confidentiality_after: str = "",
    destination: str = "",
    note: str = "",
) -> WipeKept:
    """Record that the desk's person wiped a drive: method clear, purge or destroy, and the technique used.

    `at_text`: when it ended, empty for now. It counts once its verification passed.
    """
    with change(desk, "wipe") as made:
        drive = made.get(Drive, drive_id, "drive")
        fields = TypedFields()
        row = Wipe(
            drive_id=drive_id,
            method=fields.read("method", check_method, method.strip().casefold()),
            technique=fields.read("technique", _technique, technique, method, drive.media_type),
            tool=fields.read("tool", _line, tool, "The tool"),
            tool_version=fields.read("tool_version", _line, tool_version, "The tool's version"),
            confidentiality_before=fields.read(
                "confidentiality_before", _line, confidentiality_before, "The confidentiality before"
            ),
            confidentiality_after=fields.read(
                "confidentiality_after", _line, confidentiality_after, "The confidentiality after"
            ),
            destination=fields.read("destination", _line, destination, "The destination"),
            location=fields.read("location", _line, location, "The location"),
            title=fields.read("title", _line, title, "The title"),
            contact=fields.read("contact", _line, contact, "The contact"),
            person_id=desk.person_id,
            wiped_us=fields.read("at_text", _instant, made, at_text),
            result=NOT_VERIFIED,
            note=fields.read("note", clean_note, note, "The note"),
        )
        fields.check()
        _may_be_wiped(made, drive, row.wiped_us)
        made.add(row)
        words = f"Wiped the drive {name_of(drive)} ({row.method}: {row.technique}), not verified yet"
        words += turned_out(made, drive.unit_id)
        made.tells(words, unit_id=drive.unit_id)
        return _kept(made, row, drive)


def verify_wipe(
    desk: Desk,
    wipe_id: int,
    *,
    result: str,
    verification: str,
    title: str = "",
    location: str = "",
    contact: str = "",
    at_text: str = "",
) -> WipeKept:
    """Record how the desk's person verified a wipe, and its result: passed or failed. Failed never counts.

    Refused when it was verified already: a new wipe gets a new record.
    """
    with change(desk, "verify wipe") as made:
        row = made.get(Wipe, wipe_id, "wipe")
        drive = made.get(Drive, row.drive_id, "drive")
        if row.result != NOT_VERIFIED:
            raise Refused(
                f"That wipe of {name_of(drive)} was verified already: {row.result}.",
                "Wipe it again and record that, or undo the verification.",
            )
        fields = TypedFields()
        verified_us = fields.read("at_text", _after_wipe, made, row, at_text)
        row.result = fields.read("result", check_result, result.strip().casefold())
        row.verification = fields.read("verification", clean_line, verification, "The way it was verified")
        row.verified_by_id, row.verified_us = desk.person_id, verified_us
        row.verifier_title = fields.read("title", _line, title, "The title")
        row.verifier_location = fields.read("location", _line, location, "The location")
        row.verifier_contact = fields.read("contact", _line, contact, "The contact")
        fields.check()
        words = f"Verified the wipe of {name_of(drive)}: {row.result}{turned_out(made, drive.unit_id)}"
        made.tells(words, unit_id=drive.unit_id)
        return _kept(made, row, drive)


def remove_wipe(desk: Desk, wipe_id: int, reason: str) -> None:
    """Take a wipe off the records because it was recorded by mistake, with the reason. A failed one stays."""
    with change(desk, "remove wipe") as made:
        row = made.get(Wipe, wipe_id, "wipe")
        drive = made.get(Drive, row.drive_id, "drive")
        if row.result == FAILED:
            raise Refused(f"A failed wipe of {name_of(drive)} stays on record.", "Wipe it again.")
        why = read_field("reason", clean_line, reason, "The reason")
        row.removed = 1
        words = f"Took a wipe of {name_of(drive)} off the records{turned_out(made, drive.unit_id)}"
        made.tells(words, unit_id=drive.unit_id, reason=why)


def _may_be_wiped(made: Change, drive: Drive, wiped_us: int) -> None:
    """Pass, or raise Refused: no drive is within the waiting period of its unit or of the one it came in."""
    day = local_day(wiped_us, shop_of(made.session).zone)
    for unit_id in dict.fromkeys((drive.unit_id, drive.came_in_unit_id)):
        unit = made.session.get(Unit, unit_id) if unit_id is not None else None
        if unit is not None:
            no_bad_cell(unit)
            may_alter(made, unit, on=day)


def _kept(made: Change, row: Wipe, drive: Drive) -> WipeKept:
    assert row.id is not None
    return WipeKept(
        wipe_id=row.id,
        drive_id=row.drive_id,
        drive=name_of(drive),
        unit_id=drive.unit_id,
        method=row.method,
        result=row.result,
        counts=wipe_counts(made.session, drive, row),
    )


def _after_wipe(made: Change, row: Wipe, text: str) -> int:
    verified_us = _instant(made, text)
    if verified_us < row.wiped_us:
        raise BadInput("A wipe cannot be verified before it was done.", "Set the time right.")
    return verified_us


def _technique(technique: str, method: str, media_type: str) -> str:
    """The technique as typed, if it can do on that type of media what the method claims."""
    return check_technique(method.strip().casefold(), clean_line(technique, "The technique"), media_type)


def _instant(made: Change, text: str) -> int:
    if not text.strip():
        return made.now_us
    return read_instant(text, zone=shop_of(made.session).zone, now_us=made.now_us)


def _line(text: str, what: str) -> str:
    return clean_line(text, what, allow_empty=True)
