"""Rules of parts that move: units at hand, cost that a unit can bear to lose, drives that go along."""

from __future__ import annotations

from sqlmodel import col, select

from bench.domain.money import show_money
from bench.domain.text import quoted
from bench.domain.wipe import may_be_drive, serial_key
from bench.errors import BadInput, Refused, WhichDrive
from bench.store.engine import plain_connection
from bench.store.tables import Drive, Part, Stage, Unit
from bench.views.ledger import cost_left_minor
from bench.work.change import Change
from bench.work.drives import name_of, place_drive_within
from bench.work.gates import may_alter, no_bad_cell
from bench.work.lookups import shop_of


def at_hand(made: Change, unit_id: int) -> Unit:
    """The unit, if it is in the workshop and may be altered."""
    unit = made.get(Unit, unit_id, "unit")
    stage = made.get(Stage, unit.stage_id, "stage")
    if stage.final:
        raise Refused(
            f"Unit {unit.tag} has left ({stage.name}): no part or drive goes into it or comes out of it.",
            "Undo it first, or move it back to a stage.",
        )
    no_bad_cell(unit)
    may_alter(made, unit)
    return unit


NONE_OF_THEM = 0


def drive_in(
    made: Change, part: Part, drive_id: int | None, unit_id: int | None, *, field: str = "drive_id"
) -> int | None:
    """The drive that a part is which leaves a unit, or the shelf (None); None for no drive.

    That is the one named, else the one there that bears its serial number. `NONE_OF_THEM`: the person said
    that it is none of those on record. WhichDrive where a part may be a drive, drives are recorded where it
    comes from, and nothing was said. Refused where its serial number is that of a drive elsewhere.
    """
    if drive_id:
        return drive_id
    known = _drive_of_serial(made, part.serial)
    if known is not None:
        if known.unit_id != unit_id:
            raise Refused(
                f"The serial number {quoted(part.serial)} is that of the drive {name_of(known)}, "
                "which is recorded elsewhere.",
                "Read the label again, or move the drive's record first.",
            )
        return known.id
    if drive_id == NONE_OF_THEM or not may_be_drive(part.name):
        return None
    there = made.session.exec(
        select(Drive).where(Drive.unit_id == unit_id, Drive.removed == 0).order_by(col(Drive.id))
    ).all()
    if not there:
        return None
    drives = tuple((drive.id or 0, name_of(drive)) for drive in there)
    names = "; ".join(f"d{number} {name}" for number, name in drives)
    where = "on the shelf" if unit_id is None else f"in {made.get(Unit, unit_id, 'unit').tag}"
    raise WhichDrive(
        f"{part.name} may be one of the drives recorded {where}: {names}.",
        "Say which one moves, or that it is none of them.",
        field=field,
        drives=drives,
    )


def _drive_of_serial(made: Change, serial: str) -> Drive | None:
    key = serial_key(serial)
    if not key:
        return None
    drives = made.session.exec(select(Drive).where(Drive.removed == 0, Drive.serial != ""))
    return next((drive for drive in drives if serial_key(drive.serial) == key), None)


def move_along(
    made: Change, drive_id: int | None, from_unit_id: int | None, to_unit_id: int | None
) -> int | None:
    """Let the drive that a part is go where the part goes, its wipe record with it; answers its number."""
    if drive_id is None:
        return None
    drive = made.get(Drive, drive_id, "drive")
    if drive.unit_id != from_unit_id:
        where = "on the shelf" if from_unit_id is None else "in that unit"
        raise Refused(f"The drive {name_of(drive)} is not {where}.", "Choose one that is there.")
    place_drive_within(made, drive, to_unit_id)
    return drive_id


def two_units(a: Unit, b: Unit) -> None:
    """Pass, or raise BadInput where one unit was named twice."""
    if a.id == b.id:
        raise BadInput(f"Unit {a.tag} was named twice.", "Name two units.")


def bears(made: Change, unit: Unit, cost_minor: int) -> None:
    """Pass, or raise Refused: a part never carries more cost away than its unit has left."""
    assert unit.id is not None
    left = left_on(made, unit.id)
    if cost_minor > left:
        currency = shop_of(made.session).currency
        raise Refused(
            f"Unit {unit.tag} has {show_money(left, currency)} of cost left; "
            f"{show_money(cost_minor, currency)} cannot go from it.",
            "Give at most what is left.",
        )


def covers_parts_out(made: Change, unit: Unit) -> None:
    """Pass, or raise Refused where parts have carried more cost out of a unit than its price leaves."""
    assert unit.id is not None
    left = left_on(made, unit.id)
    if left < 0:
        currency = shop_of(made.session).currency
        raise Refused(
            f"Parts out of unit {unit.tag} have carried {show_money(-left, currency)} more away than "
            f"{show_money(unit.price_minor or 0, currency)} for it leaves.",
            "Give it at least what its parts took along, or lower the cost of those parts first.",
        )


def left_on(made: Change, unit_id: int) -> int:
    """The cost left on a unit as this transaction sees it, in minor units."""
    made.session.flush()
    return cost_left_minor(plain_connection(made.session), unit_id)
