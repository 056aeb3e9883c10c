"""Buying on the screen: the price as it is typed, offers kept, bought and declined, lots."""

from __future__ import annotations

import pytest
from textual.geometry import Region
from textual.widgets import Static

from bench.dashboard.screens.buying import BuyingScreen
from bench.dashboard.screens.dialogs.buying_forms import buy_form
from bench.dashboard.screens.dialogs.choice_fields import ChoiceField
from bench.dashboard.screens.dialogs.lot import COLUMNS, OF_A_UNIT, LotForm, NamesOverCells
from bench.dashboard.screens.dialogs.offer import OfferForm
from bench.dashboard.screens.dialogs.questions import ReasonDialog
from bench.dashboard.screens.lots import LotsScreen
from bench.dashboard.screens.price_rows import PriceRowsScreen
from bench.dashboard.screens.unit import UnitScreen
from bench.desk import Desk
from bench.domain.lots import LotUnit
from bench.domain.offers import OfferTyped
from bench.views.lots import read_lot, read_lots
from bench.views.offers import read_offer, read_offers
from bench.views.purchase import read_purchase
from bench.views.routes import read_routes
from bench.views.shop import read_draft
from bench.views.unit import read_unit
from bench.work.buying import save_offer
from bench.work.drafts import save_draft
from bench.work.lots import buy_lot
from bench.work.trade import add_channel
from tests.screen.host import Host, opened, runs, sentences, settled, texts, typed, until
from tests.screen.workshop import FULL

SIZES = [(80, 24), (120, 36), (200, 50)]


def offer(desk: Desk, **more: object) -> int:
    route = next(one for one in read_routes(desk) if one.name == FULL)
    channel_id = add_channel(desk, "market [x]", share_text="10")
    values = {"model": "[/] odd [b]model[/b]", "expected_text": "260", "asking_text": "120", **more}
    return save_offer(
        desk,
        OfferTyped(
            route_id=route.route_id,
            channel_id=channel_id,
            findings={"battery": "71 % of design", "screen": ""},
            **values,  # type: ignore[arg-type]
        ),
    )


def form(app: Host) -> OfferForm:
    assert isinstance(app.screen, OfferForm)
    return app.screen


@pytest.mark.parametrize("size", SIZES)
async def test_an_offer_shows_its_price_and_what_was_seen(desk: Desk, size: tuple[int, int]) -> None:
    offer(desk)
    async with opened(desk, BuyingScreen(), size) as (app, pilot):
        shown = [texts(app.screen)]
        assert "most to pay" in shown[0]
        for _ in range(2):
            await pilot.press("tab")
            await settled(pilot)
            shown.append(texts(app.screen))
        together = "\n".join(shown)
        assert "[/] odd [b]model[/b]" in together
        assert "most to pay" in together
        assert "-26.00" in together  # 10 % of 260
        assert "71 % of design" in together
        assert "not looked at" in together


async def test_premium_freight_and_shipping_stand_in_the_sum_and_beside_the_findings(desk: Desk) -> None:
    offer(desk, premium_text="10", freight_text="6")
    async with opened(desk, BuyingScreen(), (200, 50)) as (app, _):
        shown = " ".join(texts(app.screen).split())
        for words in ("inward freight -6.00", "buyer's premium 10 %", "shipping to the buyer not typed"):
            assert words in shown
        table = " ".join(texts(app.screen.query_one("#offers")).split())
        assert "Premium Freight Shipping" in table
        assert "260.00 10 % 6.00 – open" in table


async def test_a_line_of_the_sum_opens_its_rows(desk: Desk) -> None:
    offer(desk)
    async with opened(desk, BuyingScreen(), (120, 36)) as (app, pilot):
        await pilot.press("tab", "down", "enter")
        await until(pilot, lambda: isinstance(app.screen, PriceRowsScreen))
        await until(pilot, lambda: "market [x]" in texts(app.screen))
        await pilot.press("escape", "escape")
        await until(pilot, lambda: app.answers == [None])


