"""The gates of the bench: no work inside before the opening checklist, no cover on before the closing one.

And none at all, nor a sale, while the waiting period of a unit that was bought is not over; no listing nor a
sale before the drives in it are wiped. Beside them, what ends when a unit is opened or comes back.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from sqlmodel import Session, col, select

from bench.domain.holding import NO_DRIVE, WIPE
from bench.domain.safety import (
    BEFORE_THE_COVER,
    CLOSING,
    FINDINGS,
    LIST_NAMES,
    LISTS,
    OPENING,
    OPENING_ITEMS,
    WITHOUT,
    missing,
)
from bench.domain.selling import hold_ends
from bench.domain.text import task_on
from bench.domain.ways_out import SCRAPPED
from bench.errors import BatteryFirst, CellAlarm, ClosingFirst, ListingFirst, Refused, WipeFirst
from bench.store.engine import plain_connection
from bench.store.tables import Drive, Purchase, Stage, Task, TimeEntry, Trade, Unit
from bench.views.standing import opens
from bench.work.change import Change
from bench.work.lookups import stages_in_order, ticks_of, today
from bench.work.wanting import is_listed, wanting


def may_start(session: Session, unit: Unit, task: Task) -> None:
    """Pass, or raise Refused, CellAlarm or BatteryFirst with the sentence that says why not."""
    if task.state != "todo":
        raise Refused(
            f"{task_on(task.name, unit.tag)} is {task.state} already.", "Reopen it to work on it again."
        )
    no_bad_cell(unit)
    if unit.held_reason is not None:
        raise Refused(f"Unit {unit.tag} is on hold: {unit.held_reason}.", "Release it first.")
    stage = session.get(Stage, unit.stage_id)
    if stage is not None and stage.final:
        raise Refused(f"Unit {unit.tag} has left the queue ({stage.name}).", "Move it back to a stage first.")
    if task.lid_off:
        part = BEFORE_THE_COVER if opens(plain_connection(session), task.id) else OPENING_ITEMS
        _battery_first(session, unit, part)
        _not_back_in(session, unit)


def may_finish(session: Session, unit: Unit, task: Task, *, was_started: bool, ends: bool = True) -> None:
    """Pass, or raise: the task that opens the machine ends with the whole opening checklist ticked.

    So does another cover-off task that was never started. `ends`: it is finished, not only given time.
    """
    if task.state != "todo":
        raise Refused(
            f"{task_on(task.name, unit.tag)} is {task.state} already.", "Reopen it to work on it again."
        )
    no_bad_cell(unit)
    if task.lid_off and (not was_started or (ends and opens(plain_connection(session), task.id))):
        _battery_first(session, unit, OPENING_ITEMS)


def may_open(session: Session, unit: Unit) -> None:
    """Pass, or raise BatteryFirst: the opening checklist's first part comes before the cover comes off."""
    if not unit.lid_off:
        _battery_first(session, unit, BEFORE_THE_COVER)


def may_close(session: Session, unit: Unit) -> None:
    """Pass, or raise ClosingFirst naming what of the closing checklist is not ticked."""
    ticked = ticks_of(session, unit, CLOSING)
    absent = missing(CLOSING, ticked)
    if absent and WITHOUT not in ticked:
        raise ClosingFirst(*_sentence(unit, CLOSING, absent), unit_id=unit.id or 0)


def no_bad_cell(unit: Unit) -> None:
    """Pass, or raise CellAlarm: a bad cell stops all work on its unit, parts and wipes too."""
    if unit.cell_finding is not None:
        raise CellAlarm(
            f"Unit {unit.tag} has {FINDINGS[unit.cell_finding]}: all work on it stops.",
            "Keep it apart, do not charge or press it; clear the finding with a reason once dealt with.",
        )


def may_move(unit: Unit, origin: Stage, leaves: str) -> None:
    """Pass, or raise: a unit with a bad cell stays where it is kept apart, or leaves to be scrapped.

    `leaves`: its way out, empty where it stays.
    """
    if not origin.final and not (unit.cell_finding is not None and leaves == SCRAPPED):
        no_bad_cell(unit)


def may_leave(unit: Unit, origin: Stage, target: Stage, leaves: str) -> None:
    """Pass, or raise Refused: one on hold does not leave, except to be scrapped for its bad cell."""
    if unit.cell_finding is not None and not origin.final and leaves == SCRAPPED:
        return
    if target.final and unit.held_reason is not None:
        raise Refused(f"Unit {unit.tag} is on hold: {unit.held_reason}.", "Release it before it leaves.")


