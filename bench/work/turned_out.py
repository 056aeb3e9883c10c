"""What turns out about the drives of a unit that is listed or has left: recorded as it is, never refused.

A listed unit is put on hold until the drive is wiped or a reason typed; of one that has left the line of the
journal says so. A person who takes the last drive out, or off the records, has said that none is in it.
"""

from __future__ import annotations

from bench.domain.holding import NO_DRIVE
from bench.domain.safety import FINDINGS
from bench.store.engine import plain_connection
from bench.store.tables import Unit, Unwiped
from bench.work.change import Change
from bench.work.lookups import stages_in_order
from bench.work.timers import stop_unit
from bench.work.unready import unready
from bench.work.wanting import is_listed, tests_failed

HOLD = "a drive in it has no passed wipe"


def turned_out(made: Change, unit_id: int | None, *, none_left: str = "") -> str:
    """Let the unit wait, or go on, by what is known of its drives; answers what that did, for the journal.

    `none_left`: why no drive is recorded in it any more, where that is what was said.
    """
    unit = made.session.get(Unit, unit_id) if unit_id is not None else None
    if unit is None or unit.id is None or unit.removed:
        return ""
    made.session.flush()
    found = list(unready(plain_connection(made.session), [unit.id]))
    if none_left and any(not one.drive_id for one in found):
        _say_none_is_in_it(made, unit.id, none_left)
        found = []
    if any(one.out for one in found):
        made.found = True
        return f"; {unit.tag} has left with it"
    if found and unit.held_reason is None:
        stop_unit(made, unit.id, hands_on_only=True)
        unit.held_reason, unit.held_us = HOLD, made.now_us
        return f"; {unit.tag} is listed and waits for it"
    if not found and unit.held_reason == HOLD:
        return _goes_on(made, unit)
    return ""


def _goes_on(made: Change, unit: Unit) -> str:
    """The hold ends; a bad cell found or a test that failed meanwhile holds the unit from now on."""
    if unit.cell_finding is not None:
        unit.held_reason = FINDINGS[unit.cell_finding]
        return ""
    failed = tests_failed(made.session, unit)
    if failed and is_listed(stages_in_order(made.session), unit.stage_id):
        unit.held_reason = f"{failed[0]} failed"
        return f"; {unit.tag} waits for its {failed[0]}"
    unit.held_reason, unit.held_us = None, None
    return f"; {unit.tag} goes on"


def _say_none_is_in_it(made: Change, unit_id: int, why: str) -> None:
    made.session.add(
        Unwiped(
            unit_id=unit_id, person_id=made.desk.person_id, at_us=made.now_us, reason=why, covers=NO_DRIVE
        )
    )
