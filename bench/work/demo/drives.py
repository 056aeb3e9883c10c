"""The demo's drives and their wipes as rows, and what was listed without one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from bench.domain.holding import NO_DRIVE
from bench.domain.tags import tag_from_number
from bench.domain.wipe import NOT_VERIFIED
from bench.store.demo_trade import DemoDrive
from bench.store.tables import Drive, Unwiped, Wipe
from bench.work.demo.ground import Ground, Line
from bench.work.demo.story import Moment, Moments
from bench.work.waivers import LOOKED

LOOKED_OVER = "look over"
WIPED_AT = "wipe the drive, keep the record"
READ_AFTER = "readings after"
LISTED_AT = "listed"
GIGABYTE = 10**9


@dataclass
class DriveRows:
    """Drives, numbered in the order of the file, their wipes, and the journal's lines about them."""

    drives: list[Drive] = field(default_factory=list)
    wipes: list[Wipe] = field(default_factory=list)
    unwiped: list[Unwiped] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)

    def numbers(self) -> dict[str, int]:
        """The number of each drive by its serial number."""
        return {drive.serial: number for number, drive in enumerate(self.drives, start=1)}

    def in_unit(self, unit_id: int, moment: str, came_with: dict[int, int]) -> int | None:
        """The drive that was in a unit before the work, or is in it after: its number."""
        if moment == "before":
            return came_with.get(unit_id)
        there = [number for number, drive in enumerate(self.drives, start=1) if drive.unit_id == unit_id]
        return there[0] if there else None


def drive_rows(ground: Ground, moments: Moments) -> DriveRows:
    """Rows of all drives and wipes."""
    rows = DriveRows()
    for drive_id, one in enumerate(ground.demo.trade.drives, start=1):
        rows.drives.append(_drive(ground, moments, one, drive_id))
        rows.lines.append(_recorded(ground, moments, one))
        if one.way:
            wipe, lines = _wipe(ground, moments, one, drive_id)
            rows.wipes.append(wipe)
            rows.lines += lines
    rows.wipes.sort(key=lambda wipe: wipe.wiped_us)
    _looked_into(ground, moments, rows)
    for number, reason in ground.demo.trade.unwiped.items():
        moment, unit_id = moments.ended_one_of(number, READ_AFTER), ground.unit_ids[number]
        person_id = ground.people[moment.who]
        rows.unwiped.append(Unwiped(unit_id=unit_id, person_id=person_id, at_us=moment.at_us, reason=reason))
        words = f"Let {tag_from_number(number)} be listed without a passed wipe"
        rows.lines.append(Line(moment.at_us, moment.who, "list without wipe", words, unit_id, reason))
    return rows


def _looked_into(ground: Ground, moments: Moments, rows: DriveRows) -> None:
    """What is said of units without a drive that stand where units are listed or have left."""
    with_drive = {one.now_in for one in ground.demo.trade.drives if one.now_in}
    stages = list(ground.stages)
    for unit in ground.demo.units:
        if unit.number in with_drive or stages.index(unit.stage) < stages.index(LISTED_AT):
            continue
        moment, unit_id = moments.came(unit.number), ground.unit_ids[unit.number]
        person_id = ground.people[moment.who]
        rows.unwiped.append(
            Unwiped(unit_id=unit_id, person_id=person_id, at_us=moment.at_us, reason=LOOKED, covers=NO_DRIVE)
        )
        words = f"Looked into {tag_from_number(unit.number)}: no drive in it"
        rows.lines.append(Line(moment.at_us, moment.who, "no drive", words, unit_id))


def _drive(ground: Ground, moments: Moments, one: DemoDrive, drive_id: int) -> Drive:
    place, came_back = one.now_in, ground.demo.trade.comebacks
    back = moments.back(place) if place is not None and place in came_back else None
    return Drive(
        id=drive_id,
        unit_id=ground.unit_ids[one.now_in] if one.now_in else None,
        maker=one.maker,
        model=one.model,
        serial=one.serial,
        media_type=one.media_type,
        media_number=one.media_number,
        size_bytes=one.gb * GIGABYTE if one.gb else None,
        outside_us=back.at_us if back is not None else None,
        came_in_unit_id=ground.unit_ids[one.came_with] if one.came_with else None,
        came_from=f"unit {tag_from_number(one.came_with)}" if one.came_with else "bought new",
    )


def _recorded(ground: Ground, moments: Moments, one: DemoDrive) -> Line:
    if one.came_with:
        moment = moments.ended_one_of(one.came_with, LOOKED_OVER)
        where, unit_id = f"in {tag_from_number(one.came_with)}", ground.unit_ids[one.came_with]
        return Line(
            moment.at_us, moment.who, "add drive", f"Recorded the drive {_name(one)} {where}", unit_id
        )
    moment = _bought_for(ground, moments, one)
    return Line(moment.began_us, moment.who, "add drive", f"Recorded the drive {_name(one)} on the shelf")


def _bought_for(ground: Ground, moments: Moments, one: DemoDrive) -> Moment:
    """When a drive that was bought was fitted."""
    part = next(part for part in ground.demo.trade.parts if part.drive == one.serial)
    return moments.ended(part.to_unit or 0, part.at)


def _wipe(ground: Ground, moments: Moments, one: DemoDrive, drive_id: int) -> tuple[Wipe, list[Line]]:
    if one.came_with:
        done = moments.ended(one.came_with, WIPED_AT)
        wiped_us = done.at_us
        seen = moments.after(one.came_with, wiped_us) if one.result != NOT_VERIFIED else None
    else:
        done = _bought_for(ground, moments, one)
        wiped_us, seen = done.began_us, done
    way = ground.demo.trade.ways[one.way]
    titles = {person.name: person.title for person in ground.demo.people}
    wipe = Wipe(
        drive_id=drive_id,
        person_id=ground.people[done.who],
        wiped_us=wiped_us,
        result=one.result,
        verification=one.verification,
        location=ground.demo.name,
        title=titles[done.who],
        destination=_destination(one),
        note=one.note,
        method=way["method"],
        technique=way["technique"],
        tool=way["tool"],
        tool_version=way["tool_version"],
        confidentiality_before=way["confidentiality_before"],
        confidentiality_after=way["confidentiality_after"],
    )
    if seen is not None:
        wipe.verified_by_id, wipe.verified_us = ground.people[seen.who], seen.at_us
        wipe.verifier_title, wipe.verifier_location = titles[seen.who], ground.demo.name
    unit_id = ground.unit_ids[one.came_with] if one.came_with else None
    return wipe, list(_wipe_lines(one, wipe, done.who, seen, unit_id))


def _wipe_lines(
    one: DemoDrive, wipe: Wipe, who: str, seen: Moment | None, unit_id: int | None
) -> Iterator[Line]:
    words = f"Wiped the drive {_name(one)} ({wipe.method}: {wipe.technique}), not verified yet"
    yield Line(wipe.wiped_us, who, "wipe", words, unit_id)
    if seen is not None:
        words = f"Verified the wipe of {_name(one)}: {wipe.result}"
        yield Line(seen.at_us, seen.who, "verify wipe", words, unit_id)


def _destination(one: DemoDrive) -> str:
    if one.result == "failed":
        return "recycler"
    return "sold in the unit" if one.now_in else "reused in the shop"


def _name(one: DemoDrive) -> str:
    return f"{one.maker} {one.model} {one.serial}"
