"""Read one unit: its particulars, tasks, uses, safety state, and its tag's number."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from datetime import date

from bench.desk import Desk
from bench.domain.holding import condition_of, is_test
from bench.domain.queue import Running
from bench.domain.safety import (
    CLOSE_UP,
    HAZARDS,
    LISTS,
    OPENING,
    WITHOUT,
    SafetyView,
    Tick,
    battery_alarm,
    battery_connected,
    caution_for,
)
from bench.domain.tags import read_tag
from bench.domain.typed_fields import read_field
from bench.domain.unit_sheet import TaskLine, UnitSheet, Use
from bench.errors import NotFound
from bench.views import queue as queue_reads
from bench.views import unit as reads
from bench.work.queue import running_from
from bench.work.reasons import reasons_within


def unit_by_tag(desk: Desk, tag_text: str) -> int:
    """The number of the unit whose tag was typed or scanned.

    BadInput for a wrong check digit, NotFound for a tag that no unit bears.
    """
    tag = read_field("tag_text", read_tag, tag_text)
    with desk.store.read() as connection:
        unit_id = reads.id_of_tag(connection, tag)
    if unit_id is None:
        raise NotFound(
            f"No unit bears the tag {tag}.", "Look at the sticker, or add the unit.", field="tag_text"
        )
    return unit_id


def unit_of_task(desk: Desk, task_id: int) -> int:
    """The number of the unit a task belongs to. NotFound when there is no such task."""
    with desk.store.read() as connection:
        unit_id = reads.unit_of_task(connection, task_id)
    if unit_id is None:
        raise NotFound(
            f"There is no task with number {task_id}.", "Look it up again; it may have been removed."
        )
    return unit_id


def read_unit(desk: Desk, unit_id: int) -> UnitSheet:
    """Everything about one unit, in one snapshot. NotFound when there is no such unit."""
    with desk.store.read() as connection:
        unit = _particulars(connection, unit_id)
        times = reads.times(connection, unit_id)
        tasks = _tasks(connection, unit)
        return UnitSheet(
            unit_id=unit_id,
            tag=unit["tag"],
            maker=unit["maker"],
            model=unit["model"],
            serial=unit["serial"],
            note=unit["note"],
            route_id=unit["route_id"],
            route=unit["route"],
            stage_id=unit["stage_id"],
            stage=unit["stage"],
            stage_since_us=unit["stage_since_us"],
            added_us=unit["added_us"],
            due_on=date.fromisoformat(unit["due_on"]) if unit["due_on"] else None,
            price_minor=unit["price_minor"],
            held=unit["held_reason"],
            held_us=unit["held_us"],
            tasks=tasks,
            safety=_safety(connection, unit, tasks),
            attended_us=times.get(True, 0),
            unattended_us=times.get(False, 0),
            materials_minor=reads.materials_minor(connection, unit_id),
            currency=unit["currency"],
            zone=unit["zone"],
            without=reasons_within(connection, unit),
            owner=unit["owner"],
            owner_contact=unit["owner_contact"],
        )


def read_safety(desk: Desk, unit_id: int) -> SafetyView:
    """A unit's cover, battery, lists, and the one caution that matters now."""
    with desk.store.read() as connection:
        unit = _particulars(connection, unit_id)
        return _safety(connection, unit, _tasks(connection, unit))


def _particulars(connection: sqlite3.Connection, unit_id: int) -> sqlite3.Row:
    unit = reads.particulars(connection, unit_id)
    if unit is None:
        raise NotFound(f"There is no unit with number {unit_id}.", "It may have been taken back.")
    return unit


