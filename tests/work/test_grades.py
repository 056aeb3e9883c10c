"""Grades in plain sentences on the shop's own scale, and the buyer's sheet."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.domain.grading import FUNCTION, LOOKS, PARTS, Step
from bench.errors import BadInput, NotFound, Refused
from bench.store.tables import Component, Part
from bench.views.buyer_sheet import read_buyer_sheet
from bench.views.grades import read_grades, read_scale
from bench.views.journal import read_journal
from bench.work.change import change
from bench.work.drives import add_drive
from bench.work.grades import add_step, edit_step, remove_grade, remove_step, reorder_step, set_grade
from bench.work.readings import add_reading
from bench.work.undo import undo
from bench.work.units import add_unit


@pytest.fixture
def unit_id(desk: Desk) -> int:
    return add_unit(desk, maker="Invented", model="One", serial="S-1").unit_id


def step(desk: Desk, side: str, position: int) -> Step:
    return next(one for one in read_scale(desk) if (one.side, one.position) == (side, position))


def test_the_scale_of_a_new_shop_has_function_and_looks_apart(desk: Desk) -> None:
    names = {side: [one.name for one in read_scale(desk) if one.side == side] for side in (FUNCTION, LOOKS)}
    assert names[FUNCTION] == ["all works", "works, with limits", "does not work"]
    assert len(names[LOOKS]) == 4


def test_a_grade_stands_until_the_next_and_can_be_taken_back(desk: Desk, unit_id: int) -> None:
    line = set_grade(
        desk,
        unit_id,
        "lid",
        function_step_id=step(desk, FUNCTION, 1).step_id,
        looks_step_id=step(desk, LOOKS, 2).step_id,
        sentence=" Two fine scratches. ",
    )
    assert (line.sentence, line.tested, line.person) == ("Two fine scratches.", True, "Ada")
    assert line.function is not None
    assert line.function.name == "all works"
    set_grade(desk, unit_id, "lid", looks_step_id=step(desk, LOOKS, 1).step_id)
    now = read_grades(desk, unit_id).line("lid")
    assert (now.function, now.sentence) == (None, "")
    assert read_journal(desk).lines[0].summary == "Graded lid of 10014"
    undo(desk)
    assert read_grades(desk, unit_id).line("lid") == line
    assert [one.grade_id for one in read_grades(desk, unit_id).lines if one.part != "lid"] == [None] * 6


def test_what_a_grade_must_say(desk: Desk, unit_id: int) -> None:
    function, looks = step(desk, FUNCTION, 2).step_id, step(desk, LOOKS, 4).step_id
    for part, given, words in (
        ("lid", {"function_step_id": function}, "works, with limits: a sentence must say"),
        ("lid", {"function_step_id": function, "looks_step_id": looks}, "works, with limits and damaged"),
        ("lid", {"function_step_id": 1, "tested": False}, "not tested has no grade"),
        ("lid", {}, "Nothing was said"),
        ("lid", {"function_step_id": looks, "sentence": "x"}, "a step for looks, not for function"),
        ("lid", {"sentence": "x" * 501}, "500 is the most"),
        ("hinge", {"sentence": "x"}, "is not graded"),
    ):
        with pytest.raises(BadInput, match=words):
            set_grade(desk, unit_id, part, **given)  # type: ignore[arg-type]
    with pytest.raises(NotFound):
        set_grade(desk, unit_id, "lid", function_step_id=99)
    with pytest.raises(NotFound):
        set_grade(desk, 99, "lid", sentence="x")
    assert all(line.grade_id is None for line in read_grades(desk, unit_id).lines)
    untested = set_grade(desk, unit_id, "ports", tested=False)
    assert (untested.tested, untested.function) == (False, None)


def test_a_grade_can_be_taken_off(desk: Desk, unit_id: int) -> None:
    with pytest.raises(NotFound):
        remove_grade(desk, unit_id, "case")
    set_grade(desk, unit_id, "case", sentence="Warm to the touch.")
    remove_grade(desk, unit_id, "case")
    assert read_grades(desk, unit_id).line("case").grade_id is None
    with pytest.raises(NotFound):
        read_grades(desk, 99)


def test_the_scale_is_the_shops_to_change(desk: Desk, unit_id: int) -> None:
    new = add_step(desk, LOOKS, name="for parts only", meaning="Sold for its parts.")
    assert step(desk, LOOKS, 5).step_id == new
    reorder_step(desk, new, -1)
    assert step(desk, LOOKS, 4).step_id == new
    edit_step(desk, new, name="parts", meaning="For parts.")
    set_grade(desk, unit_id, "case", looks_step_id=new, sentence="Dented.")
    edit_step(desk, new, name="donor", meaning="For parts.")
    line = read_grades(desk, unit_id).line("case")
    assert line.looks is not None
    assert line.looks.name == "donor"
    remove_step(desk, new)
    assert [one.position for one in read_scale(desk) if one.side == LOOKS] == [1, 2, 3, 4]
    kept = read_grades(desk, unit_id).line("case")
    assert kept.looks is not None, "a grade given once keeps its words"
    assert kept.looks.name == "donor"
    with pytest.raises(NotFound):
        set_grade(desk, unit_id, "case", looks_step_id=new, sentence="x")


def test_what_a_scale_cannot_be(desk: Desk) -> None:
    best = step(desk, FUNCTION, 1)
    with pytest.raises(BadInput, match="already a step"):
        add_step(desk, FUNCTION, name="All Works", meaning="x")
    with pytest.raises(BadInput, match="function or looks"):
        add_step(desk, "smell", name="x", meaning="x")
    with pytest.raises(BadInput, match="meaning is empty"):
        edit_step(desk, best.step_id, name="x", meaning="")
    before = read_journal(desk).lines
    edit_step(desk, best.step_id, name=best.name, meaning=best.meaning)
    reorder_step(desk, best.step_id, -3)
    assert read_journal(desk).lines == before, "nothing changed, nothing journaled"
    add_step(desk, LOOKS, name="all works", meaning="the same word on the other side is another step")
    for position in (3, 2):
        remove_step(desk, step(desk, FUNCTION, position).step_id)
    with pytest.raises(Refused, match="only step"):
        remove_step(desk, best.step_id)


def test_the_buyers_sheet_says_before_and_after_replaced_and_not_tested(desk: Desk, unit_id: int) -> None:
    add_drive(desk, unit_id, model="NV-512")
    donor = add_unit(desk, maker="", model="Donor").unit_id
    for moment, full in (("before", "40"), ("after", "56")):
        add_reading(desk, unit_id, moment=moment, subject="battery", fields={"design": "57", "full": full})
    add_reading(desk, unit_id, moment="after", subject="memory", fields={"passes": "1", "errors": "0"})
    set_grade(desk, unit_id, "ports", tested=False)
    set_grade(desk, unit_id, "case", sentence="No mark.")
    with change(desk, "parts") as made:
        for name, from_id, to_id in (
            ("battery", None, unit_id),
            ("fan", donor, unit_id),
            ("lid", unit_id, None),
        ):
            component = made.add(Component(name=name))
            made.add(
                Part(
                    component_id=component.id,
                    name=name,
                    from_unit_id=from_id,
                    to_unit_id=to_id,
                    cost_minor=100,
                    at_us=made.now_us,
                    person_id=1,
                )
            )
    sheet = read_buyer_sheet(desk, unit_id)
    assert [(part.name, part.into, part.used) for part in sheet.parts] == [
        ("battery", True, False),
        ("fan", True, True),
        ("lid", False, True),
    ]
    lines = {(line.subject, line.label): (line.before, line.after) for line in sheet.before_after}
    assert lines["Battery", "Full charge"] == ("40.00 Wh", "56.00 Wh")
    assert lines["Memory test", "Errors"] == ("", "0")
    assert [line.part for line in sheet.graded] == ["case", "ports"]
    assert "Drive: not measured" in sheet.not_tested
    assert "Battery: not measured" not in sheet.not_tested
    assert "Ports: not tested" in sheet.not_tested
    assert "Lid: not graded" in sheet.not_tested
    assert "Case: not graded" not in sheet.not_tested
    assert len(sheet.grades.lines) == len(PARTS)
    assert not sheet.drives.may_be_listed
    with pytest.raises(NotFound):
        read_buyer_sheet(desk, 99)