@pytest.mark.parametrize("size", SIZES)
async def test_the_price_follows_the_typing(desk: Desk, size: tuple[int, int]) -> None:
    full = next(one for one in read_routes(desk) if one.name == FULL)
    async with opened(desk, OfferForm(), size) as (app, pilot):
        assert form(app).value("route") == str(full.route_id)
        form(app).field("model").put("Model 9")
        form(app).field("route").put("")
        form(app).field("channel").put("")
        form(app).field("expected_text").take_focus()
        assert "is calculated as you" in texts(form(app).query_one("#sum"))
        await typed(pilot, "20")
        await until(pilot, lambda: "20.00" in texts(form(app).query_one("#sum")))
        await typed(pilot, "x")
        await until(pilot, lambda: "not an amount" in texts(form(app).query_one("#sum")))
        await pilot.press("backspace")
        form(app).field("asking_text").put("120")
        await until(pilot, lambda: "too much" in texts(form(app).query_one("#sum")))
        assert app.screen.region.contains_region(form(app).query_one("#do-send").region)


async def test_an_offer_is_kept_with_all_that_was_typed(desk: Desk) -> None:
    async with opened(desk, OfferForm(), (120, 36)) as (app, pilot):
        await typed(pilot, "Model 9")
        form(app).field("expected_text").put("abc")
        form(app).field("finding_battery").put("71 %")
        form(app).field("name").put("A [b]seller[/b]")
        await pilot.press("ctrl+s")
        wrong = form(app).field("expected_text")
        await until(pilot, lambda: "not an amount" in wrong.said)
        assert form(app).value("model") == "Model 9"
        form(app).field("expected_text").put("260")
        form(app).field("premium_text").put("10")
        form(app).field("shipping_text").put("0")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: len(app.answers) == 1)
    kept = read_offer(desk, 1)
    assert (kept.premium_per_10000, kept.freight_minor, kept.shipping_minor) == (1_000, None, 0)
    assert (kept.model, kept.expected_minor, kept.seller) == ("Model 9", 26000, "A [b]seller[/b]")
    assert [one.words for one in kept.findings if one.seen] == ["71 %"]
    assert read_draft(desk, "offer new") == {}


async def test_leaving_the_form_keeps_nothing(desk: Desk) -> None:
    async with opened(desk, OfferForm()) as (app, pilot):
        await typed(pilot, "Model 9")
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])
    assert read_offers(desk, None) == ()


async def test_buying_puts_the_unit_into_the_queue_and_opens_it(desk: Desk) -> None:
    offer_id = offer(desk, serial="S 1", premium_text="10", freight_text="6")
    async with opened(desk, BuyingScreen(), (120, 36)) as (app, pilot):
        await pilot.press("b")
        await until(pilot, lambda: runs(app.screen, buy_form))
        await settled(pilot)
        dialog = app.screen
        assert runs(dialog, buy_form)
        assert dialog.value("price_text") == "120.00 EUR"
        assert (dialog.value("premium_text"), dialog.value("freight_text")) == ("10 %", "6.00 EUR")
        dialog.field("price_text").put("110")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, UnitScreen))
    unit_id = read_offer(desk, offer_id).unit_id
    assert unit_id is not None
    unit = read_unit(desk, unit_id)
    assert (unit.price_minor, unit.serial) == (12100, "S 1")
    assert "battery figures: 71 % of design" in unit.note


async def test_declining_needs_a_reason_and_can_be_seen_later(desk: Desk) -> None:
    offer_id = offer(desk)
    async with opened(desk, BuyingScreen(), (120, 36)) as (app, pilot):
        await pilot.press("x")
        await until(pilot, lambda: isinstance(app.screen, ReasonDialog))
        await settled(pilot)
        await typed(pilot, "locked")
        await pilot.press("enter")
        await until(pilot, lambda: read_offer(desk, offer_id).state == "declined")
        await until(pilot, lambda: "No open offer" in texts(app.screen))
        await pilot.press("a")
        await until(pilot, lambda: "declined" in texts(app.screen.query_one("#offers")))


