"""Ticks of the demo's opening and close-up lists, made at the end of the tasks that call for them."""

from __future__ import annotations

from collections.abc import Sequence

from bench.domain.safety import CLOSE_UP, CLOSE_UP_ITEMS, LIST_NAMES, LISTS, OPENING, OPENING_ITEMS
from bench.store.demo_data import DemoUnit
from bench.store.tables import SafetyCheck, Unit
from bench.work.demo.ground import Ground, Line, numbered
from bench.work.demo.story import Happening

OPENING_TASK = "cover off, disconnect the battery"
CHECKING_TASK = "check gasket, shields, antenna leads"
CLOSING_TASK = "reconnect the battery, cover on"

_BEFORE_THE_BATTERY = ("shut_down", "strap")
_WHEN_CHECKED = ("gasket", "antennas")


def ticks(
    ground: Ground, unit: DemoUnit, row: Unit, happened: Sequence[Happening]
) -> tuple[list[SafetyCheck], list[Line]]:
    """What was ticked of the unit's lists, and the journal's lines about it."""
    checks: list[SafetyCheck] = []
    lines: list[Line] = []
    for one in happened:
        which, items = _ticked_by(one, unit)
        if not items:
            continue
        back, note = ground.demo.screws_back.get(unit.number, (unit.screws, ""))
        counted = "screws_back" in items
        checks += [
            SafetyCheck(
                unit_id=numbered(row.id),
                lid_count=0,
                list=which,
                item=item,
                person_id=ground.people[one.who],
                at_us=one.at_us,
                screws=back if item == "screws_back" else None,
                note=note if counted else "",
            )
            for item in items
        ]
        words = "; ".join(LISTS[which][item] for item in items)
        summary = f"Ticked the {LIST_NAMES[which]} of {row.tag}: {words}"
        lines.append(Line(one.at_us, one.who, "tick", summary, row.id, note if counted else ""))
    return checks, lines


def _ticked_by(one: Happening, unit: DemoUnit) -> tuple[str, tuple[str, ...]]:
    task = one.task.name if one.task is not None and one.then == "done" else ""
    if task == OPENING_TASK:
        return OPENING, _BEFORE_THE_BATTERY if unit.battery_left_connected else tuple(OPENING_ITEMS)
    if task == CHECKING_TASK:
        return CLOSE_UP, _WHEN_CHECKED
    if task == CLOSING_TASK:
        return CLOSE_UP, tuple(item for item in CLOSE_UP_ITEMS if item not in _WHEN_CHECKED)
    return CLOSE_UP, ()
