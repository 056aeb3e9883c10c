"""Everything in the file: each table, each row, each value as kept, of one instant."""

from __future__ import annotations

import sqlite3

from bench.desk import Desk
from bench.store.revision import HEAD
from bench.store.tables import metadata
from bench.views.export import read_everything
from bench.work.drafts import save_draft
from bench.work.moves import hold_unit
from bench.work.timers import start_task
from tests.clocks import HandSetClock
from tests.work.time_rows import first_task, new_unit


def test_every_table_of_the_file_is_there_with_every_row(desk: Desk, clock: HandSetClock) -> None:
    unit_id = new_unit(desk)
    hold_unit(desk, new_unit(desk), "=1+1")
    start_task(desk, first_task(desk, unit_id))
    save_draft(desk, "add unit", {"model": "half typed"})
    everything = read_everything(desk)
    assert (everything.made_us, everything.revision, everything.zone) == (
        clock.now_us(),
        HEAD,
        "Europe/Berlin",
    )
    assert [table.name for table in everything.tables] == sorted(
        set(metadata.tables) - {"journal_row", "access_word"}  # told by the journal itself; never told
    )
    connection = sqlite3.connect(desk.store.path)
    try:
        for table in everything.tables:
            described = [row[1] for row in connection.execute(f"PRAGMA table_info({table.name})")]
            assert list(table.columns) == described
            rows = connection.execute(f"SELECT * FROM {table.name}").fetchall()
            assert sorted(table.rows, key=repr) == sorted(rows, key=repr)
    finally:
        connection.close()
    sizes = {table.name: len(table.rows) for table in everything.tables}
    assert (sizes["unit"], sizes["time_entry"], sizes["draft"], sizes["shop"]) == (2, 1, 1, 1)
