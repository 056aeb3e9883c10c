"""Drives with their wipes as text and JSON."""

from __future__ import annotations

from bench.domain.condition.figures import shown
from bench.domain.localtime import day_and_time
from bench.reports.plain_tables import one_line, sections, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.views.drives import DriveLine, DriveSheet, WipeLine


def drives_text(sheet: DriveSheet) -> str:
    """A unit's drives, or the shelf's, and whether anything stands in the way of listing the unit."""
    title = f"Drives in {sheet.tag}, {sheet.model}" if sheet.unit_id is not None else "Drives on the shelf"
    return sections(
        one_line(title),
        *(_drive(drive, sheet.zone) for drive in sheet.drives),
        "" if sheet.drives else _none(sheet),
        _way(sheet),
    )


def drives_json(sheet: DriveSheet) -> str:
    """The same as a JSON document."""
    return json_text("drives", facts_of(sheet, sheet.zone))


def _drive(drive: DriveLine, zone: str) -> str:
    about = ", ".join(
        word
        for word in (
            drive.media_type,
            shown("size_bytes", drive.size_bytes) if drive.size_bytes else "",
            f"media number {drive.media_number}" if drive.media_number else "",
            f"from {drive.came_from}" if drive.came_from else "",
        )
        if word
    )
    lines = [wrapped(about, start=2, indent=4)] if about else []
    lines += [wrapped(_wipe(wipe, zone), start=2, indent=4) for wipe in drive.wipes]
    state = "wiped" if drive.wiped else f"NOT WIPED: {drive.standing}"
    return under(one_line(f"Drive {drive.drive_id}: {drive.name}, {state}"), "\n".join(lines)).rstrip()


def _none(sheet: DriveSheet) -> str:
    if sheet.looked is None:
        return "None recorded."
    seen = sheet.looked
    return wrapped(f"None in it: {seen.person} looked {day_and_time(seen.at_us, sheet.zone)}.", indent=2)


def _wipe(wipe: WipeLine, zone: str) -> str:
    tool = f" with {wipe.tool} {wipe.tool_version}".rstrip() if wipe.tool else ""
    done = f"{wipe.method}, {wipe.technique}{tool}, {wipe.person} {day_and_time(wipe.wiped_us, zone)}"
    if wipe.verified_us is None:
        return f"Wipe {wipe.wipe_id}: {done}; not verified"
    how = f"{wipe.verification}, {wipe.verifier} {day_and_time(wipe.verified_us, zone)}"
    return f"Wipe {wipe.wipe_id}: {done}; {wipe.result}: {how}"


def _way(sheet: DriveSheet) -> str:
    if sheet.unit_id is None or (sheet.may_be_listed and not sheet.not_wiped):
        return ""
    if not sheet.drives:
        return wrapped("It cannot be listed until its drive is recorded, or someone says that none is in it.")
    if sheet.unwiped is None:
        return wrapped("It cannot be listed until each drive has a passed wipe, or a reason is typed.")
    reason = sheet.unwiped
    when = day_and_time(reason.at_us, sheet.zone)
    return wrapped(f"May be listed without: {reason.reason} ({reason.person} {when})", indent=2)
