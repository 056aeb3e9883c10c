"""Third revision, condition: how long findings hold, and where a drive came from."""

STATEMENTS = (
    "ALTER TABLE unit ADD COLUMN opened_us INTEGER",
    "ALTER TABLE unit ADD COLUMN back_us INTEGER",
    "ALTER TABLE drive ADD COLUMN came_in_unit_id INTEGER REFERENCES unit (id)",
    "ALTER TABLE drive ADD COLUMN outside_us INTEGER",
    "ALTER TABLE unwiped ADD COLUMN covers TEXT NOT NULL DEFAULT 'wipe'",
    # A unit that is open now was opened no later than it came to its stage.
    "UPDATE unit SET opened_us = stage_since_us WHERE lid_off = 1",
    """UPDATE unit SET back_us = (
        SELECT MAX(comeback.at_us) FROM comeback JOIN sale ON sale.id = comeback.sale_id
        WHERE sale.unit_id = unit.id AND comeback.removed = 0 AND sale.removed = 0)""",
    # The first movement of a drive says where it came from; one that never moved is where it came in.
    """UPDATE drive SET came_in_unit_id = CASE
        WHEN EXISTS (SELECT 1 FROM part WHERE part.drive_id = drive.id AND part.removed = 0) THEN (
            SELECT part.from_unit_id FROM part WHERE part.drive_id = drive.id AND part.removed = 0
            ORDER BY part.at_us, part.id LIMIT 1)
        ELSE unit_id END""",
    """UPDATE drive SET outside_us = (SELECT unit.back_us FROM unit WHERE unit.id = drive.unit_id)
        WHERE NOT EXISTS (
            SELECT 1 FROM part JOIN unit ON unit.id = drive.unit_id
            WHERE part.drive_id = drive.id AND part.to_unit_id = drive.unit_id AND part.removed = 0
            AND part.at_us > COALESCE(unit.back_us, 0))""",
)
