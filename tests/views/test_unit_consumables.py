"""The movements behind a unit's consumables."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.errors import NotFound
from bench.views.unit import read_unit, read_unit_consumables
from bench.work.timers import finish_task
from bench.work.undo import undo
from tests.screen.workshop import CLEANING, fill_shelf, new_unit, open_cover, task


def test_the_lines_add_up_to_the_units_materials(desk: Desk) -> None:
    fill_shelf(desk)
    unit_id = new_unit(desk)
    open_cover(desk, unit_id)
    finish_task(desk, task(desk, unit_id, CLEANING).task_id)
    materials = read_unit_consumables(desk, unit_id)
    assert len(materials.lines) == 3
    assert materials.lines[0].quantity == -20_000
    assert -sum(line.cost_minor for line in materials.lines) == read_unit(desk, unit_id).consumables_minor > 0
    undo(desk)
    assert sum(line.cost_minor for line in read_unit_consumables(desk, unit_id).lines) == 0
    assert read_unit(desk, unit_id).consumables_minor == 0


def test_an_unknown_unit_is_not_found(desk: Desk) -> None:
    with pytest.raises(NotFound, match="no unit with number 7"):
        read_unit_consumables(desk, 7)
