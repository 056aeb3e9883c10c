"""A model's page on the screen: a step and screws by key, the list of models, in the opening checklist."""

from __future__ import annotations

from pathlib import Path

import pytest

from bench.dashboard.screens.dialogs.model_forms import model_screw_form, model_step_form, share_page_form
from bench.dashboard.screens.dialogs.offer import OfferForm
from bench.dashboard.screens.dialogs.safety_list import SafetyListDialog
from bench.dashboard.screens.faults import FaultsScreen
from bench.dashboard.screens.model_page import ModelPageScreen
from bench.dashboard.screens.models import ModelsScreen
from bench.desk import Desk
from bench.domain.safety import OPENING
from bench.views.model_page import read_model_page
from bench.work.faults import add_fault, edit_fault
from bench.work.model_pages import add_model_screw, add_model_step, edit_model_page
from bench.work.photographs import attach_photographs
from tests.pictures import jpeg
from tests.screen.host import opened, runs, settled, texts, until
from tests.screen.undoing import undo_newest
from tests.work.sale_steps import sell
from tests.work.trade_steps import COUNTER, new_unit, set_trade

SIZES = [(80, 24), (120, 36), (200, 50)]


@pytest.fixture
def unit_id(desk: Desk) -> int:
    return new_unit(desk, "100")


@pytest.mark.parametrize("size", SIZES)
async def test_a_step_and_screws_by_key(desk: Desk, unit_id: int, size: tuple[int, int]) -> None:
    async with opened(desk, ModelPageScreen(unit_id), size) as (app, pilot):
        await pilot.press("n")
        await until(pilot, lambda: runs(app.screen, model_step_form))
        await settled(pilot)
        await pilot.press(*"lift", "ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, ModelPageScreen))
        await until(pilot, lambda: "lift" in texts(app.screen))
        await pilot.press("c")
        await until(pilot, lambda: runs(app.screen, model_screw_form))
        await settled(pilot)
        await pilot.press(*"hinge", "enter", "2", "enter", *"M2", "ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, ModelPageScreen))
        await until(pilot, lambda: "2 screws known" in texts(app.screen))
        await undo_newest(pilot)
        await until(pilot, lambda: read_model_page(desk, "Maker", "M").screws == ())


async def test_enter_sets_a_step_right_and_x_removes_it(desk: Desk, unit_id: int) -> None:
    add_model_step(desk, "Maker", "M", words="first [b]bold[/b]")
    async with opened(desk, ModelPageScreen(unit_id), (120, 36)) as (app, pilot):
        assert "first [b]bold[/b]" in texts(app.screen)
        await pilot.press("enter")
        await until(pilot, lambda: runs(app.screen, model_step_form))
        await settled(pilot)
        await pilot.press("end", "!", "ctrl+s")
        await until(pilot, lambda: "first [b]bold[/b]!" in texts(app.screen))
        await pilot.press("x")
        await until(pilot, lambda: read_model_page(desk, "Maker", "M").steps == ())


async def test_a_page_is_saved_for_another_shop(desk: Desk, unit_id: int, tmp_path: Path) -> None:
    edit_model_page(desk, "Maker", "M", traps="flat cable")
    async with opened(desk, ModelPageScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("s")
        await until(pilot, lambda: runs(app.screen, share_page_form))
        await settled(pilot)
        app.screen.field("path").put(str(tmp_path / "page.json"))  # type: ignore[attr-defined]
        await pilot.press("ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, ModelPageScreen))
    assert "flat cable" in (tmp_path / "page.json").read_text()


async def test_the_list_opens_a_page(desk: Desk, unit_id: int) -> None:
    async with opened(desk, ModelsScreen(), (80, 24)) as (app, pilot):
        assert "Maker" in texts(app.screen)
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, ModelPageScreen))


@pytest.mark.parametrize("size", SIZES)
async def test_the_opening_list_shows_its_screws_and_traps(
    desk: Desk, unit_id: int, size: tuple[int, int]
) -> None:
    add_model_screw(desk, "Maker", "M", place="bottom cover", size="M2 x 4", count_text="8")
    edit_model_page(desk, "Maker", "M", traps="flat cable")
    async with opened(desk, SafetyListDialog(unit_id, OPENING), size) as (app, _):
        shown = texts(app.screen.query_one("#page"))
        assert "Traps: flat cable" in shown
        assert "Screws: 8 M2 x 4, bottom cover" in shown


async def test_an_unwritten_model_takes_no_room_in_the_list(desk: Desk, unit_id: int) -> None:
    async with opened(desk, SafetyListDialog(unit_id, OPENING)) as (app, _):
        assert not app.screen.query_one("#page").display


@pytest.mark.parametrize("size", SIZES)
async def test_a_known_fault_stands_there_and_opens_its_unit(
    desk: Desk, unit_id: int, size: tuple[int, int]
) -> None:
    kept = add_fault(desk, unit_id, symptom="lid [b]flexes", place="hinge")
    edit_fault(desk, kept.fault_id, state="cured", done="hinge replaced")
    async with opened(desk, ModelPageScreen(unit_id), size) as (app, pilot):
        await settled(pilot)
        shown = texts(app.screen.query_one("#faults"))
        assert "lid [b]flexes" in shown
        app.screen.query_one("#faults RowList").focus()
        await settled(pilot)
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, FaultsScreen))


async def test_a_photograph_stands_there_once_there_is_one(desk: Desk, unit_id: int, tmp_path: Path) -> None:
    (tmp_path / "latch.jpg").write_bytes(jpeg())
    async with opened(desk, ModelPageScreen(unit_id), (120, 36)) as (app, _):
        assert not app.screen.query_one("#photographs").display
    attach_photographs(desk, unit_id, [str(tmp_path / "latch.jpg")], caption="the latch", model=True)
    async with opened(desk, ModelPageScreen(unit_id), (120, 36)) as (app, _):
        assert "the latch" in texts(app.screen.query_one("#photographs"))


async def test_an_offer_tells_the_faults_of_the_model(desk: Desk, unit_id: int) -> None:
    for place in ("hinge", "lid", "fan", "board", "case"):
        add_fault(desk, unit_id, symptom="odd [b]noise", place=place)
    async with opened(desk, OfferForm(), (120, 36)) as (app, pilot):
        await pilot.press(*"m", "enter", *"maker")
        await until(pilot, lambda: "Had: case: odd [b]noise" in texts(app.screen.query_one("#sum")))
        assert "and 1 more on the model's page" in texts(app.screen.query_one("#sum"))


async def test_an_offer_of_a_model_that_is_known_says_so(desk: Desk, unit_id: int) -> None:
    set_trade(desk)
    edit_model_page(desk, "Maker", "M", traps="flat [b]cable")
    for price in ("200", "260", "280"):
        sell(desk, new_unit(desk, "50"), price, channel_id=COUNTER)
    async with opened(desk, OfferForm(), (120, 36)) as (app, pilot):
        await pilot.press(*"m", "enter", *"maker")
        await until(pilot, lambda: "3 sold, today" in texts(app.screen.query_one("#sum")))
        assert "Traps: flat [b]cable" in texts(app.screen.query_one("#sum"))
