"""A unit's grade on the screen: each part, the sentence that must be there, the buyer's sheet."""

from __future__ import annotations

import pytest

from bench.dashboard.screens.dialogs.condition_forms import grade_form, grade_rest_form
from bench.dashboard.screens.grading import GradingScreen
from bench.dashboard.screens.papers import PapersScreen
from bench.desk import Desk
from bench.errors import Refused
from bench.views.grades import read_grades, read_scale
from bench.work.drafts import save_draft
from bench.work.grades import grade_the_rest, set_grade
from bench.work.units import add_unit
from tests.screen.host import opened, runs, sentences, settled, texts, until
from tests.screen.undoing import undo_newest

SIZES = [(80, 24), (120, 36), (200, 50)]


@pytest.fixture
def unit_id(desk: Desk) -> int:
    unit_id = add_unit(desk, maker="Maker", model="[/] odd [b]model[/b]").unit_id
    best = {step.side: step.step_id for step in read_scale(desk) if step.position == 1}
    set_grade(
        desk,
        unit_id,
        "lid",
        function_step_id=best["function"],
        looks_step_id=best["looks"],
        sentence="no [b]mark[/b] seen",
    )
    return unit_id


@pytest.mark.parametrize("size", SIZES)
async def test_every_part_stands_there_with_what_is_said(
    desk: Desk, unit_id: int, size: tuple[int, int]
) -> None:
    async with opened(desk, GradingScreen(unit_id), size) as (app, _):
        assert "[/] odd [b]model[/b]" in texts(app.screen)
        assert "no [b]mark[/b] seen" in texts(app.screen.query_one("#detail"))
        assert "Keyboard" in texts(app.screen)
        assert "claims conformity with no standard" in texts(app.screen.query_one("#detail"))
        assert app.screen.region.contains_region(app.screen.query_one("#detail").region)


async def test_a_part_is_graded_and_a_flaw_needs_a_sentence(desk: Desk, unit_id: int) -> None:
    flawed = next(step for step in read_scale(desk) if step.side == "looks" and step.position == 2)
    async with opened(desk, GradingScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("down", "enter")
        await until(pilot, lambda: runs(app.screen, grade_form))
        await settled(pilot)
        form = app.screen
        assert runs(form, grade_form)
        form.field("looks").put(str(flawed.step_id))
        sentence_wrong = form.field("sentence")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "a sentence must say" in sentence_wrong.said)
        assert form.value("looks") == str(flawed.step_id)
        form.field("sentence").put("one scratch of 2 cm")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "one scratch of 2 cm" in texts(app.screen.query_one("#rows")))
        await pilot.press("x")
        await until(pilot, lambda: "one scratch" not in texts(app.screen.query_one("#rows")))
        await undo_newest(pilot)
        await until(pilot, lambda: "one scratch" in texts(app.screen.query_one("#rows")))
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])
    assert read_grades(desk, unit_id).line("screen").sentence == "one scratch of 2 cm"


async def test_what_was_not_tested_says_so(desk: Desk, unit_id: int) -> None:
    sheet = read_grades(desk, unit_id)
    save_draft(desk, f"grade {unit_id} ports", {"not_tested": "yes"})
    async with opened(desk, grade_form(unit_id, sheet.line("ports"), sheet.scale)) as (app, pilot):
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.answers == [True])
    line = read_grades(desk, unit_id).line("ports")
    assert line.grade_id is not None
    assert not line.tested


async def test_the_buyers_sheet_opens_from_here(desk: Desk, unit_id: int) -> None:
    async with opened(desk, GradingScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("b")
        await until(pilot, lambda: isinstance(app.screen, PapersScreen))
        await until(pilot, lambda: "► Buyer's sheet" in texts(app.screen.query_one("#head")))


async def test_all_that_have_no_grade_are_graded_alike_and_undone_as_one(desk: Desk, unit_id: int) -> None:
    async with opened(desk, GradingScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("a")
        await until(pilot, lambda: runs(app.screen, grade_rest_form))
        await settled(pilot)
        form = app.screen
        assert form.value("looks") == "", "nobody looked yet"  # type: ignore[attr-defined]
        flawed = next(step for step in read_scale(desk) if step.side == "looks" and step.position == 2)
        form.field("looks").put(str(flawed.step_id))  # type: ignore[attr-defined]
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "a sentence must say" in sentences(app))
        assert read_grades(desk, unit_id).line("ports").grade_id is None
        form.field("looks").put("")  # type: ignore[attr-defined]
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.screen is not form)
        lines = read_grades(desk, unit_id).lines
        assert all(one.function is not None and one.function.position == 1 for one in lines)
        assert read_grades(desk, unit_id).line("lid").sentence == "no [b]mark[/b] seen", "as it was"
        await pilot.press("a")
        await settled(pilot)
        assert isinstance(app.screen, GradingScreen)
        await undo_newest(pilot)
        await until(pilot, lambda: read_grades(desk, unit_id).line("ports").grade_id is None)
    assert [one.part for one in read_grades(desk, unit_id).lines if one.grade_id is not None] == ["lid"]


async def test_those_that_are_marked_are_graded_alike_whatever_was_said_of_them(
    desk: Desk, unit_id: int
) -> None:
    async with opened(desk, GradingScreen(unit_id), (120, 36)) as (app, pilot):
        screen = app.screen
        assert isinstance(screen, GradingScreen)
        marked = []
        for part in ("lid", "ports"):
            screen.table("rows").go_to(part)
            await pilot.press("space")
            marked.append(part)
        await pilot.press("a")
        await until(pilot, lambda: runs(app.screen, grade_rest_form))
        await settled(pilot)
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.screen is screen)
        await settled(pilot)
        lines = read_grades(desk, unit_id).lines
        assert [one.part for one in lines if one.grade_id is not None] == marked
        assert read_grades(desk, unit_id).line("lid").sentence == ""
        assert screen.table("rows").rows.marked == ()
        await undo_newest(pilot)
        await until(pilot, lambda: read_grades(desk, unit_id).line("ports").grade_id is None)
    assert read_grades(desk, unit_id).line("lid").sentence == "no [b]mark[/b] seen", "as it was"


def test_where_every_part_is_graded_there_is_no_rest(desk: Desk, unit_id: int) -> None:
    best = next(step.step_id for step in read_scale(desk) if step.side == "function")
    assert len(grade_the_rest(desk, unit_id, function_step_id=best, looks_step_id=None)) == 6
    with pytest.raises(Refused, match="Every part"):
        grade_the_rest(desk, unit_id, function_step_id=best, looks_step_id=None)