def may_alter(made: Change, unit: Unit, *, on: date | None = None) -> None:
    """Pass, or raise Refused while the unit's waiting period is not over: it stays unaltered and unsold.

    `on`: the day of what is recorded afterwards, today where there is none.
    """
    trade = made.session.get(Trade, 1)
    statement = select(Purchase.bought_on).where(Purchase.unit_id == unit.id)
    bought_on = made.session.exec(statement).first()
    if trade is None or not bought_on:
        return
    bought = date.fromisoformat(bought_on)
    until = hold_ends(bought, trade.hold_days)
    if until is not None and bought <= (on or today(made)) < until:
        raise Refused(
            f"Unit {unit.tag} is in its waiting period until {until} by the shop's setting.",
            "Keep it unaltered and unsold until that day; local code comes first.",
        )


def may_list(session: Session, unit: Unit, target: Stage, *, drives_only: bool = False) -> None:
    """Pass, or raise ListingFirst with one sentence that names all that is wanting before it is listed.

    That is a wipe that counts of each drive in it, whether one is in it, and what ended with a return or with
    the cover off again. WipeFirst where a drive is among it. `drives_only`: for a unit that leaves otherwise
    than by a sale, such as scrapped.
    """
    if is_listed(stages_in_order(session), target.id):
        may_be_sold(session, unit, drives_only=drives_only)


def may_be_sold(session: Session, unit: Unit, *, drives_only: bool = False) -> None:
    """The same of a unit wherever it stands."""
    found = tuple(one for one in wanting(session, unit) if not drives_only or one.matter in (WIPE, NO_DRIVE))
    if not found:
        return
    matters = tuple(one.matter for one in found)
    words = "; ".join(one.words for one in found)
    error = WipeFirst if WIPE in matters else ListingFirst
    raise error(
        f"Before unit {unit.tag} is listed or sold: {words}.",
        " ".join(_ANSWERS[asks] for asks in dict.fromkeys(one == NO_DRIVE for one in matters)),
        unit_id=unit.id or 0,
        matters=matters,
    )


_ANSWERS = {
    True: "Record the drive, or say that you looked and none is in it.",
    False: "Record that it was done, or type the reason for going on without.",
}


def no_timer_inside(session: Session, unit: Unit, *, opening_too: bool) -> None:
    """Pass, or raise BatteryFirst: the battery stays disconnected while a timer runs with the cover off.

    `opening_too`: that of the task which opens the machine counts, in which the battery comes out.
    """
    inside = (
        select(Task)
        .join(TimeEntry, col(TimeEntry.task_id) == Task.id)
        .where(Task.unit_id == unit.id, Task.lid_off == 1, col(TimeEntry.stopped_us).is_(None))
    )
    for task in session.exec(inside):
        if opening_too or not opens(plain_connection(session), task.id):
            raise BatteryFirst(
                f"A timer runs for {task.name} on unit {unit.tag} with the cover off: "
                "its battery stays disconnected.",
                "Stop or finish that first.",
                unit_id=unit.id or 0,
            )


def _battery_first(session: Session, unit: Unit, part: Mapping[str, str]) -> None:
    """Pass, or raise BatteryFirst where an item of this part of the opening checklist is not ticked."""
    ticked = ticks_of(session, unit, OPENING)
    if WITHOUT in ticked:
        return
    absent = tuple(item for item in part if item not in ticked)
    if absent:
        what, remedy = _sentence(unit, OPENING, absent)
        raise BatteryFirst(what, remedy, unit_id=unit.id or 0, items=tuple(part))


def _not_back_in(session: Session, unit: Unit) -> None:
    """Pass, or raise BatteryFirst while the closing checklist says that the battery is connected again."""
    if "battery_in" in ticks_of(session, unit, CLOSING):
        raise BatteryFirst(
            f"The battery of unit {unit.tag} is back in.",
            "Disconnect it and take that tick off the closing checklist first.",
            unit_id=unit.id or 0,
            items=tuple(OPENING_ITEMS),
        )


def _sentence(unit: Unit, which: str, absent: tuple[str, ...]) -> tuple[str, str]:
    names = "; ".join(LISTS[which][item] for item in absent)
    return (
        f"The {LIST_NAMES[which]} of unit {unit.tag} is not ticked: {names}.",
        "Tick it, or go on without it with a typed reason.",
    )


def cover_comes_off(made: Change, unit: Unit) -> None:
    """Take the cover off, if it is on; what was tested, read, graded or ticked before holds no longer."""
    if not unit.lid_off:
        unit.lid_off, unit.opened_us = 1, made.now_us
        closing_expires(made, unit)


def closing_expires(made: Change, unit: Unit) -> None:
    """Take off what was ticked for closing before the machine was opened, or its battery came out again."""
    for row in ticks_of(made.session, unit, CLOSING).values():
        made.session.delete(row)


def comes_back(made: Change, unit: Unit) -> None:
    """Take a unit in that was outside the shop: neither what was found nor a wipe of its drives holds."""
    unit.back_us = made.now_us
    for drive in made.session.exec(select(Drive).where(Drive.unit_id == unit.id, Drive.removed == 0)):
        drive.outside_us = made.now_us