def lot_form(app: Host) -> LotForm:
    assert isinstance(app.screen, LotForm)
    return app.screen


async def test_a_lot_is_bought_and_its_shares_add_up(desk: Desk) -> None:
    async with opened(desk, LotForm(), (120, 36)) as (app, pilot):
        dialog = lot_form(app)
        await typed(pilot, "school [1]")
        dialog.field("price_text").put("100")
        await pilot.press("f2")
        await settled(pilot)
        for number in (1, 2, 3):
            dialog.field(f"model_{number}").put(f"Model {number}")
            dialog.field(f"expected_text_{number}").put("50")
        dialog.field("expected_text_3").put("")
        await pilot.press("ctrl+s")
        wrong = dialog.field("expected_text_3")
        await until(pilot, lambda: "no expected price" in wrong.said)
        dialog.field("expected_text_3").put("50")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: len(app.answers) == 1)
    lot = read_lot(desk, app.answers[0])
    assert [one.share_minor for one in lot.lines] == [3334, 3333, 3333]
    assert lot.name == "school [1]"


async def test_a_half_filled_lot_is_there_after_a_crash_with_all_its_units(desk: Desk) -> None:
    save_draft(desk, "lot_form", {"name_of_lot": "school", "model_4": "Model 4"})
    async with opened(desk, LotForm(), (120, 36)) as (app, pilot):
        assert lot_form(app).value("name_of_lot") == "school"
        assert lot_form(app).value("model_4") == "Model 4"
        assert lot_form(app).units == 4
        await pilot.press("f4")
        assert lot_form(app).units == 3
        await pilot.press("ctrl+s")
        await until(
            pilot,
            lambda: "Unit 1 of the lot has no model" in lot_form(app).field("model_1").said,
        )
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])
    assert read_lots(desk).lots == ()


@pytest.mark.parametrize("size", SIZES)
async def test_each_unit_of_a_lot_is_a_row_under_names(desk: Desk, size: tuple[int, int]) -> None:
    async with opened(desk, LotForm(), size) as (app, pilot):
        form = lot_form(app)
        await pilot.press("f2", "f2")
        await settled(pilot)
        names = texts(form.query_one(NamesOverCells))
        for number in range(1, form.units + 1):
            row = form.query_one(f"#unit-{number}")
            assert row.region.height == 1
            for name in (*OF_A_UNIT, "route", "donor"):
                cell = form.field(f"{name}_{number}")
                begins = cell.virtual_region.x + cell.styles.padding.left
                assert names[begins:].startswith(COLUMNS[name])
                assert row.region.contains_region(cell.region)
        await pilot.press("escape")


async def test_up_and_down_go_along_a_column_and_tab_along_a_row(desk: Desk) -> None:
    async with opened(desk, LotForm(), (80, 24)) as (app, pilot):
        form = lot_form(app)

        def at(name: str) -> bool:
            return app.focused is form.field(name).control

        form.field("serial_1").take_focus()
        await pilot.press("down")
        assert at("serial_2")
        assert form.query_one(NamesOverCells).here == "serial"
        await pilot.press("up", "tab")
        assert at("expected_text_1")
        await pilot.pause()
        assert form.query_one(NamesOverCells).here == "expected_text"
        await pilot.press("x")
        assert "money" in sentences(app)
        await pilot.press("up")
        assert at("note")
        form.field("maker_2").take_focus()
        await pilot.press("down")
        assert app.focused is form.query_one("#do-one_more")
        await pilot.press("escape")


def shown(form: LotForm) -> str:
    """The sentence above the buttons."""
    wrong = form.query_one("#wrong", Static)
    return str(wrong.render()) if wrong.has_class("shown") else ""


