"""Ticking the opening and closing checklists, going on without, and a bad cell."""

from __future__ import annotations

from collections.abc import Sequence

from bench.desk import Desk
from bench.domain.safety import (
    BEFORE_THE_COVER,
    CLOSING,
    FINDINGS,
    LIST_NAMES,
    LISTS,
    OPENING,
    WITH_THE_COVER_OFF,
    WITHOUT,
    missing,
)
from bench.domain.text import clean_line
from bench.domain.typed import read_field
from bench.errors import BadInput, Refused
from bench.store.tables import SafetyCheck, Unit
from bench.views.safety import SafetyView, read_safety
from bench.work.change import Change, change
from bench.work.gates import closing_expires, cover_comes_off, no_timer_inside
from bench.work.lookups import ticks_of
from bench.work.timers import stop_unit

MOST_SCREWS = 999


def tick(
    desk: Desk, unit_id: int, which: str, items: Sequence[str], *, screws: int | None = None, note: str = ""
) -> SafetyView:
    """Tick items of a unit's `opening` or `close_up` list, as the person did them.

    The opening checklist's second part follows its first, and says that the cover is off. `screws`: counted
    out with the opening checklist, counted back with `screws_back`, which may be counted again; where they
    differ, or were never counted out, a note is asked for. Closing is ticked with the cover off, and the
    battery goes back in last: `battery_in` is refused while another item is not ticked. A tick of
    `battery_out` where the battery was back in says that it came out again: what was ticked for closing
    before expires.
    """
    with change(desk, "tick") as made:
        unit = made.get(Unit, unit_id, "unit")
        known = _list(which)
        for item in items:
            if item not in known:
                raise BadInput(f"The {LIST_NAMES[which]} has no item {item}.", f"Items: {', '.join(known)}.")
        _no_cell(unit)
        remark = clean_line(note, "The note", allow_empty=True)
        if (
            which == OPENING
            and "battery_out" in items
            and "battery_in" in ticks_of(made.session, unit, CLOSING)
        ):
            closing_expires(made, unit)
        rows = ticks_of(made.session, unit, which)
        ticked = set(rows)
        new = [item for item in known if item in items and item not in ticked]
        if screws is not None and not 0 <= screws <= MOST_SCREWS:
            raise BadInput(f"{screws} screws cannot be.", f"Count from 0 to {MOST_SCREWS}.")
        if which == OPENING:
            _opening_order(made, unit, new, ticked)
            unit.screws_out = unit.screws_out if screws is None else screws
        if "battery_in" in new:
            no_timer_inside(made.session, unit, opening_too=True)
        if which == CLOSING and new:
            _closing_order(unit, new, ticked, screws, remark)
        if screws is not None and "screws_back" in ticked.intersection(items):
            _count_again(made, unit, rows["screws_back"], screws, remark)
        for item in new:
            _add(made, unit, which, item, screws=screws if item == "screws_back" else None, note=remark)
        words = "; ".join(known[item] for item in new)
        words = words or ("nothing new" if screws is None else f"{screws} screws")
        made.tells(f"Ticked the {LIST_NAMES[which]} of {unit.tag}: {words}", unit_id=unit_id, reason=remark)
    return read_safety(desk, unit_id)


def untick(desk: Desk, unit_id: int, which: str, *items: str) -> SafetyView:
    """Take ticks off again, or the reason for going on without: all that are named, or none.

    Taking off `battery_in` says that the battery came out again: all that was ticked for closing expires.
    """
    with change(desk, "untick") as made:
        unit = made.get(Unit, unit_id, "unit")
        _list(which)
        rows = ticks_of(made.session, unit, which)
        if which == OPENING and not {"battery_out", WITHOUT} & (rows.keys() - set(items)):
            no_timer_inside(made.session, unit, opening_too=False)
        for item in dict.fromkeys(items):
            if item not in rows:
                raise Refused(f"{item} is not ticked on unit {unit.tag}.", "There is nothing to take off.")
            made.session.delete(rows[item])
        if which == CLOSING and "battery_in" in items:
            closing_expires(made, unit)
        words = f"Took a tick off the {LIST_NAMES[which]} of {unit.tag}: {', '.join(items)}"
        made.tells(words, unit_id=unit_id)
    return read_safety(desk, unit_id)


def go_on_without(desk: Desk, unit_id: int, which: str, reason: str) -> SafetyView:
    """Go on without a list, with the typed reason kept in the journal. A bad cell cannot be passed so."""
    with change(desk, "go on without") as made:
        unit = made.get(Unit, unit_id, "unit")
        _list(which)
        _no_cell(unit)
        why = read_field("reason", clean_line, reason, "The reason for going on without the list")
        if WITHOUT in ticks_of(made.session, unit, which):
            raise Refused(f"A reason is kept already for unit {unit.tag}.", "Take it off first to change it.")
        _add(made, unit, which, WITHOUT, reason=why)
        made.tells(f"Went on without the {LIST_NAMES[which]} of {unit.tag}", unit_id=unit_id, reason=why)
    return read_safety(desk, unit_id)


