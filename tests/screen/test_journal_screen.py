"""The journal's screen: pages, what a line changed, taking back, the way to a unit."""

from __future__ import annotations

import pytest
from textual.screen import Screen
from textual.widgets import Static

from bench.dashboard.screens import journal as journal_module
from bench.dashboard.screens.dialogs.pick import ChooseUndo
from bench.dashboard.screens.dialogs.questions import ReasonDialog
from bench.dashboard.screens.journal import JournalScreen
from bench.dashboard.screens.stock import StockScreen
from bench.dashboard.screens.unit import UnitScreen
from bench.desk import Desk
from bench.errors import NotFound
from bench.views.unit import read_unit
from bench.work.moves import hold_unit
from bench.work.parts import fit_part
from bench.work.safety import report_cell
from bench.work.shop import add_person
from tests.screen.host import opened, settled, texts, typed, until
from tests.screen.undoing import undo_newest
from tests.screen.workshop import fill_shelf, new_unit


@pytest.mark.parametrize("size", [(80, 24), (120, 36), (200, 50)])
async def test_lines_and_what_one_changed(desk: Desk, size: tuple[int, int]) -> None:
    unit_id = new_unit(desk)
    hold_unit(desk, unit_id, "part [b]on order[/b]")
    async with opened(desk, JournalScreen(), size) as (app, _):
        shown = texts(app.screen)
        assert f"Put {read_unit(desk, unit_id).tag} on hold" in shown
        detail = texts(app.screen.query_one("#detail"))
        assert "part [b]on order[/b]" in detail
        assert "unit 1 changed" in detail
        assert "held: – → 25 Nov 10:00" in detail


async def test_an_amount_that_changed_stands_there_as_money(desk: Desk) -> None:
    fit_part(desk, new_unit(desk), name="fan", cost_text="15.05")
    async with opened(desk, JournalScreen(), (200, 50)) as (app, _):
        assert "cost: – → 15.05 EUR" in texts(app.screen.query_one("#detail"))


async def test_undo_and_redo_of_the_line_under_the_cursor_are_seen_beforehand(desk: Desk) -> None:
    unit_id = new_unit(desk)
    hold_unit(desk, unit_id, "waits")
    async with opened(desk, JournalScreen()) as (app, pilot):
        await until(pilot, lambda: "u undoes it" in texts(app.screen.query_one("#detail")))
        await pilot.press("u")
        await until(pilot, lambda: "(undone)" in texts(app.screen))
        assert "↶ Undid: Put" in texts(app.screen)
        assert read_unit(desk, unit_id).held is None
        await until(pilot, lambda: "u redoes it" in texts(app.screen.query_one("#detail")))
        await pilot.press("u")
        await until(pilot, lambda: "Redid: Put" in texts(app.screen))
    assert read_unit(desk, unit_id).held is not None


async def test_an_earlier_line_is_undone_where_a_later_one_is_refused(desk: Desk) -> None:
    bo = desk.as_person(add_person(desk, "Bo"))
    first, second = new_unit(desk, model="first"), new_unit(desk, model="second")
    hold_unit(bo, second, "part on order")
    async with opened(desk, JournalScreen(), (120, 36)) as (app, pilot):
        await until(pilot, lambda: "Bo did it" in texts(app.screen.query_one("#detail")))
        await pilot.press("down")
        await until(pilot, lambda: "stands on it" in texts(app.screen.query_one("#detail")))
        await pilot.press("u")
        await until(pilot, lambda: "stands on it" in str([one.message for one in app._notifications]))
        await pilot.press("down")
        await until(pilot, lambda: "u undoes it" in texts(app.screen.query_one("#detail")))
        await pilot.press("u")
        await until(pilot, lambda: "(undone)" in texts(app.screen))
    with pytest.raises(NotFound):
        read_unit(desk, first)
    assert read_unit(desk, second).held is not None


async def test_a_reason_is_asked_for_where_one_is_due(desk: Desk) -> None:
    unit_id = new_unit(desk)
    report_cell(desk, unit_id, "wet")
    async with opened(desk, UnitScreen(unit_id), (120, 36)) as (app, pilot):
        await undo_newest(pilot)
        await until(pilot, lambda: isinstance(app.screen, ReasonDialog))
        await settled(pilot)
        await typed(pilot, "wrong unit")
        await pilot.press("enter")
        await until(pilot, lambda: read_unit(desk, unit_id).held is None)


async def test_nothing_to_undo_is_said_and_changes_nothing(desk: Desk) -> None:
    bo = desk.as_person(add_person(desk, "Bo"))
    async with opened(bo, JournalScreen()) as (app, pilot):
        await pilot.press("u")
        await settled(pilot)
        assert "only they can undo it" in str([one.message for one in app._notifications])
        assert "undone" not in texts(app.screen)
    async with opened(bo, StockScreen()) as (app, pilot):
        await pilot.press("u")
        await until(pilot, lambda: isinstance(app.screen, ChooseUndo))
        await settled(pilot)
        await pilot.press("ctrl+s")
        await settled(pilot)
        assert "no change of yours" in texts_of_sentence(app.screen)


def texts_of_sentence(screen: Screen[object]) -> str:
    return str(screen.query_one("#wrong", Static).render())


async def test_it_reads_on_further_back(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(journal_module, "PAGE", 3)
    fill_shelf(desk)
    new_unit(desk)
    async with opened(desk, JournalScreen()) as (app, pilot):
        screen = app.screen
        assert isinstance(screen, JournalScreen)
        assert len(screen.table("rows").rows.items) == 3
        assert "back to" in texts(screen.query_one("#head"))
        await pilot.press("o", "o")
        await until(pilot, lambda: len(screen.table("rows").rows.items) == 7)
        assert "all of it" in texts(screen.query_one("#head"))
        new_unit(desk, model="later")
        await until(pilot, lambda: "later" in texts(screen))
        assert len(screen.table("rows").rows.items) == 8


async def test_enter_opens_the_unit_and_one_units_journal_stays_with_it(desk: Desk) -> None:
    unit_id = new_unit(desk)
    other = new_unit(desk, model="Other")
    async with opened(desk, JournalScreen()) as (app, pilot):
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, UnitScreen))
        assert isinstance(app.screen, UnitScreen)
        assert app.screen.unit_id == other
    async with opened(desk, JournalScreen(unit_id)) as (app, pilot):
        assert "Other" not in texts(app.screen)
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])
