"""Owners' repairs and general expenses on the screen, each act by its key."""

from __future__ import annotations

import pytest
from textual.widgets import Static

from bench.dashboard.screens.dialogs.access_word import AccessWordDialog
from bench.dashboard.screens.dialogs.expense_forms import expense_form, power_form, task_watts_form
from bench.dashboard.screens.dialogs.leaving_forms import leave_form
from bench.dashboard.screens.dialogs.repair_forms import (
    answer_form,
    give_form,
    job_form,
    line_form,
    repair_terms_form,
)
from bench.dashboard.screens.expenses import ExpensesScreen
from bench.dashboard.screens.months import MonthsScreen
from bench.dashboard.screens.repair_job import JobScreen
from bench.dashboard.screens.repair_jobs import JobsScreen
from bench.dashboard.screens.repair_papers import RepairPapersScreen
from bench.dashboard.screens.trade import TradeScreen
from bench.dashboard.screens.unit import UnitScreen
from bench.dashboard.widgets.lines_scroll import LinesScroll
from bench.desk import Desk
from bench.domain.party import PartyTyped
from bench.views.expenses import read_expenses
from bench.views.repair_jobs import the_job
from bench.views.trade import read_trade
from bench.work.expenses import add_expense
from bench.work.quotes import add_line, answer_quote, give_quote
from bench.work.repair_jobs import open_job, tell_ready
from bench.work.repair_terms import edit_repair_terms
from bench.work.units import add_unit
from bench.work.unlocking import keep_access_word
from tests.clocks import HandSetClock
from tests.screen.host import Host, opened, runs, sentences, settled, texts, typed, until
from tests.work.looked_into import looked_into

SIZES = [(80, 24), (120, 36), (200, 50)]
DAY_MINUTES = 24 * 60


@pytest.fixture
def unit_id(desk: Desk) -> int:
    owner = PartyTyped("Odo [b]Owner[/b]", contact="o@example.org")
    return looked_into(desk, add_unit(desk, maker="Maker", model="[/] odd", owner=owner).unit_id)


def put(app: Host, **values: str) -> None:
    for name, value in values.items():
        app.screen.field(name).put(value)  # type: ignore[attr-defined]


def paper(app: Host) -> str:
    """What the paper that is shown says."""
    lines = app.screen.query_one(LinesScroll).lines
    return "\n".join("".join(part.text for part in line) for line in lines)


def taken_in(desk: Desk, unit_id: int) -> int:
    job_id = open_job(desk, unit_id, complaint="it [i]goes off[/i]").job_id
    add_line(desk, job_id, what="fan", kind="parts", price_text="40")
    add_line(desk, job_id, what="fit it", kind="labour", quantity_text="1.5", price_text="48")
    return job_id


@pytest.mark.parametrize("size", SIZES)
async def test_a_repair_stands_there_with_its_quote(desk: Desk, unit_id: int, size: tuple[int, int]) -> None:
    taken_in(desk, unit_id)
    async with opened(desk, JobScreen(unit_id), size) as (app, pilot):
        await until(pilot, lambda: "72.00" in texts(app.screen))
        shown = texts(app.screen)
        assert "it [i]goes off[/i]" in shown
        assert "Odo [b]Owner[/b]" in shown
        assert "Net 112.00 EUR, total 112.00 EUR." in shown
        assert "not quoted yet" in texts(app.screen.query_one("#head"))
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])


