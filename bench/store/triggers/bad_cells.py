"""A bad cell: timers on its unit stop first, it stays where it is kept apart, no work on it is recorded."""

from __future__ import annotations

TRIGGERS = (
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
