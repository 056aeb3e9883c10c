"""A unit's money on the screen: the sum, the rows behind each line, the sale and the return."""

from __future__ import annotations

import pytest
from textual.widgets import Static

from bench.dashboard.presenters.unit_money_rows import money_rows
from bench.dashboard.screens.dialogs.buying_forms import purchase_form
from bench.dashboard.screens.dialogs.field import Field
from bench.dashboard.screens.dialogs.leaving_forms import leave_form
from bench.dashboard.screens.dialogs.questions import BeforeListing
from bench.dashboard.screens.dialogs.selling_forms import return_form, sell_form
from bench.dashboard.screens.dialogs.tasks_in_the_way import SettleTasks
from bench.dashboard.screens.money import MoneyScreen
from bench.dashboard.screens.unit import UnitScreen
from bench.dashboard.screens.wiping import WipingScreen
from bench.dashboard.widgets.row_table import RowTable
from bench.desk import Desk
from bench.domain.party import PartyTyped
from bench.views.drives import read_drives
from bench.views.kinds import context_of
from bench.views.purchase import read_purchase
from bench.views.sales import read_sales
from bench.views.shop import read_draft
from bench.views.unit import read_unit
from bench.views.unit_money import read_unit_money
from bench.work.drives import add_drive
from bench.work.faults import add_fault
from bench.work.parts import fit_part
from bench.work.purchases import edit_purchase
from bench.work.selling import sell_unit
from bench.work.shop import edit_shop
from bench.work.timers import start_task, stop_entry
from bench.work.trade import add_channel
from bench.work.units import add_unit
from tests.clocks import HandSetClock
from tests.screen.host import Host, opened, runs, settled, texts, typed, until
from tests.screen.workshop import LOOK_OVER, new_unit, stage, task
from tests.work.looked_into import looked_into, looked_into_if_need_be

SIZES = [(80, 24), (120, 36), (200, 50)]


@pytest.fixture
def unit_id(desk: Desk, clock: HandSetClock) -> int:
    """Bought for 100, a part of 15, half an hour at 40 an hour, expected to sell for 260."""
    edit_shop(
        desk,
        name="Bench",
        currency="EUR",
        zone="Europe/Berlin",
        rate_text="40",
        forgotten_times_text="3",
        forgotten_least_text="120",
    )
    unit_id = add_unit(desk, maker="Maker", model="[/] odd [b]model[/b]", price_text="100").unit_id
    fit_part(desk, unit_id, name="fan [i]small[/i]", cost_text="15")
    edit_purchase(desk, unit_id, expected_text="260", bought_on_text="", invoice="R 7")
    looked_into(desk, unit_id)
    return unit_id


def said(app: Host) -> str:
    """Every sentence of a dialog."""
    fields = (field.said for field in app.screen.query(Field))
    return " ".join([*fields, *(str(one.render()) for one in app.screen.query(Static))])


def put_cursor(table: RowTable, words: str) -> None:
    table.take_focus()
    at = next(n for n, row in enumerate(table.rows.items) if not row.heading and words in row.cells[0].text)
    table.rows.move_to(at)


def shown(app: Host) -> MoneyScreen:
    assert isinstance(app.screen, MoneyScreen)
    return app.screen


@pytest.mark.parametrize("size", SIZES)
async def test_the_sum_stands_there_at_every_size(desk: Desk, unit_id: int, size: tuple[int, int]) -> None:
    async with opened(desk, MoneyScreen(unit_id), size) as (app, pilot):
        assert " 100.00 " in texts(shown(app).table("totals"))
        assert " 115.00 " in texts(shown(app).table("totals"))
        assert shown(app).table("totals").border_title == "Cost and proceeds, EUR"
        assert "[/] odd [b]model[/b]" in texts(app.screen)
        await pilot.press("tab")
        await settled(pilot)
        assert shown(app).table("behind").rows.size.height >= 3


async def test_a_line_shows_its_rows_and_they_add_up(desk: Desk, unit_id: int) -> None:
    async with opened(desk, MoneyScreen(unit_id), (120, 36)) as (app, pilot):
        put_cursor(shown(app).table("totals"), "parts bought")
        await until(pilot, lambda: "fan [i]small[/i]" in texts(shown(app).table("behind")))
        assert shown(app).behind is not None
        assert shown(app).behind.amount_minor == 1500
        put_cursor(shown(app).table("totals"), "cost so far")
        await until(pilot, lambda: "No rows behind" in texts(shown(app).table("behind")))


