"""A bad cell: reported, shown with what the shop does next, cleared only with what was done."""

from __future__ import annotations

from textual.widgets import Static

from bench.dashboard.screens.dialogs.cell import CellDialog
from bench.desk import Desk
from bench.views.safety import read_safety
from bench.views.unit import read_unit
from bench.work.safety import report_cell
from tests.screen.host import opened, settled, typed, until
from tests.screen.workshop import new_unit


async def test_a_wet_cell_holds_the_unit(desk: Desk) -> None:
    unit_id = new_unit(desk)
    async with opened(desk, CellDialog(unit_id)) as (app, pilot):
        assert "Do not charge it" in str(app.screen.query_one("#next", Static).render())
        await pilot.press("3")
        await until(pilot, lambda: app.answers == [True])
    assert read_safety(desk, unit_id).cell_finding == "wet"
    assert read_unit(desk, unit_id).held == "a wet cell"


async def test_a_button_reports_too(desk: Desk) -> None:
    unit_id = new_unit(desk)
    async with opened(desk, CellDialog(unit_id)) as (app, pilot):
        await pilot.click("#do-punctured")
        await until(pilot, lambda: app.answers == [True])
    assert read_safety(desk, unit_id).cell_finding == "punctured"


async def test_clearing_needs_what_was_done(desk: Desk) -> None:
    unit_id = new_unit(desk)
    report_cell(desk, unit_id, "swollen")
    async with opened(desk, CellDialog(unit_id)) as (app, pilot):
        assert "A swollen cell is recorded" in str(app.screen.query_one("#finding", Static).render())
        await pilot.press("enter")
        await settled(pilot)
        dialog = app.screen
        assert isinstance(dialog, CellDialog)
        assert "is empty" in dialog.field("reason").said
        await typed(pilot, "handed to the carrier")
        await pilot.press("enter")
        await until(pilot, lambda: app.answers == [True])
    assert read_safety(desk, unit_id).cell_finding is None


async def test_escape_reports_nothing(desk: Desk) -> None:
    unit_id = new_unit(desk)
    async with opened(desk, CellDialog(unit_id)) as (app, pilot):
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])
    assert read_safety(desk, unit_id).cell_finding is None