async def test_what_is_wrong_in_a_row_is_said_below_and_marked_there(desk: Desk) -> None:
    async with opened(desk, LotForm(), (80, 24)) as (app, pilot):
        form = lot_form(app)
        form.field("name_of_lot").put("two")
        form.field("price_text").put("100")
        form.field("model_2").put("9")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "Unit 1 of the lot has no model" in shown(form))
        assert form.field("model_1").has_class("wrong")
        assert form.field("model_1").region.height == 1
        await typed(pilot, "8")
        assert form.value("model_1") == "8"
        assert not form.field("model_1").has_class("wrong")
        assert shown(form) == "", "it is put right"
        await pilot.press("escape")


async def test_the_last_unit_can_be_left_out_with_the_cursor_in_it(desk: Desk) -> None:
    async with opened(desk, LotForm(), (120, 36)) as (app, pilot):
        lot_form(app).field("tag_text_2").take_focus()
        await pilot.press("f4")
        await settled(pilot)
        assert lot_form(app).units == 1
        await pilot.press("f2")
        await settled(pilot)
        assert lot_form(app).units == 2
        await typed(pilot, "Maker")
        assert lot_form(app).value("maker_2") == "Maker"
        await pilot.press("escape")
        await until(pilot, lambda: app.answers == [None])


async def test_tab_goes_on_in_order_while_fields_are_not_laid_out_yet(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(ChoiceField, "virtual_region", Region())  # as of one that was just put in
    async with opened(desk, LotForm(), (120, 36)) as (app, pilot):
        await pilot.press(*"seven", "tab", *"220", "tab", "tab", "tab", "tab", *"R 17")
        assert lot_form(app).value("name_of_lot") == "seven"
        assert lot_form(app).value("price_text") == "220"
        assert lot_form(app).value("invoice") == "R 17"
        await pilot.press("escape")


@pytest.mark.parametrize("size", SIZES)
async def test_the_buttons_of_a_lot_fit_beside_each_other(desk: Desk, size: tuple[int, int]) -> None:
    async with opened(desk, LotForm(), size) as (app, pilot):
        row = lot_form(app).query_one("#buttons").region
        for button in lot_form(app).query("#buttons Button"):
            assert row.contains_region(button.region)
        await pilot.press("escape")


@pytest.fixture
def lot_id(desk: Desk) -> int:
    units = [LotUnit("Maker", f"[/] model {number}", expected_text="50") for number in (1, 2, 3)]
    return buy_lot(desk, name="school [1]", price_text="100", units=units).lot_id


@pytest.mark.parametrize("size", SIZES)
async def test_lots_show_their_units_and_the_rule(desk: Desk, lot_id: int, size: tuple[int, int]) -> None:
    async with opened(desk, LotsScreen(), size) as (app, pilot):
        assert "school [1]" in texts(app.screen)
        await pilot.press("enter")
        await until(pilot, lambda: "33.34" in texts(app.screen.query_one("#units")))
        assert "[/] model 1" in texts(app.screen)
        assert "largest" in texts(app.screen)
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, UnitScreen))


async def test_a_donor_shares_its_lot_anew(desk: Desk, lot_id: int) -> None:
    async with opened(desk, LotsScreen(lot_id), (120, 36)) as (app, pilot):
        await pilot.press("d")
        await settled(pilot)
        await typed(pilot, "20")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "donor" in texts(app.screen.query_one("#units")))
    # 100 over 20, 50, 50
    assert [one.share_minor for one in read_lot(desk, lot_id).lines] == [1667, 4167, 4166]


async def test_the_price_is_shared_anew_by_what_is_expected_now(desk: Desk, lot_id: int) -> None:
    async with opened(desk, LotsScreen(lot_id), (120, 36)) as (app, pilot):
        await pilot.press("s")
        await settled(pilot)
        first = read_lot(desk, lot_id).lines[0].unit_id
        app.screen.field(f"expected_{first}").put("100")  # type: ignore[attr-defined]
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "50.00" in texts(app.screen.query_one("#units")))
    assert [one.share_minor for one in read_lot(desk, lot_id).lines] == [5000, 2500, 2500]
    assert read_purchase(desk, first).expected_minor == 10000
