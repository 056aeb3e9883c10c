"""Units come in with what was typed, take their route's tasks, and keep text as text."""

from __future__ import annotations

from datetime import date

import pytest

from bench.desk import Desk
from bench.domain.tags import tag_from_number
from bench.errors import BadInput, NotFound
from bench.views.particulars import unit_by_tag
from bench.views.queue import read_queue
from bench.views.routes import read_route
from bench.views.unit import read_unit
from bench.work.units import add_unit, edit_unit

HOSTILE = ["[red]x[/]", "[/] bad", "👩‍🔧 ❤️", "漢字カナ", "שלום", "=1+1", "x" * 200]


def particulars(**other: str) -> dict[str, str]:
    plain = dict.fromkeys(("maker", "serial", "note", "due_text", "price_text", "tag_text"), "")
    return plain | {"model": "One"} | other


def count(desk: Desk) -> int:
    return sum(len(stage.rows) for stage in read_queue(desk).stages)


def test_a_unit_takes_the_next_tag_and_its_routes_tasks(desk: Desk) -> None:
    added = add_unit(
        desk, maker="Invented", model="One", route_id=1, due_text="+3", price_text="80.50", serial="S1"
    )
    sheet = read_unit(desk, added.unit_id)
    assert added.tag == tag_from_number(1001)
    assert (sheet.maker, sheet.model, sheet.serial) == ("Invented", "One", "S1")
    assert (sheet.due_on, sheet.price_minor, sheet.stage) == (date(2026, 11, 28), 8050, "received")
    pattern = read_route(desk, 1).tasks
    assert [task.name for task in sheet.tasks] == [task.name for task in pattern]
    assert [[(u.consumable_id, u.quantity) for u in task.uses] for task in sheet.tasks] == [
        [(u.consumable_id, u.quantity) for u in task.uses] for task in pattern
    ]
    assert unit_by_tag(desk, f" {added.tag} ") == added.unit_id


def test_tags_are_unique_and_skip_those_in_use(desk: Desk) -> None:
    add_unit(desk, maker="", model="Typed", tag_text=tag_from_number(1001))
    add_unit(desk, maker="", model="Typed", tag_text=tag_from_number(1003))
    assert [add_unit(desk, maker="", model="Next").tag for _ in range(2)] == [
        tag_from_number(1002),
        tag_from_number(1004),
    ]
    with pytest.raises(BadInput, match="another unit"):
        add_unit(desk, maker="", model="Again", tag_text=tag_from_number(1003))
    assert count(desk) == 4


@pytest.mark.parametrize(
    "wrong",
    [
        {"model": ""},
        {"model": "two\nlines"},
        {"model": "\x1b[31mred"},
        {"model": "x" * 201},
        {"due_text": "soon"},
        {"due_text": "2026-02-30"},
        {"price_text": "-1"},
        {"price_text": "NaN"},
        {"tag_text": "10015"},
        {"tag_text": "abc"},
        {"note": "y" * 10_001},
    ],
)
def test_bad_input_is_one_sentence_and_changes_nothing(desk: Desk, wrong: dict[str, str]) -> None:
    with pytest.raises(BadInput) as refused:
        add_unit(desk, **(particulars() | wrong))  # type: ignore[arg-type]
    assert "\n" not in str(refused.value)
    assert "\x1b" not in str(refused.value)
    assert count(desk) == 0
    unit_id = add_unit(desk, maker="", model="Kept").unit_id
    before = read_unit(desk, unit_id)
    with pytest.raises(BadInput):
        edit_unit(desk, unit_id, **(particulars() | wrong))
    assert read_unit(desk, unit_id) == before


@pytest.mark.parametrize("text", HOSTILE)
def test_text_is_text(desk: Desk, text: str) -> None:
    unit_id = add_unit(desk, maker=text, model=text, note=text).unit_id
    sheet = read_unit(desk, unit_id)
    assert (sheet.maker, sheet.model, sheet.note) == (text, text, text)


def test_edit_replaces_what_was(desk: Desk) -> None:
    unit_id = add_unit(desk, maker="A", model="One", price_text="5", due_text="today", note="x").unit_id
    edit_unit(desk, unit_id, **particulars(model="Two", tag_text=tag_from_number(2000)))
    sheet = read_unit(desk, unit_id)
    assert (sheet.maker, sheet.model, sheet.price_minor, sheet.due_on) == ("", "Two", None, None)
    assert (sheet.tag, sheet.note) == (tag_from_number(2000), "")
    edit_unit(desk, unit_id, **particulars(tag_text=sheet.tag))
    assert read_unit(desk, unit_id).tag == sheet.tag


def test_what_does_not_exist(desk: Desk) -> None:
    with pytest.raises(NotFound):
        add_unit(desk, maker="", model="One", route_id=99)
    for attempt in (lambda: read_unit(desk, 9), lambda: edit_unit(desk, 9, **particulars())):
        with pytest.raises(NotFound):
            attempt()
    with pytest.raises(NotFound, match="No unit bears"):
        unit_by_tag(desk, tag_from_number(1001))
    with pytest.raises(BadInput):
        unit_by_tag(desk, "10010")
    assert count(desk) == 0
