"""At the start the newest lines of the journal are held against the tables, after the first paint."""

from __future__ import annotations

import sqlite3

from bench.dashboard.screens.stock import StockScreen
from bench.desk import Desk
from tests.screen.host import opened, settled, until
from tests.screen.workshop import new_unit


async def test_what_was_changed_behind_it_is_said_loudly(desk: Desk) -> None:
    unit_id = new_unit(desk)
    connection = sqlite3.connect(desk.store.path)
    connection.execute("UPDATE unit SET model = 'Other' WHERE id = ?", (unit_id,))
    connection.commit()
    connection.close()
    async with opened(desk, StockScreen()) as (app, pilot):
        await until(pilot, lambda: len(app._notifications) > 0)
        [told] = app._notifications
        assert told.severity == "error"
        assert f"unit {unit_id}, model: line 1 says " in told.message
        assert "there is Other" in told.message


async def test_nothing_is_said_where_all_agrees(desk: Desk) -> None:
    new_unit(desk)
    async with opened(desk, StockScreen()) as (app, pilot):
        await settled(pilot)
        assert list(app._notifications) == []
