"""A unit in which someone looked and found no drive: nothing about drives stands in the way of its sale."""

from __future__ import annotations

from bench.work.desk import Desk
from bench.work.drives import read_drives
from bench.work.waivers import no_drive_in_it


def looked_into(desk: Desk, unit_id: int) -> int:
    """Say that no drive is in the unit; answers its number."""
    no_drive_in_it(desk, unit_id)
    return unit_id


def looked_into_if_need_be(desk: Desk, unit_id: int) -> int:
    """The same, where no drive is recorded in the unit and nobody said it since it last came in."""
    sheet = read_drives(desk, unit_id)
    return unit_id if sheet.drives or sheet.looked is not None else looked_into(desk, unit_id)
