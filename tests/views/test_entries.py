"""Time entries as they are read for a unit and one by one, and the unit behind a task."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.errors import NotFound
from bench.views.entries import read_entry, read_unit_entries
from bench.views.particulars import unit_of_task
from bench.views.routes import read_routes
from bench.views.unit import read_unit
from bench.work.corrections import correct_entry
from bench.work.timers import start_task, stop_entry
from bench.work.units import add_unit
from tests.clocks import HandSetClock


def test_an_entry_comes_with_its_corrections(desk: Desk, clock: HandSetClock) -> None:
    unit_id = add_unit(desk, maker="", model="Model 9", route_id=read_routes(desk)[0].route_id).unit_id
    task = read_unit(desk, unit_id).tasks[0]
    entry_id = start_task(desk, task.task_id).entry_id
    clock.advance(30)
    stop_entry(desk, entry_id)
    correct_entry(desk, entry_id, start_text="", stop_text="+20", reason="a call")
    entry, corrections = read_entry(desk, entry_id)
    assert (entry.task, entry.corrected) == (task.name, True)
    assert entry.stopped_us == entry.started_us + 20 * 60_000_000
    assert [one.reason for one in corrections] == ["a call"]
    assert read_unit_entries(desk, unit_id) == (entry,)
    assert unit_of_task(desk, task.task_id) == unit_id


def test_what_is_not_there_is_not_found(desk: Desk) -> None:
    with pytest.raises(NotFound, match="no time entry with number 7"):
        read_entry(desk, 7)
    with pytest.raises(NotFound, match="no task with number 7"):
        unit_of_task(desk, 7)
