"""Rules of the bench that no program may break, as far as one row and what it names can tell.

The program asks more, and says it in sentences (`work/gates.py`, `work/invariants.py`); these stop whatever
writes to the file past it.
"""

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

# A bad cell: its unit's timers stop first, it stays where it is kept apart, nothing on it is done or moved.
_CELL = (
    """CREATE TRIGGER unit_bad_cell_stops BEFORE UPDATE OF cell_finding ON unit
    WHEN NEW.cell_finding IS NOT NULL AND EXISTS (
        SELECT 1 FROM task JOIN time_entry AS entry ON entry.task_id = task.id AND entry.stopped_us IS NULL
        WHERE task.unit_id = NEW.id)
    BEGIN SELECT RAISE(ABORT, 'a bad cell stops all work on its unit'); END""",
    """CREATE TRIGGER unit_bad_cell_stays BEFORE UPDATE OF stage_id ON unit
    WHEN NEW.cell_finding IS NOT NULL AND NEW.stage_id <> OLD.stage_id
    AND (SELECT final FROM stage WHERE id = OLD.stage_id) = 0
    AND (SELECT final FROM stage WHERE id = NEW.stage_id) = 0
    BEGIN SELECT RAISE(ABORT, 'a unit with a bad cell stays where it is'); END""",
    """CREATE TRIGGER task_no_bad_cell BEFORE UPDATE OF state ON task
    WHEN NEW.state = 'done' AND OLD.state <> 'done' AND EXISTS (
        SELECT 1 FROM unit WHERE unit.id = NEW.unit_id AND unit.cell_finding IS NOT NULL)
    BEGIN SELECT RAISE(ABORT, 'a bad cell stops all work on its unit'); END""",
    """CREATE TRIGGER part_no_bad_cell BEFORE INSERT ON part
    WHEN EXISTS (SELECT 1 FROM unit WHERE unit.id IN (NEW.from_unit_id, NEW.to_unit_id)
                 AND unit.cell_finding IS NOT NULL)
    BEGIN SELECT RAISE(ABORT, 'a bad cell stops all work on its unit'); END""",
    """CREATE TRIGGER wipe_no_bad_cell BEFORE INSERT ON wipe
    WHEN EXISTS (SELECT 1 FROM drive JOIN unit ON unit.id = drive.unit_id
                 WHERE drive.id = NEW.drive_id AND unit.cell_finding IS NOT NULL)
    BEGIN SELECT RAISE(ABORT, 'a bad cell stops all work on its unit'); END""",
)

# A drive of the unit without a passed wipe later than a buyer had it, and than the day on which the unit it
# came in was bought. The day of a wipe depends on the shop's zone: the farthest one, 14 hours on, is given.
_UNWIPED = """EXISTS (
        SELECT 1 FROM drive LEFT JOIN purchase ON purchase.unit_id = drive.came_in_unit_id
        WHERE drive.unit_id = {unit} AND drive.removed = 0 AND NOT EXISTS (
            SELECT 1 FROM wipe WHERE wipe.drive_id = drive.id AND wipe.removed = 0
            AND wipe.result = 'passed' AND wipe.wiped_us >= COALESCE(drive.outside_us, 0)
            AND date(wipe.wiped_us / 1000000 + 50400, 'unixepoch') >= COALESCE(purchase.bought_on, '')))
    AND NOT EXISTS (
        SELECT 1 FROM unwiped WHERE unwiped.unit_id = {unit} AND unwiped.removed = 0
        AND ' ' || unwiped.covers || ' ' LIKE '% wipe %')"""

_LISTED = """CREATE TRIGGER unit_listed_wiped BEFORE UPDATE OF stage_id ON unit
    WHEN NEW.stage_id <> OLD.stage_id AND (SELECT lists FROM stage WHERE id = NEW.stage_id) = 1
    AND {unwiped}
    BEGIN SELECT RAISE(ABORT, 'a listed unit has its drives wiped, or a reason'); END"""
_SOLD = """CREATE TRIGGER sale_wiped BEFORE INSERT ON sale
    WHEN {unwiped}
    BEGIN SELECT RAISE(ABORT, 'a sold unit has its drives wiped, or a reason'); END"""

STATEMENTS = (
    *(_NO_BAD_CELL.format(when=when, event=event) for when, event in _RUNS),
    *(_BATTERY_OUT.format(when=when, event=event) for when, event in _RUNS),
    *_BATTERY_TICKS,
    *_CELL,
    _LISTED.format(unwiped=_UNWIPED.format(unit="NEW.id")),
    _SOLD.format(unwiped=_UNWIPED.format(unit="NEW.unit_id")),
)
