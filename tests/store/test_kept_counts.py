"""What the file keeps counted is what its rows come to: units at a stage, by way out, unsettled sales."""

from __future__ import annotations

import sqlite3
from collections import Counter
from contextlib import closing
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

UNITS, STAGES = (1, 2, 3), (1, 2, 10)
# What each act does to one of the rows of a unit: `row` names one, `way` one of two values of a column.
ACTS = {
    "move": "UPDATE unit SET stage_id = :stage WHERE id = :unit",
    "remove": "UPDATE unit SET removed = :flag WHERE id = :unit",
    "go out": """INSERT OR IGNORE INTO way_out (unit_id, way, at_us, note, proceeds_minor, removed)
        VALUES (:unit, :way, :at, '', 0, 0)""",
    "go otherwise": "UPDATE way_out SET way = :way WHERE unit_id = :unit AND ended_us IS NULL",
    "forget the ways out": "DELETE FROM way_out WHERE unit_id = :unit AND removed = :flag",
    "come in": "UPDATE way_out SET ended_us = :at WHERE unit_id = :unit AND ended_us IS NULL",
    "take the way out back": "UPDATE OR IGNORE way_out SET removed = :flag WHERE unit_id = :unit",
    "sell": """INSERT INTO sale (unit_id, sold_on, sold_us, person_id, price_minor, fee_minor,
        shipping_minor, tax_minor, invoice, note, removed, shipping_known)
        VALUES (:unit, '2026-01-01', :at, 1, 1, 0, 0, 0, '', '', 0, 1)""",
    "take the sale back": "UPDATE sale SET removed = :flag WHERE unit_id = :unit",
    "date the sale otherwise": "UPDATE sale SET sold_us = :at WHERE unit_id = :unit",
    "return": """INSERT INTO comeback (sale_id, at_us, person_id, reason, refund_minor, fee_back_minor,
        postage_minor, undoes, removed)
        SELECT id, :at, 1, 'x', 0, 0, 0, :flag, 0 FROM sale WHERE unit_id = :unit ORDER BY id DESC LIMIT 1""",
    "take the return back": """UPDATE comeback SET removed = :flag
        WHERE sale_id IN (SELECT id FROM sale WHERE unit_id = :unit)""",
}
STEPS = st.lists(
    st.fixed_dictionaries(
        {
            "act": st.sampled_from(sorted(ACTS)),
            "unit": st.sampled_from(UNITS),
            "stage": st.sampled_from(STAGES),
            "flag": st.integers(0, 1),
            "way": st.sampled_from(["sold", "sold", "kept"]),
            "at": st.integers(1, 9),
        }
    ),
    max_size=30,
)


def counted(file: sqlite3.Connection) -> dict[int, int]:
    """The units at each stage, one by one."""
    return Counter(stage for (stage,) in file.execute("SELECT stage_id FROM unit WHERE removed = 0"))


def counted_by_way(file: sqlite3.Connection) -> dict[tuple[int, str], int]:
    """The units at each stage that are out, by way, one by one."""
    stages = dict(file.execute("SELECT id, stage_id FROM unit WHERE removed = 0"))
    out = file.execute("SELECT unit_id, way FROM way_out WHERE removed = 0 AND ended_us IS NULL")
    return Counter((stages[unit], way) for unit, way in out if unit in stages)


def unsettled(file: sqlite3.Connection) -> set[tuple[int, int, int]]:
    """The units of which no sale stands: whether each is out as sold, and whether a return undid one."""
    way = dict(file.execute("SELECT unit_id, way FROM way_out WHERE removed = 0 AND ended_us IS NULL"))
    undone = {
        sale for (sale,) in file.execute("SELECT sale_id FROM comeback WHERE removed = 0 AND undoes = 1")
    }
    newest = dict(file.execute("SELECT unit_id, id FROM sale WHERE removed = 0 ORDER BY sold_us, id"))
    had_one = {unit for unit, sale in file.execute("SELECT unit_id, id FROM sale") if sale in undone}
    found = set()
    for unit in UNITS:
        stands = unit in newest and newest[unit] not in undone
        out, gone_otherwise = way.get(unit) == "sold", way.get(unit, "sold") != "sold"
        if not stands and not gone_otherwise and (out or unit in had_one):
            found.add((unit, int(out), int(unit in had_one)))
    return found


@given(steps=STEPS)
def test_whatever_is_done_what_is_kept_is_what_is_there(
    fresh_file: Path, steps: list[dict[str, int]]
) -> None:
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as file:
        with closing(sqlite3.connect(fresh_file)) as made:
            made.backup(file)
        file.execute("DROP TRIGGER unit_moves_by_a_row")
        for unit in UNITS:
            file.execute(
                "INSERT INTO unit (id, tag, maker, model, serial, note, stage_id, stage_since_us, added_us,"
                " lid_off, lid_count, removed) VALUES (?, ?, '', 'x', '', '', 1, 1, 1, 0, 0, 0)",
                (unit, f"1000{unit}"),
            )
        for step in steps:
            file.execute(ACTS[str(step["act"])], step)
            assert dict(file.execute("SELECT stage_id, units FROM stage_count")) == counted(file)
            by_way = {(stage, way): units for stage, way, units in file.execute("SELECT * FROM way_count")}
            assert by_way == counted_by_way(file), step
            kept = set(file.execute("SELECT unit_id, unrecorded, undone FROM unsettled_sale"))
            assert kept == unsettled(file), step
