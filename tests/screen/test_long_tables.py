"""A table of very many records: a row is made when it is drawn, and the cursor keeps its record."""

from __future__ import annotations

import pytest

from bench.dashboard.presenters import rows
from bench.dashboard.presenters.rows import rows_of
from bench.dashboard.screens.register import RegisterScreen
from bench.desk import Desk
from bench.views.columns import Column, Table
from bench.views.kinds import BAR
from bench.work.units import add_unit
from tests.screen.host import opened, settled, texts

NUMBERS = Table[int]("numbers", "Numbers", (Column("", lambda one: one, BAR),), key=lambda one: f"no. {one}")
MANY = 400


def test_rows_are_those_of_their_records() -> None:
    made = rows_of(NUMBERS, [3, 7, 5])
    assert [row.key for row in made] == ["no. 3", "no. 7", "no. 5"]
    assert [row.key for row in made[1:]] == ["no. 7", "no. 5"]
    assert [(cell.part, cell.whole) for row in made for cell in row.cells] == [(3, 7), (7, 7), (5, 7)]  # type: ignore[union-attr]
    assert [made.place_of(key) for key in ("no. 5", "no. 3", "no. 4")] == [2, 0, None]
    assert made[-1] == rows_of(NUMBERS, [7, 5])[1]
    assert len(rows_of(NUMBERS, [])) == 0


async def test_only_what_is_seen_is_made_and_the_cursor_stays_on_its_line(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    numbers = [add_unit(desk, maker="Maker", model=f"Model {n}").unit_id for n in range(MANY)]
    made: list[object] = []
    plain = rows.RecordCells

    def counting(*given: object) -> rows.RecordCells:
        made.append(given[1])
        return plain(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(rows, "RecordCells", counting)
    async with opened(desk, RegisterScreen(), (120, 36)) as (app, pilot):
        assert isinstance(app.screen, RegisterScreen)
        table = app.screen.table("rows")
        assert len(table.rows.items) == MANY
        assert 0 < len(made) < MANY
        await pilot.press("end")
        await settled(pilot)
        assert f"Model {MANY - 1}" in texts(table)
        assert table.key == (numbers[-1], None)
        app.screen.show(app.screen.facts)  # type: ignore[arg-type]
        assert table.key == (numbers[-1], None)
        table.fill(app.screen.facts.register.lines[:3])  # type: ignore[union-attr]
        assert table.key == (numbers[2], None)
        table.fill(())
        assert table.key is None
