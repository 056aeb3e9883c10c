"""What would otherwise be counted over all that ever came and left: the file keeps it, row by row."""

from __future__ import annotations

from bench.store.standing import IS_SOLD

_COMES = """INSERT INTO stage_count (stage_id, units) SELECT NEW.stage_id, 1 WHERE NEW.removed = 0
        ON CONFLICT (stage_id) DO UPDATE SET units = units + 1;"""
_GOES = """UPDATE stage_count SET units = units - 1 WHERE stage_id = OLD.stage_id AND OLD.removed = 0;
        DELETE FROM stage_count WHERE stage_id = OLD.stage_id AND units = 0;"""

# Of the units at a stage, how many are out by which way.
_WAY_COUNTS = """INSERT INTO way_count (stage_id, way, units)
        SELECT unit.stage_id, way_out.way, COUNT(*) FROM {rows}
        WHERE way_out.removed = 0 AND way_out.ended_us IS NULL AND unit.removed = 0
        GROUP BY unit.stage_id, way_out.way"""
_LEAVES = (
    _WAY_COUNTS.format(rows="way_out CROSS JOIN unit ON unit.id = way_out.unit_id AND {which}")
    + """
        ON CONFLICT (stage_id, way) DO UPDATE SET units = units + excluded.units;"""
)
_LEFT = """UPDATE way_count SET units = units - 1 WHERE {old} AND stage_id = {stage} AND way = {way};
        DELETE FROM way_count WHERE units = 0;"""
_IS_OUT = "OLD.removed = 0 AND OLD.ended_us IS NULL"
_WAY_OUT_LEAVES = _LEAVES.format(which="way_out.id = NEW.id")
_WAY_OUT_LEFT = _LEFT.format(
    old=_IS_OUT,
    stage="(SELECT stage_id FROM unit WHERE id = OLD.unit_id AND removed = 0)",
    way="OLD.way",
)
_UNIT_LEFT = _LEFT.format(
    old="OLD.removed = 0",
    stage="OLD.stage_id",
    way="(SELECT way FROM way_out WHERE unit_id = OLD.id AND removed = 0 AND ended_us IS NULL)",
)

_WAS_UNDONE = """EXISTS (
    SELECT 1 FROM sale AS was CROSS JOIN comeback ON comeback.sale_id = was.id AND comeback.removed = 0
    AND comeback.undoes = 1 WHERE was.unit_id = unit.id)"""

# Counted afresh of all units, for a file that has no such counts yet.
STAGE_COUNTS = """
INSERT INTO stage_count (stage_id, units)
SELECT stage_id, COUNT(*) FROM unit WHERE removed = 0 GROUP BY stage_id
"""
WAY_COUNTS = _WAY_COUNTS.format(rows="way_out CROSS JOIN unit ON unit.id = way_out.unit_id")
# The units of which no sale stands, though they are out as sold or a return undid one.
UNSETTLED = """
SELECT unit.id AS unit_id, way_out.way IS NOT NULL AS unrecorded, {was_undone} AS undone
FROM unit LEFT JOIN way_out ON way_out.unit_id = unit.id AND way_out.removed = 0 AND way_out.ended_us IS NULL
WHERE COALESCE(way_out.way, 'sold') = 'sold' AND (way_out.way IS NOT NULL OR {was_undone}) AND NOT {is_sold}
""".replace("{is_sold}", IS_SOLD).replace("{was_undone}", _WAS_UNDONE)
UNSETTLED_SALES = f"INSERT INTO unsettled_sale (unit_id, unrecorded, undone) {UNSETTLED}"
# All of it, counted afresh.
KEPT = (
    *("DELETE FROM stage_count", STAGE_COUNTS),
    *("DELETE FROM way_count", WAY_COUNTS),
    *("DELETE FROM unsettled_sale", UNSETTLED_SALES),
)

# What can change whether a unit is one of them, and which unit that is.
_UNSETTLED_BY = (
    ("way_out", "UPDATE OF way, ended_us, removed", "NEW.unit_id"),
    ("sale", "UPDATE OF sold_us, removed", "NEW.unit_id"),
    ("comeback", "UPDATE OF undoes, removed", "(SELECT unit_id FROM sale WHERE id = NEW.sale_id)"),
)
_SETTLES = """CREATE TRIGGER {table}_settles_{event} AFTER {when} ON {table} BEGIN
        DELETE FROM unsettled_sale WHERE unit_id = {unit};
        {again} AND unit.id = {unit};
    END"""


def _settles(table: str, when: str, unit: str) -> str:
    texts = {"table": table, "event": when.split()[0].lower(), "when": when, "unit": unit}
    return _SETTLES.format(again=UNSETTLED_SALES.strip(), **texts)


TRIGGERS = (
    f"""CREATE TRIGGER unit_counted_insert AFTER INSERT ON unit BEGIN
        {_COMES}
    END""",
    f"""CREATE TRIGGER unit_counted_update AFTER UPDATE OF stage_id, removed ON unit
    WHEN (NEW.stage_id, NEW.removed) <> (OLD.stage_id, OLD.removed) BEGIN
        {_GOES}
        {_COMES}
        {_UNIT_LEFT}
        {_LEAVES.format(which="unit.id = NEW.id")}
    END""",
    f"""CREATE TRIGGER unit_counted_delete AFTER DELETE ON unit BEGIN
        {_GOES}
    END""",
    f"""CREATE TRIGGER way_out_counted_insert AFTER INSERT ON way_out BEGIN
        {_WAY_OUT_LEAVES}
    END""",
    f"""CREATE TRIGGER way_out_counted_update AFTER UPDATE OF way, ended_us, removed ON way_out BEGIN
        {_WAY_OUT_LEFT}
        {_WAY_OUT_LEAVES}
    END""",
    f"""CREATE TRIGGER way_out_counted_delete AFTER DELETE ON way_out BEGIN
        {_WAY_OUT_LEFT}
    END""",
    *(_settles(table, when, unit) for table, when, unit in _UNSETTLED_BY),
    *(_settles(table, "INSERT", unit) for table, _, unit in _UNSETTLED_BY),
)
