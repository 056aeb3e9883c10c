"""The listing on the screen: its price and its words by key, and a template that hides faults is refused."""

from __future__ import annotations

import pytest

from bench.dashboard.screens.dialogs.listing_forms import listing_form, listing_words_form
from bench.dashboard.screens.papers import PapersScreen
from bench.dashboard.screens.trade import TradeScreen
from bench.dashboard.widgets.lines_scroll import LinesScroll
from bench.desk import Desk
from bench.domain.listing_template import BUILT_IN
from bench.views.listing import read_listing
from bench.views.trade import read_trade
from bench.work.faults import add_fault
from tests.screen.host import Host, opened, runs, sentences, settled, texts, until
from tests.screen.undoing import undo_newest
from tests.work.sale_steps import sell
from tests.work.trade_steps import COUNTER, new_unit, set_trade

SIZES = [(80, 24), (120, 36), (200, 50)]


@pytest.fixture
def unit_id(desk: Desk) -> int:
    set_trade(desk)
    for price in ("200", "260", "280"):
        sell(desk, new_unit(desk, "50"), price, channel_id=COUNTER)
    return new_unit(desk, "100")


def paper(app: Host) -> str:
    lines = app.screen.query_one(LinesScroll).lines
    return "\n".join("".join(part.text for part in line) for line in lines)


@pytest.mark.parametrize("size", SIZES)
async def test_the_price_by_key_with_what_was_fetched_before(
    desk: Desk, unit_id: int, size: tuple[int, int]
) -> None:
    async with opened(desk, PapersScreen(unit_id), size) as (app, pilot):
        await pilot.press("e")
        await until(pilot, lambda: runs(app.screen, listing_form))
        await settled(pilot)
        form = app.screen
        assert runs(form, listing_form)
        assert form.field("price_text").placeholder == "by 3 sold: 260.00 EUR"  # type: ignore[attr-defined]
        await pilot.press(*"255", "enter", *"[b]by post", "ctrl+s")
        await until(pilot, lambda: "255.00 EUR" in paper(app))
        await until(pilot, lambda: "[b]by post" in paper(app))
        await undo_newest(pilot)
        await until(pilot, lambda: "[b]by post" not in paper(app))
    assert read_listing(desk, unit_id).price_minor is None


@pytest.mark.parametrize("size", SIZES)
async def test_the_words_are_edited_and_what_hides_a_fault_stays_typed(
    desk: Desk, unit_id: int, size: tuple[int, int]
) -> None:
    add_fault(desk, unit_id, symptom="hinge [red]cracks")
    async with opened(desk, PapersScreen(unit_id), size) as (app, pilot):
        await pilot.press("t")
        await until(pilot, lambda: runs(app.screen, listing_words_form))
        await settled(pilot)
        form = app.screen
        assert runs(form, listing_words_form)
        assert form.value("template") == BUILT_IN
        form.field("template").put("A bargain: $title")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "leaves out $faults, $not_tested" in sentences(app))
        assert form.value("template") == "A bargain: $title"
        form.field("template").put("Seen: $title\n$faults\n\n$not_tested")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "Seen: " in paper(app))
        assert "hinge [red]cracks" in paper(app)
        await pilot.press("tab", "e")
        await until(pilot, lambda: any("is no listing" in note.message for note in app._notifications))


async def test_the_words_are_among_the_trading_settings(desk: Desk) -> None:
    async with opened(desk, TradeScreen(), (120, 36)) as (app, pilot):
        assert isinstance(app.screen, TradeScreen)
        rows = app.screen.table("rows").rows
        rows.move_to(next(at for at, row in enumerate(rows.items) if row.key == ("listings", 1)))
        await pilot.press("e")
        await until(pilot, lambda: runs(app.screen, listing_words_form))
        await settled(pilot)
        app.screen.field("shipping").put("sent for 8")  # type: ignore[attr-defined]
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "sent for 8" in texts(app.screen))
    assert (read_trade(desk).listing_template, read_trade(desk).listing_shipping) == ("", "sent for 8")
