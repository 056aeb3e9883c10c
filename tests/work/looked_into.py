"""A unit in which someone looked and found no drive: nothing about drives stands in the way of its sale."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.holding import NO_DRIVE
from bench.store.tables import Unwiped
from bench.views.drives import read_drives
from bench.work.waivers import LOOKED, no_drive_in_it


def looked_into(desk: Desk, unit_id: int) -> int:
    """Say that no drive is in the unit; answers its number."""
    no_drive_in_it(desk, unit_id)
    return unit_id


def looked_into_if_need_be(desk: Desk, unit_id: int) -> int:
    """The same, where no drive is recorded in the unit and nobody said it since it last came in."""
    sheet = read_drives(desk, unit_id)
    return unit_id if sheet.drives or sheet.looked is not None else looked_into(desk, unit_id)


def bare_of_drives(desk: Desk, unit_id: int) -> int:
    """The same behind the use cases' backs: no line of the journal tells of it. Answers its number."""
    if read_drives(desk, unit_id).looked is not None:
        return unit_id
    with desk.store.write() as session:
        session.add(
            Unwiped(
                unit_id=unit_id,
                person_id=desk.person_id,
                at_us=desk.clock.now_us(),
                reason=LOOKED,
                covers=NO_DRIVE,
            )
        )
    return unit_id
