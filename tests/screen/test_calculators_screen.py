"""The calculators screen: chosen, typed, answered as one types, cautioned, put on the unit, kept."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

import pytest
from textual.pilot import Pilot
from textual.widgets import Input, OptionList

from bench.dashboard.key_check import SCREEN_KEYS
from bench.dashboard.presenters.pieces import width_of
from bench.dashboard.screens.calculators import CalculatorList, CalculatorsScreen
from bench.dashboard.screens.dialogs.choice_fields import ChoiceField
from bench.dashboard.screens.dialogs.pick import choose_place
from bench.dashboard.screens.dialogs.text_fields import FIGURE, MADE_OF
from bench.dashboard.screens.unit import UnitScreen
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.lines_scroll import LinesScroll
from bench.desk import Desk
from bench.domain.calculators.registry import CALCULATORS
from bench.domain.calculators.shape import Calculator
from bench.views.shop import read_draft
from bench.views.unit import read_unit
from bench.work.tasks import add_task
from bench.work.undo import undo
from bench.work.units import add_unit
from tests.domain.calculators.examples import EXAMPLES
from tests.screen.host import Host, opened, runs, typed, until
from tests.screen.waiting import first_screen, text_of

SIZES = [(80, 24), (120, 36), (200, 50)]
BY_NAME = {calculator.name: n for n, calculator in enumerate(CALCULATORS)}


@pytest.fixture
def unit_id(desk: Desk) -> int:
    unit_id = add_unit(desk, maker="Maker", model="Model 9").unit_id
    stage_id = read_unit(desk, unit_id).stage_id
    add_task(
        desk,
        unit_id,
        name="Mend the lead",
        stage_id=stage_id,
        estimate_text="20",
        unattended=False,
        lid_off=False,
    )
    return unit_id


@asynccontextmanager
async def calculators(
    desk: Desk, unit_id: int | None = None, size: tuple[int, int] = (120, 36)
) -> AsyncIterator[tuple[CalculatorsScreen, Host, Pilot[int]]]:
    screen = CalculatorsScreen(unit_id, read_unit(desk, unit_id).tag) if unit_id else CalculatorsScreen()
    async with opened(desk, screen, size) as (app, pilot):
        yield screen, app, pilot


async def choose(screen: CalculatorsScreen, pilot: Pilot[int], name: str) -> None:
    screen.query_one(CalculatorList).move_to(BY_NAME[name])
    await until(pilot, lambda: screen.form.calculator.name == name and screen.form.is_mounted)


async def fill(screen: CalculatorsScreen, pilot: Pilot[int], name: str) -> None:
    await choose(screen, pilot, name)
    screen.form.put(EXAMPLES[name])
    await until(pilot, lambda: not any(part.lacks for part in screen.sheet.parts))
    await pilot.pause()


def answers(screen: CalculatorsScreen) -> str:
    """All lines of the answers, not only those in sight."""
    panel = screen.query_one(LinesScroll)
    return "\n".join("".join(part.text for part in line) for line in panel.lines)


def wrong(screen: CalculatorsScreen, name: str) -> str:
    return screen.form.fields[name].said


async def test_one_key_opens_it_from_the_first_screen_with_the_unit_at_hand(desk: Desk, unit_id: int) -> None:
    async with first_screen(desk) as (first, pilot):
        await until(pilot, lambda: first.unit_here() is not None)
        await pilot.press("l")
        await until(pilot, lambda: isinstance(first.app.screen, CalculatorsScreen))
        screen = first.app.screen
        assert isinstance(screen, CalculatorsScreen)
        assert screen.unit_id == unit_id
        await pilot.press("escape")
        await until(pilot, lambda: first.app.screen is first)
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(first.app.screen, UnitScreen))
        await until(pilot, lambda: first.app.screen.unit_here() is not None)  # type: ignore[attr-defined]
        await pilot.press("l")
        await until(pilot, lambda: isinstance(first.app.screen, CalculatorsScreen))
        assert first.app.screen.unit_id == unit_id  # type: ignore[attr-defined]


@pytest.mark.parametrize("key", SCREEN_KEYS["calculators"], ids=lambda key: key.id)
def test_every_key_has_an_action_behind_it(key) -> None:
    assert hasattr(CalculatorsScreen, f"action_{key.action}")


async def test_the_arrows_choose_and_enter_goes_to_the_figures(desk: Desk) -> None:
    async with calculators(desk) as (screen, _, pilot):
        await pilot.press("down", "down")
        assert screen.calculator.name == "solvent"
        await until(pilot, lambda: "Solvent air" in text_of(screen.query_one("#head")))
        await pilot.press("enter")
        await until(pilot, lambda: screen.focused is screen.form.fields["used"])


async def test_answers_come_as_one_types(desk: Desk) -> None:
    async with calculators(desk) as (screen, _, pilot):
        assert "waits for Widest part to pass over, Cable to grip" in " ".join(answers(screen).split())
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(screen.focused, Input))
        await typed(pilot, "5.5")
        await pilot.press("enter")
        await typed(pilot, "3")
        assert "Take 9/3" not in answers(screen), "3 mm is just what it recovers to"
        await typed(pilot, ".5")
        await until(pilot, lambda: "Take 9/3 mm, 3:1" in answers(screen))
        await pilot.press("down")
        await typed(pilot, "30")
        await until(pilot, lambda: "Cut 33.3 mm" in answers(screen))


@pytest.mark.parametrize("size", SIZES)
async def test_every_calculator_shows_caution_answers_formula_and_source(
    desk: Desk, size: tuple[int, int]
) -> None:
    async with calculators(desk, size=size) as (screen, _, pilot):
        for calculator in CALCULATORS:
            await fill(screen, pilot, calculator.name)
            cautions = screen.query_one("#cautions", LinesPanel)
            shown = " ".join(text_of(cautions).split()).replace("! ", "")
            assert shown == " ".join(calculator.cautions)
            assert screen.region.contains_region(cautions.region)
            check_answers(screen, calculator)


def check_answers(screen: CalculatorsScreen, calculator: Calculator) -> None:
    words = " ".join(answers(screen).split())
    for answer in screen.sheet.answers:
        assert " ".join(answer.shown().split()) in words
        assert answer.label in words
    for line in (*calculator.formulas, *calculator.sources):
        assert " ".join(line.split()) in words
    panel = screen.query_one(LinesScroll)
    assert panel.region.height > 4, "room for at least a few answers"
    assert all(width_of(line) <= panel.line_width for line in panel.lines)


@pytest.mark.parametrize("size", SIZES)
async def test_all_fields_can_be_reached_and_seen(desk: Desk, size: tuple[int, int]) -> None:
    async with calculators(desk, size=size) as (screen, _, pilot):
        await choose(screen, pilot, "paste")
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(screen.focused, Input))
        for name in screen.form.fields:
            assert screen.form.name_of(screen.focused) == name  # type: ignore[arg-type]
            await pilot.pause()
            assert screen.focused is not None
            figures = screen.query_one("#figures").region
            assert figures.contains_region(screen.focused.region), name
            await pilot.press("down")


async def test_what_is_wrong_stands_under_its_figure_and_goes_with_it(desk: Desk) -> None:
    async with calculators(desk) as (screen, _, pilot):
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(screen.focused, Input))
        await typed(pilot, "5 kg")
        await until(pilot, lambda: "has a unit that does not fit" in wrong(screen, "over"))
        screen.form.put({"over": "0", "cable": "[/] bad"})
        await until(pilot, lambda: "is nothing" in wrong(screen, "over"))
        await until(pilot, lambda: "“[/] bad” is not a figure" in wrong(screen, "cable"))
        screen.form.put({"over": "5.5", "cable": "3.5"})
        await until(pilot, lambda: wrong(screen, "over") == "" == wrong(screen, "cable"))
        assert "Take 9/3 mm" in answers(screen)


async def test_a_sum_that_cannot_be_says_so_among_the_answers(desk: Desk) -> None:
    async with calculators(desk) as (screen, _, pilot):
        await fill(screen, pilot, "paste")
        screen.form.put({"hot_before": "20"})
        await until(pilot, lambda: "A chip at 20 °C under load" in " ".join(answers(screen).split()))


async def test_a_choice_changes_the_answer(desk: Desk) -> None:
    async with calculators(desk) as (screen, _, pilot):
        await fill(screen, pilot, "touch")
        assert "not over the limit" in answers(screen)
        screen.form.fields["surface"].put("55")
        await until(pilot, lambda: "▲ OVER the limit" in answers(screen))
        screen.form.query(ChoiceField).last().put("1 s to 10 s")
        await until(pilot, lambda: "not over the limit" in answers(screen))


async def test_tab_goes_round_the_panels(desk: Desk) -> None:
    async with calculators(desk) as (screen, _, pilot):
        assert isinstance(screen.focused, CalculatorList)
        await pilot.press("tab")
        await until(pilot, lambda: isinstance(screen.focused, Input))
        await pilot.press("tab")
        assert isinstance(screen.focused, LinesScroll)
        await pilot.press("tab")
        assert isinstance(screen.focused, CalculatorList)


async def test_the_answers_follow_the_figure_typed(desk: Desk) -> None:
    async with calculators(desk, size=(80, 24)) as (screen, _, pilot):
        await fill(screen, pilot, "battery")
        screen.form.fields["load"].take_focus()
        await pilot.pause()
        await typed(pilot, "0")
        panel = screen.query_one(LinesScroll)
        await until(pilot, lambda: "Runtime" in text_of(panel))


async def test_a_word_is_barred_from_a_figure_and_the_next_digit_takes_the_sentence_away(desk: Desk) -> None:
    async with calculators(desk) as (screen, _, pilot):
        field = screen.form.fields["over"]
        field.take_focus()
        await pilot.pause()
        await typed(pilot, "soon")
        await until(pilot, lambda: MADE_OF[FIGURE] in field.said)
        assert field.value == ""
        await typed(pilot, "5")
        await until(pilot, lambda: field.said == "")
        assert field.value == "5"


async def test_what_was_typed_stays_while_another_is_looked_at(desk: Desk) -> None:
    async with calculators(desk) as (screen, _, pilot):
        screen.form.put({"over": "5.5"})
        await pilot.pause()
        await choose(screen, pilot, "stock")
        await choose(screen, pilot, "tubing")
        assert screen.form.typed["over"] == "5.5"
        await pilot.press("ctrl+n")
        await until(pilot, lambda: screen.form.typed["over"] == "")
        assert screen.form.typed["shrink"] == "10"


async def test_the_result_is_put_on_a_task_of_the_unit_and_taken_back(desk: Desk, unit_id: int) -> None:
    async with calculators(desk, unit_id) as (screen, app, pilot):
        await fill(screen, pilot, "tubing")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: runs(app.screen, choose_place))
        await until(pilot, lambda: app.screen.query_one(OptionList).option_count == 2)
        await pilot.press("down", "enter")
        await until(pilot, lambda: read_unit(desk, unit_id).note != "")
        await until(pilot, lambda: app.screen is screen)
    assert read_unit(desk, unit_id).note == "2026-11-25 (Mend the lead) Tubing: Take 9/3 mm, 3:1; Cut 33.3 mm"
    assert undo(desk).summary.startswith("Noted on ")
    assert read_unit(desk, unit_id).note == ""


async def test_it_is_put_on_the_unit_itself_or_nowhere(desk: Desk, unit_id: int) -> None:
    async with calculators(desk, unit_id) as (screen, app, pilot):
        await fill(screen, pilot, "tubing")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: runs(app.screen, choose_place))
        await pilot.press("escape")
        await until(pilot, lambda: app.screen is screen)
        assert read_unit(desk, unit_id).note == ""
        await pilot.press("ctrl+s")
        await until(pilot, lambda: runs(app.screen, choose_place))
        await until(pilot, lambda: app.screen.query_one(OptionList).option_count == 2)
        await pilot.press("enter")
        await until(pilot, lambda: read_unit(desk, unit_id).note != "")
    assert read_unit(desk, unit_id).note.startswith("2026-11-25 Tubing: ")


async def test_without_result_or_unit_nothing_is_put(desk: Desk) -> None:
    async with calculators(desk) as (screen, app, pilot):
        await pilot.press("ctrl+s")
        await until(
            pilot, lambda: _toasts(app) == ["Tubing has no result yet. Give the figures it needs first."]
        )
        await fill(screen, pilot, "tubing")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: any("no unit to put it on: press l" in toast for toast in _toasts(app)))
        assert app.screen is screen


async def test_figures_survive_leaving_and_belong_to_their_unit(desk: Desk, unit_id: int) -> None:
    other = add_unit(desk, maker="", model="Model 8").unit_id
    async with calculators(desk, unit_id) as (screen, _, pilot):
        await choose(screen, pilot, "paste")
        screen.form.put({"die": "150"})
        await until(pilot, lambda: read_draft(desk, f"calculators {unit_id}") == {"paste.die": "150"})
        screen.form.put({"tube": "4"})
        await pilot.pause()
        await pilot.press("escape")
        await until(pilot, lambda: "paste.tube" in read_draft(desk, f"calculators {unit_id}"))
    async with calculators(desk, unit_id) as (screen, _, pilot):
        await choose(screen, pilot, "paste")
        await until(pilot, lambda: screen.form.typed["die"] == "150")
        assert screen.form.typed["tube"] == "4"
        await pilot.press("ctrl+n")
        await until(pilot, lambda: read_draft(desk, f"calculators {unit_id}") == {})
    async with calculators(desk, other) as (screen, _, pilot):
        await choose(screen, pilot, "paste")
        assert screen.form.typed["die"] == ""


def _toasts(app: Host) -> list[str]:
    return [note.message for note in app._notifications]
