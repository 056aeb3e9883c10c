"""Whether what is taken in or fitted seems to be on record already: asked about, and gone on for a reason."""

from __future__ import annotations

from sqlalchemy import ColumnElement, Text, literal_column
from sqlmodel import col, func, select

from bench.domain.text import clean_line, quoted
from bench.domain.typed import read_field
from bench.domain.wipe import serial_key
from bench.errors import KnownAlready
from bench.store.tables import Part, Stage, Unit
from bench.work.change import Change


def reason_again(again: str) -> str:
    """The reason typed for taking it in all the same; empty for none."""
    return read_field("again", clean_line, again, "The reason for taking it in again", allow_empty=True)


def taken_in_once(made: Change, unit: Unit, again: str) -> None:
    """Pass, or raise KnownAlready where another unit bears the serial number and no reason was typed."""
    if reason_again(again) or not serial_key(unit.serial):
        return
    with made.session.no_autoflush:
        known = made.session.exec(
            select(Unit, Stage)
            .join(Stage, col(Stage.id) == Unit.stage_id)
            .where(unit_serial() == serial_key(unit.serial), Unit.removed == 0)
            .order_by(col(Unit.id).desc())
        ).all()
    other = next(((one, stage) for one, stage in known if one is not unit), None)
    if other is None:
        return
    one, stage = other
    left = " If it came back, record its return." if stage.final else ""
    raise KnownAlready(
        f"The serial number {quoted(unit.serial)} is that of unit {one.tag} {one.model} ({stage.name}).",
        f"Read the label again, or type why it is taken in again.{left}",
    )


def fitted_once(made: Change, part: Part, again: str) -> None:
    """Pass, or raise KnownAlready where such a part stands in a unit already and no reason was typed.

    By its serial number wherever it is fitted; without one, by its name in the same unit.
    """
    if reason_again(again):
        return
    fitted = select(Part, Unit).join(Unit, col(Unit.id) == Part.to_unit_id).where(Part.removed == 0)
    if serial_key(part.serial):
        statement = fitted.where(_part_serial() == serial_key(part.serial))
    else:
        statement = fitted.where(
            func.lower(Part.name) == part.name.lower(), Part.serial == "", Part.to_unit_id == part.to_unit_id
        )
    with made.session.no_autoflush:
        rows = made.session.exec(statement.order_by(col(Part.at_us).desc(), col(Part.id).desc())).all()
        found = next(((one, unit) for one, unit in rows if one is not part and not _gone(made, one)), None)
    if found is None:
        return
    one, unit = found
    which = f"{one.name} {one.serial}".rstrip()
    raise KnownAlready(
        f"{which} is fitted in unit {unit.tag} already.",
        "Look at the part again, or type why it is fitted again.",
    )


def _gone(made: Change, part: Part) -> bool:
    """Whether the like part has left the unit since."""
    later = select(Part.id).where(
        Part.from_unit_id == part.to_unit_id,
        func.lower(Part.name) == part.name.lower(),
        Part.removed == 0,
        Part.at_us >= part.at_us,
    )
    return made.session.exec(later).first() is not None


def unit_serial() -> ColumnElement[str]:
    """A unit's serial number as it is compared, in the words of its index: another text would not find it."""
    return literal_column("lower(replace(unit.serial, ' ', ''))", Text)


def _part_serial() -> ColumnElement[str]:
    return func.lower(func.replace(Part.serial, " ", ""))
