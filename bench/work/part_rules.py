"""Rules of parts that move: units at hand, cost that a unit can bear to lose, drives that go along."""

from __future__ import annotations

from sqlmodel import select

from bench.domain.money import show_money
from bench.errors import BadInput, Refused
from bench.store.driver import plain_connection
from bench.store.reads.lots import cost_left
from bench.store.tables import Drive, Stage, Unit
from bench.work.change import Change
from bench.work.drives import name_of, place_drive_within
from bench.work.gates import may_alter, no_bad_cell
from bench.work.lookups import shop_of


def at_hand(made: Change, unit_id: int) -> Unit:
    """The unit, if it is in the workshop and may be altered."""
    unit = made.get(Unit, unit_id, "unit")
    stage = made.get(Stage, unit.stage_id, "stage")
    if stage.final:
        raise Refused(f"Unit {unit.tag} has left the queue ({stage.name}).", "Move it back to a stage first.")
    no_bad_cell(unit)
    may_alter(made, unit)
    return unit


def drive_in(made: Change, drive_id: int | None, serial: str, unit_id: int) -> int | None:
    """The drive that a part is: the one named, or the unit's own of that serial number; None for no drive."""
    if drive_id is not None or not serial:
        return drive_id
    statement = select(Drive.id).where(Drive.unit_id == unit_id, Drive.serial == serial, Drive.removed == 0)
    return made.session.exec(statement).first()


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
    return cost_left(plain_connection(made.session), unit_id)
