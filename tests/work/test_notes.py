"""A result on a unit's note: dated, beside what stood there, journaled, taken back."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.errors import BadInput, NotFound
from bench.views.journal import read_journal
from bench.views.unit import read_unit
from bench.work.notes import put_result
from bench.work.tasks import add_task
from bench.work.undo import undo
from bench.work.units import add_unit


@pytest.fixture
def unit_id(desk: Desk) -> int:
    return add_unit(desk, maker="", model="Model 9", note="two keys stick").unit_id


def _task(desk: Desk, unit_id: int) -> int:
    stage_id = read_unit(desk, unit_id).stage_id
    return add_task(
        desk,
        unit_id,
        name="Mend the lead",
        stage_id=stage_id,
        estimate_text="20",
        unattended=False,
        lid_off=False,
    )


def test_the_line_stands_last_with_the_day_and_the_task(desk: Desk, unit_id: int) -> None:
    put = put_result(desk, unit_id, _task(desk, unit_id), "Tubing: Take 9/3 mm [/]")

    assert put.line == "2026-11-25 (Mend the lead) Tubing: Take 9/3 mm [/]"
    assert read_unit(desk, unit_id).note == f"two keys stick\n{put.line}"
    newest = read_journal(desk, unit_id=unit_id).lines[0]
    assert newest.summary.startswith("Noted on ")
    assert newest.action == "put result"


def test_an_empty_note_gets_no_empty_line(desk: Desk) -> None:
    unit_id = add_unit(desk, maker="", model="Model 9").unit_id
    put_result(desk, unit_id, None, "Paste: Dispense 0.015 ml")
    assert read_unit(desk, unit_id).note == "2026-11-25 Paste: Dispense 0.015 ml"


def test_it_is_taken_back(desk: Desk, unit_id: int) -> None:
    put_result(desk, unit_id, None, "Paste: Dispense 0.015 ml")
    taken = undo(desk)
    assert taken.summary.startswith("Noted on ")
    assert read_unit(desk, unit_id).note == "two keys stick"


def test_what_cannot_be_put_changes_nothing(desk: Desk, unit_id: int) -> None:
    other = add_unit(desk, maker="", model="Model 8").unit_id
    foreign = _task(desk, other)
    with pytest.raises(BadInput, match="is not a task of"):
        put_result(desk, unit_id, foreign, "x")
    with pytest.raises(BadInput, match="The result is empty"):
        put_result(desk, unit_id, None, "  ")
    with pytest.raises(BadInput, match="more than one line"):
        put_result(desk, unit_id, None, "one\ntwo")
    with pytest.raises(NotFound):
        put_result(desk, 999, None, "x")
    for _ in range(10):
        put_result(desk, other, None, "x" * 900)
    with pytest.raises(BadInput, match="The note has"):
        put_result(desk, other, None, "x" * 1000)
    assert read_unit(desk, unit_id).note == "two keys stick"