def report_cell(desk: Desk, unit_id: int, finding: str) -> SafetyView:
    """Record a swollen, punctured or wet cell: the unit is held and all its timers stop."""
    with change(desk, "bad cell") as made:
        unit = made.get(Unit, unit_id, "unit")
        if finding not in FINDINGS:
            raise BadInput(f"{finding} is not a finding.", f"Choose one of: {', '.join(FINDINGS)}.")
        stop_for_cell(made, unit, finding)
        made.tells(f"Stopped work on {unit.tag}: {FINDINGS[finding]}", unit_id=unit_id)
    return read_safety(desk, unit_id)


def stop_for_cell(made: Change, unit: Unit, finding: str) -> None:
    """Hold a unit for a bad cell and stop all its timers, inside another use case."""
    stop_unit(made, unit.id, hands_on_only=False)
    made.session.flush()  # the database asks for it in this order
    unit.cell_finding = finding
    hold_for_cell(made, unit)


def hold_for_cell(made: Change, unit: Unit) -> None:
    """A unit with a bad cell is on hold: for that, where nothing else holds it."""
    if unit.cell_finding is not None and unit.held_reason is None:
        unit.held_reason, unit.held_us = FINDINGS[unit.cell_finding], made.now_us


def clear_cell(desk: Desk, unit_id: int, reason: str) -> SafetyView:
    """Record, with a reason, how a bad cell was dealt with; its hold ends, its opening checklist is bare."""
    with change(desk, "cell dealt with") as made:
        unit = made.get(Unit, unit_id, "unit")
        if unit.cell_finding is None:
            raise Refused(f"No bad cell is recorded for unit {unit.tag}.", "There is nothing to clear.")
        why = read_field("reason", clean_line, reason, "What was done about the cell")
        if unit.held_reason == FINDINGS[unit.cell_finding]:
            unit.held_reason, unit.held_us = None, None
        unit.cell_finding = None
        for row in ticks_of(made.session, unit, OPENING).values():
            made.session.delete(row)
        made.tells(f"Cell of {unit.tag} dealt with", unit_id=unit_id, reason=why)
    return read_safety(desk, unit_id)


def _list(which: str) -> dict[str, str]:
    if which not in LISTS:
        raise BadInput(f"{which} is not a list.", f"Choose {OPENING} or {CLOSING}.")
    return LISTS[which]


def _no_cell(unit: Unit) -> None:
    if unit.cell_finding is not None:
        raise Refused(
            f"Unit {unit.tag} has {FINDINGS[unit.cell_finding]}: its lists are closed.",
            "Keep it apart; clear the finding with a reason when it is dealt with.",
        )


def _opening_order(made: Change, unit: Unit, new: list[str], ticked: set[str]) -> None:
    inside = [item for item in new if item in WITH_THE_COVER_OFF]
    before = [item for item in BEFORE_THE_COVER if item not in ticked | set(new)]
    if inside and before and WITHOUT not in ticked:
        names = "; ".join(BEFORE_THE_COVER[item] for item in before)
        raise Refused(f"Not ticked yet, before the cover comes off: {names}.", "Tick those first.")
    if inside:
        cover_comes_off(made, unit)


def _count_again(made: Change, unit: Unit, tick: SafetyCheck, screws: int, note: str) -> None:
    if screws == tick.screws:
        return
    _cover_is_off(unit)
    _screws_agree(unit, screws, note)
    tick.screws, tick.note = screws, note
    tick.person_id, tick.at_us = made.desk.person_id, made.now_us


def _screws_agree(unit: Unit, screws: int, note: str) -> None:
    if screws != unit.screws_out and not note:
        out = "were never counted out" if unit.screws_out is None else f"came out: {unit.screws_out}"
        raise BadInput(
            f"Screws of unit {unit.tag} {out}; {screws} went back.",
            "Find the others, or type a note that says why.",
            field="note",
        )


def _cover_is_off(unit: Unit) -> None:
    if not unit.lid_off:
        raise Refused(
            f"The cover of unit {unit.tag} is on: there is nothing to close.",
            "The closing checklist is ticked with the cover off.",
        )


def _closing_order(unit: Unit, new: list[str], ticked: set[str], screws: int | None, note: str) -> None:
    _cover_is_off(unit)
    if "screws_back" in new:
        if screws is None:
            raise BadInput("The screws were not counted.", "Type how many went back in.", field="screws")
        _screws_agree(unit, screws, note)
    still = [item for item in missing(CLOSING, ticked | set(new)) if item != "battery_in"]
    if "battery_in" in new and still:
        names = "; ".join(LISTS[CLOSING][item] for item in still)
        raise Refused(f"The battery goes back in last; not ticked yet: {names}.", "Tick those first.")


def _add(
    made: Change,
    unit: Unit,
    which: str,
    item: str,
    *,
    screws: int | None = None,
    note: str = "",
    reason: str | None = None,
) -> None:
    assert unit.id is not None
    made.session.add(
        SafetyCheck(
            unit_id=unit.id,
            lid_count=unit.lid_count,
            list=which,
            item=item,
            person_id=made.desk.person_id,
            at_us=made.now_us,
            screws=screws,
            note=note,
            reason=reason,
        )
    )
