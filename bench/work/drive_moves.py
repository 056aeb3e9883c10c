"""Drives move as the parts they are: between units and the shelf, each move with the cost that goes along."""

from __future__ import annotations

from collections.abc import Mapping

from sqlmodel import col, select

from bench.desk import Desk
from bench.domain.money import read_money, show_money
from bench.domain.typed import read_field
from bench.errors import BadInput, Refused
from bench.store.tables import Drive, Part
from bench.work.change import Change, change, together
from bench.work.components import identify
from bench.work.drives import add_drive, name_of, place_drive_within, remove_drive
from bench.work.lookups import shop_of
from bench.work.part_rules import at_hand, bears


def move_drive(desk: Desk, drive_id: int, to_unit_id: int | None, *, cost_text: str = "") -> None:
    """Put a drive into another unit, or on the shelf (None), as the part it is. Its wipes go along.

    `cost_text`: the cost that it carries, 0 for none; a drive that lies on the shelf as a part carries what
    lies there with it, and nothing need be typed. WipeFirst when the other unit is listed already and the
    drive has no wipe that counts; Refused as for any part.
    """
    with change(desk, "move drive") as made:
        drive = made.get(Drive, drive_id, "drive")
        if drive.unit_id == to_unit_id:
            raise Refused(f"The drive {name_of(drive)} is there already.", "Choose another place.")
        giver = at_hand(made, drive.unit_id) if drive.unit_id is not None else None
        if to_unit_id is not None:
            at_hand(made, to_unit_id)
        part = _part_on_the_shelf(made, drive) if giver is None else None
        if part is None:
            part = _new_part(made, drive, to_unit_id, cost_text)
            if giver is not None:
                bears(made, giver, part.cost_minor)
            identify(made, part)
            made.add(part)
        elif part.from_unit_id == to_unit_id:
            part.removed = 1  # back into the unit it came out of: it was never taken
        else:
            part.to_unit_id, part.at_us = to_unit_id, made.now_us
        where = place_drive_within(made, drive, to_unit_id)
        cost = show_money(part.cost_minor, shop_of(made.session).currency)
        made.tells(f"Moved the drive {name_of(drive)} {where}, {cost}", unit_id=to_unit_id)


def arrange_drives(
    desk: Desk,
    unit_id: int | None,
    *,
    remove_id: int | None = None,
    reason: str = "",
    move_id: int | None = None,
    cost_text: str = "",
    new: Mapping[str, str] | None = None,
) -> None:
    """Take a drive off the records, put one into a unit (None: on the shelf), record one there: all or none.

    `cost_text`: what the one that moves carries. `new`: the one to record, as `add_drive` takes it.
    """
    with together(desk) as joint:
        if remove_id is not None:
            remove_drive(joint, remove_id, reason)
        if move_id is not None:
            move_drive(joint, move_id, unit_id, cost_text=cost_text)
        if new is not None:
            add_drive(joint, unit_id, **new)


def _part_on_the_shelf(made: Change, drive: Drive) -> Part | None:
    statement = select(Part).where(
        Part.drive_id == drive.id, col(Part.to_unit_id).is_(None), Part.removed == 0
    )
    return made.session.exec(statement.order_by(col(Part.id).desc())).first()


def _new_part(made: Change, drive: Drive, to_unit_id: int | None, cost_text: str) -> Part:
    if not cost_text.strip():
        raise BadInput(
            f"The cost that the drive {name_of(drive)} carries is empty.",
            "Type 0 if it carries none.",
            field="cost_text",
        )
    return Part(
        name=drive.media_type or "drive",
        serial=drive.serial,
        cost_minor=read_field("cost_text", read_money, cost_text, shop_of(made.session).currency),
        at_us=made.now_us,
        person_id=made.desk.person_id,
        from_unit_id=drive.unit_id,
        to_unit_id=to_unit_id,
        drive_id=drive.id,
    )