async def test_a_row_opens_what_can_be_set_right(desk: Desk, unit_id: int) -> None:
    async with opened(desk, MoneyScreen(unit_id), (120, 36)) as (app, pilot):
        put_cursor(shown(app).table("totals"), "price paid")
        await settled(pilot)
        await pilot.press("enter")
        await settled(pilot)
        assert shown(app).table("behind").is_current
        await pilot.press("enter")
        await until(pilot, lambda: runs(app.screen, purchase_form))
        await settled(pilot)
        form = app.screen
        assert runs(form, purchase_form)
        assert form.value("expected_text") == "260.00 EUR"
        form.field("expected_text").put("270")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: " 270.00 " in texts(app.screen))
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])


async def test_time_stands_apart_and_opens_its_entries(desk: Desk, clock: HandSetClock) -> None:
    unit_id = new_unit(desk)
    entry = start_task(desk, task(desk, unit_id, LOOK_OVER).task_id)
    clock.advance(30)
    stop_entry(desk, entry.entry_id)
    async with opened(desk, MoneyScreen(unit_id), (120, 36)) as (app, pilot):
        put_cursor(shown(app).table("totals"), "hands-on time")
        await until(pilot, lambda: LOOK_OVER[:8] in texts(shown(app).table("behind")))


async def test_selling_moves_the_unit_out_and_shows_its_margin(desk: Desk, unit_id: int) -> None:
    channel_id = add_channel(desk, "market [x]", share_text="10", fixed_text="0.35")
    async with opened(desk, MoneyScreen(unit_id), (120, 36)) as (app, pilot):
        await pilot.press("s")
        await until(pilot, lambda: runs(app.screen, sell_form))
        await settled(pilot)
        form = app.screen
        assert runs(form, sell_form)
        form.field("channel").put(str(channel_id))
        await typed(pilot, "250")
        form.field("name").put("A [b]buyer[/b]")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, MoneyScreen))
        # 250 − (25 + 0.35) fees − 115 landed = 109.65
        await until(pilot, lambda: "109.65 EUR" in texts(app.screen.query_one("#head")))
    assert read_unit(desk, unit_id).stage == "sold"
    assert read_unit_money(desk, unit_id).margin_minor == 10965
    assert read_sales(desk, unit_id).sales[0].buyer == "A [b]buyer[/b]"
    assert read_draft(desk, f"sell {unit_id}") == {}


async def test_what_the_model_had_is_told_where_its_unit_is_priced(desk: Desk, unit_id: int) -> None:
    unit = read_unit(desk, unit_id)
    for symptom in ("hinge [b]cracks[/b]", "fan loud", "dark at one edge"):
        add_fault(desk, unit_id, symptom=symptom)
    add_unit(desk, maker=unit.maker, model=unit.model)
    for form in (sell_form(unit_id, "1"), sell_form(unit_id + 1, "2"), purchase_form(unit_id + 1)):
        async with opened(desk, form, (120, 36)) as (app, _):
            told = str(app.screen.query_one("#known", Static).content)
            assert "Units of this model had: dark at one edge (open);" in told
            assert "fan: fan loud (open); 1 more on the model's page." in told


async def test_a_price_that_cannot_be_read_keeps_the_typing(desk: Desk, unit_id: int) -> None:
    async with opened(desk, sell_form(unit_id, "1")) as (app, pilot):
        form = app.screen
        assert runs(form, sell_form)
        await typed(pilot, "much")
        await settled(pilot)
        assert form.value("price_text") == "", "no letter begins a number"
        form.field("price_text").put("much")
        form.field("name").put("Buyer")
        await pilot.press("ctrl+s")
        wrong = form.field("price_text")
        await until(pilot, lambda: "not an amount" in wrong.said)
        assert (form.value("price_text"), form.value("name")) == ("much", "Buyer")
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])
    assert read_sales(desk, unit_id).sales == ()


async def test_unfinished_tasks_are_asked_about_and_the_sale_goes_on(desk: Desk) -> None:
    unit_id = looked_into(desk, new_unit(desk))
    async with opened(desk, sell_form(unit_id, "1")) as (app, pilot):
        await typed(pilot, "250")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, SettleTasks))
        await settled(pilot)
        await pilot.press("z")
        await settled(pilot)
        await typed(pilot, "sold as it is")
        await pilot.press("enter")
        await until(pilot, lambda: len(app.answers) == 1)
    assert read_unit(desk, unit_id).stage == "sold"


async def test_staying_with_unfinished_tasks_keeps_what_was_typed(desk: Desk) -> None:
    unit_id = looked_into(desk, new_unit(desk))
    async with opened(desk, sell_form(unit_id, "1")) as (app, pilot):
        await typed(pilot, "250")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, SettleTasks))
        await settled(pilot)
        await pilot.press("escape")
        await until(pilot, lambda: runs(app.screen, sell_form))
        form = app.screen
        assert runs(form, sell_form)
        assert form.value("price_text") == "250"
    assert read_sales(desk, unit_id).sales == ()


