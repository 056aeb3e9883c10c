"""What is listed or sold has its drives wiped, or a reason why not."""

from __future__ import annotations

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

TRIGGERS = (
    _LISTED.format(unwiped=_UNWIPED.format(unit="NEW.id")),
    _SOLD.format(unwiped=_UNWIPED.format(unit="NEW.unit_id")),
)