def _tasks(connection: sqlite3.Connection, unit: sqlite3.Row) -> tuple[TaskLine, ...]:
    unit_id = unit["id"]
    held = condition_of(unit["opened_us"], unit["back_us"])
    after_cover = _stages_after_cover(connection, unit_id)
    running: defaultdict[int, list[Running]] = defaultdict(list)
    for row in queue_reads.running(connection):
        running[row["task_id"]].append(running_from(row))
    uses: defaultdict[int, list[Use]] = defaultdict(list)
    for row in reads.uses(connection, unit_id):
        uses[row["task_id"]].append(
            Use(
                row["consumable_id"],
                row["name"],
                row["base_unit"],
                row["quantity"],
                row["on_hand"],
                row["hazard"],
            )
        )
    return tuple(
        TaskLine(
            task_id=row["id"],
            stage_id=row["stage_id"],
            stage=row["stage"],
            position=row["position"],
            name=row["name"],
            estimate_minutes=row["estimate_minutes"],
            unattended=bool(row["unattended"]),
            lid_off=bool(row["lid_off"]),
            state=row["state"],
            spent_us=row["spent_us"],
            running=tuple(running[row["id"]]),
            uses=tuple(uses[row["id"]]),
            ended_us=row["ended_us"],
            skip_reason=row["skip_reason"],
            opens=bool(row["lid_off"] and row["takes_cover_off"]),
            cover_on=not row["lid_off"] and not row["at_cover_off"],
            hazard=row["hazard"],
            holds=row["state"] != "done"
            or not is_test(
                unattended=row["unattended"],
                lid_off=row["lid_off"],
                after_cover=row["stage_id"] in after_cover,
            )
            or held.holds(row["ended_us"]),
        )
        for row in reads.tasks(connection, unit_id)
    )


def _stages_after_cover(connection: sqlite3.Connection, unit_id: int) -> set[int]:
    """The stages after the last one at which the cover is off."""
    way = reads.way_of(connection, unit_id)
    last_off = max((at for at, stage in enumerate(way) if stage["lid_off"]), default=len(way))
    return {stage["id"] for stage in way[last_off + 1 :]}


def _safety(connection: sqlite3.Connection, unit: sqlite3.Row, tasks: tuple[TaskLine, ...]) -> SafetyView:
    ticked: dict[str, dict[str, sqlite3.Row]] = {OPENING: {}, CLOSE_UP: {}}
    for row in reads.ticks(connection, unit["id"]):
        ticked[row["list"]][row["item"]] = row
    connected = battery_connected(ticked[OPENING], ticked[CLOSE_UP])
    alarm = battery_alarm(
        cover_off=bool(unit["lid_off"]),
        opening_ticked=ticked[OPENING],
        close_up_ticked=ticked[CLOSE_UP],
        worked_inside=bool(unit["worked_inside"]),
    )
    screws_back = ticked[CLOSE_UP].get("screws_back")
    return SafetyView(
        unit_id=unit["id"],
        tag=unit["tag"],
        model=f"{unit['maker']} {unit['model']}".strip(),
        lid_off=bool(unit["lid_off"]),
        battery_connected=connected,
        cell_finding=unit["cell_finding"],
        opening=_list(OPENING, ticked[OPENING]),
        close_up=_list(CLOSE_UP, ticked[CLOSE_UP]),
        without_opening=_without(ticked[OPENING]),
        without_close_up=_without(ticked[CLOSE_UP]),
        screws_out=unit["screws_out"],
        screws_back=screws_back["screws"] if screws_back else None,
        caution=caution_for(
            cell_finding=unit["cell_finding"],
            cover_off=bool(unit["lid_off"]),
            connected=connected,
            closing="battery_in" in ticked[CLOSE_UP],
            alarm=alarm,
            hazard=_hazard_of_next(tasks, cover_off=bool(unit["lid_off"])),
        ),
        alarm=alarm,
    )


def _list(which: str, ticked: dict[str, sqlite3.Row]) -> tuple[Tick, ...]:
    return tuple(
        Tick(item, label, row["person"], row["at_us"], row["note"])
        if (row := ticked.get(item)) is not None
        else Tick(item, label)
        for item, label in LISTS[which].items()
    )


def _without(ticked: dict[str, sqlite3.Row]) -> str | None:
    row = ticked.get(WITHOUT)
    return row["reason"] if row is not None else None


def _hazard_of_next(tasks: tuple[TaskLine, ...], *, cover_off: bool) -> str:
    """What can hurt at the task that runs or comes next: by its own kind, else by what it takes."""
    running = [task for task in tasks if task.running]
    coming = [task for task in tasks if task.state == "todo" and not (cover_off and task.cover_on)]
    for task in (running or coming)[:1]:
        return HAZARDS.get(task.hazard) or next((use.hazard for use in task.uses if use.hazard), "")
    return ""