async def test_a_unit_comes_back_to_a_stage_with_a_refund(desk: Desk, unit_id: int) -> None:
    looked_into_if_need_be(desk, unit_id)
    sell_unit(desk, unit_id, price_text="250", buyer_name="Buyer")
    async with opened(desk, return_form(unit_id, "1")) as (app, pilot):
        form = app.screen
        assert runs(form, return_form)
        await typed(pilot, "fan is loud")
        form.field("refund_text").put("300")
        form.field("stage").put(str(stage(desk, "inspected")))
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "more than is left" in form.field("refund_text").said)
        assert form.value("reason") == "fan is loud"
        form.field("refund_text").put("250")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.answers == [True])
    assert read_unit(desk, unit_id).stage == "inspected"
    assert read_sales(desk, unit_id).sales[0].refund_minor == 25000
    assert read_purchase(desk, unit_id).expected_minor == 26000


async def test_a_unit_is_scrapped_with_the_reason_and_its_loss_is_shown(desk: Desk, unit_id: int) -> None:
    async with opened(desk, leave_form(unit_id, "1")) as (app, pilot):
        form = app.screen
        assert runs(form, leave_form)
        await until(pilot, lambda: form.value("way") == "kept")
        form.field("way").put("scrapped")
        form.field("reason").put("[b]burnt")
        form.field("proceeds_text").put("5")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.answers == [True])
    money = read_unit_money(desk, unit_id)
    assert money.way == "scrapped"
    assert money.lost_minor == money.cost_so_far_minor - 500
    rows = [str(part) for row in money_rows(money, context_of(money)) for part in row.cells]
    assert any("lost, scrapped" in text for text in rows)


async def test_an_owners_machine_is_only_handed_back(desk: Desk) -> None:
    added = add_unit(desk, maker="Maker", model="M", owner=PartyTyped("Odo Owner"))
    async with opened(desk, leave_form(added.unit_id, added.tag)) as (app, pilot):
        form = app.screen
        assert runs(form, leave_form)
        await until(pilot, lambda: form.value("way") == "handed back")
        assert "Odo Owner" in str(form.query_one("#known").render())
        form.field("reason").put("repaired")
        form.field("price_text").put("40")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: app.answers == [True])
    assert read_unit_money(desk, added.unit_id).proceeds_minor == 4_000


async def test_the_units_screen_says_the_same_and_opens_it(desk: Desk, unit_id: int) -> None:
    async with opened(desk, UnitScreen(unit_id), (120, 36)) as (app, pilot):
        facts = app.screen.query_one("#facts", RowTable)
        assert "115.00 EUR" in texts(facts)
        assert "no drive in it" in texts(facts)
        for words, screen in (
            ("Cost so far", MoneyScreen),
            ("Break-even", MoneyScreen),
            ("Drives", WipingScreen),
        ):
            put_cursor(facts, words)
            await pilot.press("enter")
            await until(pilot, lambda screen=screen: runs(app.screen, screen))
            await settled(pilot)
            await pilot.press("escape")
            await until(pilot, lambda: isinstance(app.screen, UnitScreen))
        looked_into_if_need_be(desk, unit_id)
        sell_unit(desk, unit_id, price_text="250")
        await until(pilot, lambda: "135.00 EUR" in texts(facts))


async def test_a_drive_without_a_wipe_stops_the_sale_until_a_reason_is_typed(
    desk: Desk, unit_id: int
) -> None:
    add_drive(desk, unit_id, serial="S 1")
    async with opened(desk, sell_form(unit_id, "1")) as (app, pilot):
        await typed(pilot, "250")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, BeforeListing))
        await settled(pilot)
        assert "no passed wipe is recorded for: S 1" in said(app)
        await pilot.press("escape")
        await until(pilot, lambda: runs(app.screen, sell_form))
        form = app.screen
        assert runs(form, sell_form)
        assert form.value("price_text") == "250"
        assert read_sales(desk, unit_id).sales == ()
        await pilot.press("ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, BeforeListing))
        await settled(pilot)
        await typed(pilot, "the buyer [b]wipes[/b] it")
        await pilot.press("enter")
        await until(pilot, lambda: app.answers != [])
    assert read_sales(desk, unit_id).sales[0].price_minor == 25000
    assert read_unit(desk, unit_id).without[0].reason == "the buyer [b]wipes[/b] it"


async def test_a_unit_without_a_drive_record_is_asked_about(desk: Desk) -> None:
    unit_id = add_unit(desk, maker="", model="Bare").unit_id
    async with opened(desk, sell_form(unit_id, "1")) as (app, pilot):
        await typed(pilot, "250")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, BeforeListing))
        await settled(pilot)
        await pilot.press("enter")
        await until(pilot, lambda: "Nobody said yet" in said(app))
        assert read_drives(desk, unit_id).looked is None
        await pilot.press("space", "enter")
        await until(pilot, lambda: app.answers != [])
    looked = read_drives(desk, unit_id).looked
    assert looked is not None
    assert looked.person == "Ada"