async def test_from_the_counter_to_the_bill_by_keys(desk: Desk, unit_id: int) -> None:
    async with opened(desk, JobScreen(unit_id), (120, 36)) as (app, pilot):
        assert "No repair yet" in texts(app.screen)
        await pilot.press("l")  # there is nothing to quote for yet
        await settled(pilot)
        assert isinstance(app.screen, JobScreen)
        await pilot.press("n")
        await until(pilot, lambda: runs(app.screen, job_form))
        await settled(pilot)
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "complaint is empty" in sentences(app))
        put(app, complaint="it goes off", data_consent="must be kept")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "must be kept" in texts(app.screen))
        await pilot.press("l")
        await until(pilot, lambda: runs(app.screen, line_form))
        await settled(pilot)
        put(app, what="fan", price_text="40")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "total 40.00 EUR" in texts(app.screen))
        await pilot.press("g")
        await until(pilot, lambda: runs(app.screen, give_form))
        await settled(pilot)
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "open until" in texts(app.screen.query_one("#head")))
        await pilot.press("a")
        await until(pilot, lambda: runs(app.screen, answer_form))
        await settled(pilot)
        put(app, how="by phone")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "quote accepted" in texts(app.screen.query_one("#head")))
        await pilot.press("r")
        await until(pilot, lambda: "ready since" in texts(app.screen.query_one("#head")))
        await pilot.press("h")
        await until(pilot, lambda: runs(app.screen, leave_form))
        await settled(pilot)
        known = str(app.screen.query_one("#known", Static).content)
        assert known.startswith("The bill comes to 40.00 EUR.\nIt is Odo [b]Owner[/b]'s.")
        put(app, reason="repaired")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "handed back" in texts(app.screen.query_one("#head")))
        await pilot.press("p")
        await until(pilot, lambda: isinstance(app.screen, RepairPapersScreen))
        await until(pilot, lambda: "Handed back on" in paper(app))
        await pilot.press("tab")
        await until(pilot, lambda: "quote for a repair" in paper(app))
    assert the_job(desk, unit_id).job.price_minor == 4_000


async def test_a_line_is_set_right_and_taken_out(desk: Desk, unit_id: int) -> None:
    taken_in(desk, unit_id)
    async with opened(desk, JobScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("tab", "enter")
        await until(pilot, lambda: runs(app.screen, line_form))
        await settled(pilot)
        put(app, price_text="45")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "total 117.00 EUR" in texts(app.screen))
        await pilot.press("x")
        await until(pilot, lambda: "total 72.00 EUR" in texts(app.screen))


async def test_the_access_word_is_typed_unseen_and_shown_by_one_key(desk: Desk, unit_id: int) -> None:
    job_id = taken_in(desk, unit_id)
    async with opened(desk, JobScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("w")
        await until(pilot, lambda: isinstance(app.screen, AccessWordDialog))
        await settled(pilot)
        await typed(pilot, "marmalade")
        await settled(pilot)
        assert "marmalade" not in app.export_screenshot()
        await pilot.press("enter")
        await until(pilot, lambda: "kept apart" in texts(app.screen))
        assert "marmalade" not in texts(app.screen)
        with desk.store.read() as connection:
            assert "marmalade" not in str(connection.execute("SELECT body FROM draft").fetchall())
        await pilot.press("s")
        await until(pilot, lambda: [one.message for one in app._notifications] == ["marmalade"])
        await pilot.press("e")
        await until(pilot, lambda: "kept apart" not in texts(app.screen))
    keep_access_word(desk, job_id, "again")
    assert the_job(desk, unit_id).job.has_access_word


async def test_what_nobody_collects_stands_out_with_local_law(
    desk: Desk, unit_id: int, clock: HandSetClock
) -> None:
    edit_repair_terms(desk, tax_text="0", quote_days_text="14", warranty_text="0", uncollected_text="30")
    tell_ready(desk, taken_in(desk, unit_id))
    clock.advance(minutes=31 * DAY_MINUTES)
    async with opened(desk, JobsScreen(), (80, 24)) as (app, pilot):
        await until(pilot, lambda: "not collected since" in texts(app.screen))
        await until(pilot, lambda: "for local" in texts(app.screen))
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, JobScreen))
        await until(pilot, lambda: "for local" in texts(app.screen))


async def test_the_unit_tells_its_repair_and_opens_it(desk: Desk, unit_id: int) -> None:
    taken_in(desk, unit_id)
    async with opened(desk, UnitScreen(unit_id), (120, 36)) as (app, pilot):
        assert "not quoted yet" in texts(app.screen.query_one("#facts"))
        table = app.screen.table("facts")  # type: ignore[attr-defined]
        table.take_focus()
        await settled(pilot)
        while table.key != "repair":
            await pilot.press("down")
            await settled(pilot)
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, JobScreen))


