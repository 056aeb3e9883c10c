"""A unit's cover, battery and checklists as they are now, and the one caution that matters."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from bench.desk import Desk
from bench.domain.amounts import Instant
from bench.domain.safety import (
    CLOSING,
    HAZARDS,
    LISTS,
    OPENING,
    WITHOUT,
    battery_alarm,
    battery_connected,
    caution_for,
)
from bench.views.binder import Query
from bench.views.particulars import Particulars, particulars
from bench.views.tasks import TaskLine, tasks_of


@dataclass(frozen=True, slots=True)
class Tick:
    """One line of a list: its words, and who ticked it when (None while it is not)."""

    item: str
    label: str
    person: str | None = None
    at_us: Instant | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class SafetyView:
    """A unit's cover (`lid_off`: it is off), battery and lists as they are now.

    `without_opening` / `without_closing`: the reason typed for going on without that list.
    `alarm`: the battery counts as connected where the record or the work says that it may not be.
    """

    unit_id: int
    tag: str
    model: str
    lid_off: bool
    battery_connected: bool
    cell_finding: str | None
    opening: tuple[Tick, ...]
    closing: tuple[Tick, ...]
    without_opening: str | None
    without_closing: str | None
    screws_out: int | None
    screws_back: int | None
    caution: str
    alarm: bool = False


@dataclass(frozen=True, slots=True)
class _Ticked:
    """An item that is ticked since the unit's cover was last on."""

    list: str
    item: str
    person: str
    at_us: Instant
    screws: int | None
    note: str
    reason: str | None


_TICKED = Query(
    _Ticked,
    """
SELECT tick.list, tick.item, person.name AS person, tick.at_us, tick.screws, tick.note, tick.reason
FROM unit JOIN safety_check AS tick ON tick.unit_id = unit.id AND tick.lid_count = unit.lid_count
JOIN person ON person.id = tick.person_id WHERE unit.id = :unit_id
""",
)


def read_safety(desk: Desk, unit_id: int) -> SafetyView:
    """A unit's cover, battery, lists, and the one caution that matters now."""
    with desk.store.read() as connection:
        unit = particulars(connection, unit_id)
        return safety_of(connection, unit, tasks_of(connection, unit))


def safety_of(connection: sqlite3.Connection, unit: Particulars, tasks: Sequence[TaskLine]) -> SafetyView:
    """The same, within a snapshot that other reads share."""
    ticked: dict[str, dict[str, _Ticked]] = {OPENING: {}, CLOSING: {}}
    for one in _TICKED.each(connection, unit_id=unit.unit_id):
        ticked[one.list][one.item] = one
    opening, closing = ticked[OPENING], ticked[CLOSING]
    connected = battery_connected(opening, closing)
    alarm = battery_alarm(
        cover_off=unit.lid_off,
        opening_ticked=opening,
        closing_ticked=closing,
        worked_inside=unit.worked_inside,
    )
    return SafetyView(
        unit_id=unit.unit_id,
        tag=unit.tag,
        model=unit.name,
        lid_off=unit.lid_off,
        battery_connected=connected,
        cell_finding=unit.cell_finding,
        opening=_lines(OPENING, opening),
        closing=_lines(CLOSING, closing),
        without_opening=opening[WITHOUT].reason if WITHOUT in opening else None,
        without_closing=closing[WITHOUT].reason if WITHOUT in closing else None,
        screws_out=unit.screws_out,
        screws_back=closing["screws_back"].screws if "screws_back" in closing else None,
        caution=caution_for(
            cell_finding=unit.cell_finding,
            cover_off=unit.lid_off,
            connected=connected,
            closing="battery_in" in closing,
            alarm=alarm,
            hazard=_hazard_of_next(tasks, cover_off=unit.lid_off),
        ),
        alarm=alarm,
    )


def _lines(which: str, ticked: Mapping[str, _Ticked]) -> tuple[Tick, ...]:
    return tuple(
        Tick(item, label, one.person, one.at_us, one.note)
        if (one := ticked.get(item)) is not None
        else Tick(item, label)
        for item, label in LISTS[which].items()
    )


def _hazard_of_next(tasks: Sequence[TaskLine], *, cover_off: bool) -> str:
    """What can hurt at the task that runs or comes next: by its own kind, else by what it takes."""
    running = [task for task in tasks if task.running]
    coming = [task for task in tasks if task.state == "todo" and not (cover_off and task.cover_on)]
    for task in (running or coming)[:1]:
        return HAZARDS.get(task.hazard) or next((use.hazard for use in task.uses if use.hazard), "")
    return ""
