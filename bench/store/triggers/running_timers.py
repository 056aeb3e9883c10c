"""Timers: one hands-on a person at a time, none on a bad cell, none inside with the battery in."""

from __future__ import annotations

_LATEST = 9223372036854775807

# A timer that starts has no end yet: only an entry that covers its start is in its way, not one that lies
# ahead because the computer's clock once was. Where it stops, it must not overlap that one either. An entry
# without length, of a clock set back while it ran, is in nobody's way.
_OVERLAP = """CREATE TRIGGER time_entry_overlap_{when} BEFORE {event} ON time_entry
    WHEN NEW.attended = 1 AND (
        SELECT COALESCE(other.stopped_us, {latest}) FROM time_entry AS other
        WHERE other.person_id = NEW.person_id AND other.attended = 1 AND other.id IS NOT NEW.id
        AND other.started_us < COALESCE(NEW.stopped_us, {open_end})
        AND other.started_us IS NOT other.stopped_us
        ORDER BY other.started_us DESC, COALESCE(other.stopped_us, {latest}) DESC LIMIT 1
    ) > NEW.started_us
    BEGIN SELECT RAISE(ABORT, 'one person has one hands-on task at a time'); END"""

# No timer runs, or runs again, on a unit with a bad cell.
_NO_BAD_CELL = """CREATE TRIGGER time_entry_no_bad_cell_{when} BEFORE {event} ON time_entry
    WHEN NEW.stopped_us IS NULL AND EXISTS (
        SELECT 1 FROM task JOIN unit ON unit.id = task.unit_id
        WHERE task.id = NEW.task_id AND unit.cell_finding IS NOT NULL)
    BEGIN SELECT RAISE(ABORT, 'a bad cell stops all work on its unit'); END"""

# Nor inside while the battery is back in, or not out: the task that opens the machine takes it out.
_BATTERY_OUT = """CREATE TRIGGER time_entry_battery_out_{when} BEFORE {event} ON time_entry
    WHEN NEW.stopped_us IS NULL AND EXISTS (
        SELECT 1 FROM task JOIN unit ON unit.id = task.unit_id
        WHERE task.id = NEW.task_id AND task.lid_off = 1 AND (
            EXISTS (SELECT 1 FROM safety_check AS tick WHERE tick.unit_id = unit.id
                AND tick.lid_count = unit.lid_count AND tick.list = 'close_up' AND tick.item = 'battery_in')
            OR (task.opens = 0 AND EXISTS (
                SELECT 1 FROM task AS first WHERE first.unit_id = unit.id AND first.opens = 1
                AND first.removed = 0)
            AND NOT EXISTS (SELECT 1 FROM safety_check AS tick WHERE tick.unit_id = unit.id
                AND tick.lid_count = unit.lid_count AND tick.list = 'opening'
                AND tick.item IN ('battery_out', 'without')))))
    BEGIN SELECT RAISE(ABORT, 'the battery stays out while the cover is off'); END"""

_RUNS = (("insert", "INSERT"), ("update", "UPDATE OF stopped_us, task_id"))

# What records that the battery is in or out does not change under such a timer.
_BATTERY_TICKS = (
    """CREATE TRIGGER safety_check_battery_in BEFORE INSERT ON safety_check
    WHEN NEW.list = 'close_up' AND NEW.item = 'battery_in' AND EXISTS (
        SELECT 1 FROM unit JOIN task ON task.unit_id = unit.id AND task.lid_off = 1
        JOIN time_entry AS entry ON entry.task_id = task.id AND entry.stopped_us IS NULL
        WHERE unit.id = NEW.unit_id AND unit.lid_count = NEW.lid_count)
    BEGIN SELECT RAISE(ABORT, 'the battery stays out while a timer runs inside'); END""",
    """CREATE TRIGGER safety_check_battery_out BEFORE DELETE ON safety_check
    WHEN OLD.list = 'opening' AND OLD.item IN ('battery_out', 'without')
    AND NOT EXISTS (SELECT 1 FROM safety_check AS tick WHERE tick.unit_id = OLD.unit_id
        AND tick.lid_count = OLD.lid_count AND tick.list = 'opening' AND tick.id <> OLD.id
        AND tick.item IN ('battery_out', 'without'))
    AND EXISTS (
        SELECT 1 FROM unit JOIN task ON task.unit_id = unit.id AND task.lid_off = 1 AND task.opens = 0
        JOIN time_entry AS entry ON entry.task_id = task.id AND entry.stopped_us IS NULL
        WHERE unit.id = OLD.unit_id AND unit.lid_count = OLD.lid_count AND EXISTS (
            SELECT 1 FROM task AS first WHERE first.unit_id = unit.id AND first.opens = 1
            AND first.removed = 0))
    BEGIN SELECT RAISE(ABORT, 'the battery stays out while a timer runs inside'); END""",
)

TRIGGERS = (
    _OVERLAP.format(when="INSERT", event="INSERT", latest=_LATEST, open_end="NEW.started_us + 1"),
    _OVERLAP.format(
        when="UPDATE",
        event="UPDATE OF person_id, attended, started_us, stopped_us",
        latest=_LATEST,
        open_end=_LATEST,
    ),
    *(_NO_BAD_CELL.format(when=when, event=event) for when, event in _RUNS),
    *(_BATTERY_OUT.format(when=when, event=event) for when, event in _RUNS),
    *_BATTERY_TICKS,
)
