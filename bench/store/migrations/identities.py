"""The parts of an older file: each is given an identity, which its moves name."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy.engine import Connection

_MOVES = """
SELECT id, name, serial, from_unit_id, to_unit_id, drive_id, removed FROM part ORDER BY id
"""
_GIVE = "INSERT INTO component (id, name, maker_number, serial, place, gone, note, price_minor, removed)"


def give_identities(connection: Connection) -> None:
    """One identity a part. Files of before name none: each move begins with one of its own number.

    What left a unit is what came into it before, by its drive, its serial number or else its name.
    """
    sql = connection.exec_driver_sql
    if sql("SELECT EXISTS (SELECT 1 FROM component)").scalar():
        return
    sql(f"{_GIVE} SELECT id, name, '', serial, '', '', '', 0, 0 FROM part")  # noqa: S608 - texts of ours
    lies: dict[int, tuple[int | None, str, str, int | None]] = {}
    for move_id, name, serial, from_id, to_id, drive_id, removed in sql(_MOVES).all():
        if removed:
            continue
        came = [
            one
            for one, at in lies.items()
            if from_id is not None and _is_it(at, from_id, name, serial, drive_id)
        ]
        which = came[-1] if came else move_id
        if which != move_id:
            sql(f"UPDATE part SET component_id = {which} WHERE id = {move_id}")  # noqa: S608 - numbers
            sql(f"UPDATE component SET removed = 1 WHERE id = {move_id}")  # noqa: S608 - a number
        lies.pop(which, None)
        lies[which] = (to_id, name, serial, drive_id)


def _is_it(at: Sequence[object], unit_id: int, name: str, serial: str, drive_id: int | None) -> bool:
    """Whether what lies there is what was taken out of that unit."""
    lies_in, its_name, its_serial, its_drive = at
    if lies_in != unit_id:
        return False
    if drive_id is not None or its_drive is not None:
        return drive_id == its_drive
    if serial and its_serial:
        return serial == its_serial
    return name.casefold() == str(its_name).casefold()