async def test_a_bill_beyond_the_quote_is_said(desk: Desk, unit_id: int) -> None:
    job_id = taken_in(desk, unit_id)
    give_quote(desk, job_id)
    answer_quote(desk, job_id, answer="accepted")
    add_line(desk, job_id, what="new cable", kind="parts", price_text="8")
    async with opened(desk, JobScreen(unit_id), (120, 36)) as (app, pilot):
        await until(pilot, lambda: "parts, beyond" in texts(app.screen))
        assert "Quoted: 112.00 EUR." in texts(app.screen)


@pytest.mark.parametrize("size", SIZES)
async def test_expenses_stand_there_by_line_and_category(desk: Desk, size: tuple[int, int]) -> None:
    add_expense(desk, category="rent [b]", amount_text="480")
    async with opened(desk, ExpensesScreen(), size) as (app, _):
        assert "rent [b]" in texts(app.screen)
        assert "-480.00 EUR" in texts(app.screen.query_one("#head"))


async def test_an_expense_is_kept_set_right_filtered_and_removed(desk: Desk) -> None:
    add_expense(desk, category="teaching", amount_text="100")
    async with opened(desk, ExpensesScreen(), (120, 36)) as (app, pilot):
        await pilot.press("n")
        await until(pilot, lambda: runs(app.screen, expense_form))
        await settled(pilot)
        put(app, category="rent", amount_text="480")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "-380.00 EUR" in texts(app.screen.query_one("#head")))
        await pilot.press("home", "enter")
        await until(pilot, lambda: runs(app.screen, expense_form))
        await settled(pilot)
        put(app, amount_text="470")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "-370.00 EUR" in texts(app.screen.query_one("#head")))
        await pilot.press("tab", "enter")
        await until(pilot, lambda: "100.00 EUR" in texts(app.screen.query_one("#head")))
        await pilot.press("c")
        await until(pilot, lambda: "-370.00 EUR" in texts(app.screen.query_one("#head")))
        await pilot.press("home", "x")
        await until(pilot, lambda: len(read_expenses(desk).lines) == 1)
        await pilot.press("left")
        await until(pilot, lambda: "October 2026" in texts(app.screen.query_one("#head")))
        await pilot.press("m")
        await until(pilot, lambda: "General expenses, 2026" in texts(app.screen.query_one("#head")))


async def test_a_category_of_the_month_opens_its_lines(desk: Desk) -> None:
    add_expense(desk, category="rent", amount_text="480")
    async with opened(desk, MonthsScreen(), (120, 36)) as (app, pilot):
        assert "rent (1)" in texts(app.screen)
        table = app.screen.table("total")  # type: ignore[attr-defined]
        table.take_focus()
        await settled(pilot)
        while table.key != ("general", "rent"):
            await pilot.press("down")
            await settled(pilot)
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, ExpensesScreen))
        await until(pilot, lambda: "rent" in texts(app.screen.query_one("#head")))


async def test_the_terms_of_repairs_and_electricity_are_set_where_the_shop_trades(desk: Desk) -> None:
    async with opened(desk, TradeScreen(), (120, 36)) as (app, pilot):
        table = app.screen.table("rows")  # type: ignore[attr-defined]
        for kind, form, values in (
            ("repairs", repair_terms_form, {"tax_text": "19"}),
            ("electricity", power_form, {"watts_text": "40", "kwh_price_text": "0.3214"}),
        ):
            while table.key[0] != kind:
                await pilot.press("down")
                await settled(pilot)
            await pilot.press("enter")
            await until(pilot, lambda form=form: runs(app.screen, form))
            await settled(pilot)
            put(app, **values)
            await pilot.press("ctrl+s")
            await until(pilot, lambda: isinstance(app.screen, TradeScreen))
        await until(pilot, lambda: "0.3214 EUR" in texts(app.screen))
        await pilot.press("n")
        await until(pilot, lambda: runs(app.screen, task_watts_form))
        await settled(pilot)
        put(app, name="soak test", watts_text="65")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "65 W" in texts(app.screen))
    found = read_trade(desk)
    assert (found.repair_tax_per_10000, found.machine_watts, found.mwh_price_minor) == (1_900, 40, 32_140)
