"""The manual on the screen: it opens where one stands, its text is scrolled, sought in, and left again."""

from __future__ import annotations

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from bench.dashboard.presenters.manual_lines import page_lines
from bench.dashboard.presenters.pieces import plain, width_of
from bench.dashboard.screens.dialogs.stock_forms import count_form
from bench.dashboard.screens.help import HelpScreen
from bench.dashboard.screens.manual import ManualScreen
from bench.dashboard.screens.stock import StockScreen
from bench.dashboard.widgets.lines_scroll import LinesScroll
from bench.desk import Desk
from bench.manual.blocks import Look, blocks_of, spans_of
from bench.manual.pages import TOPICS, read_page
from tests.screen.host import Host, opened, settled, texts, until
from tests.screen.waiting import first_screen

SIZES = [(80, 24), (120, 36), (200, 50)]


def seen_of_text(screen: ManualScreen) -> list[str]:
    """The lines of the text that are seen."""
    text = screen.query_one(LinesScroll)
    top = text.scroll_offset.y
    return [plain(line).strip() for line in text.lines[top : top + text.size.height]]


async def manual_over(app: Host, pilot: Pilot[int]) -> ManualScreen:
    await pilot.press("f1")
    await until(pilot, lambda: isinstance(app.screen, ManualScreen) and app.screen.facts is not None)
    assert isinstance(app.screen, ManualScreen)
    return app.screen


@pytest.mark.parametrize("size", SIZES)
async def test_over_a_screen_it_opens_that_screens_page(desk: Desk, size: tuple[int, int]) -> None:
    async with opened(desk, StockScreen(), size) as (app, pilot):
        manual = await manual_over(app, pilot)
        assert manual.topic == "stock"
        await pilot.press("escape")
        await until(pilot, lambda: isinstance(app.screen, StockScreen))


async def test_over_a_form_it_opens_at_its_heading_and_the_form_keeps_what_is_typed(desk: Desk) -> None:
    async with opened(desk, count_form(1)) as (app, pilot):
        await pilot.press("1", "2")
        manual = await manual_over(app, pilot)
        await until(pilot, lambda: manual.query_one(LinesScroll).scroll_offset.y > 0)
        assert "Counting" in seen_of_text(manual)
        await pilot.press("escape")
        await until(pilot, lambda: app.screen is not manual)
        assert app.screen.query_one("#field-quantity_text", Input).value == "12"


async def test_in_a_window_of_another_width_the_heading_stays_at_the_top(desk: Desk) -> None:
    async with opened(desk, ManualScreen("start#the-first-unit"), (120, 36)) as (app, pilot):
        manual = app.screen
        assert isinstance(manual, ManualScreen)
        await until(pilot, lambda: manual.query_one(LinesScroll).scroll_offset.y > 0)
        heading = seen_of_text(manual)[0]
        for size in ((70, 24), (104, 24), (80, 24)):
            await pilot.resize_terminal(*size)
            await settled(pilot)
            assert seen_of_text(manual)[0] == heading


async def test_the_panel_that_has_the_focus_is_where_one_stands(busy: Desk) -> None:
    async with first_screen(busy) as (screen, pilot):
        screen.set_focus(screen.query_one("#stock"))
        await pilot.press("f1")
        await until(pilot, lambda: isinstance(screen.app.screen, ManualScreen))
        manual = screen.app.screen
        assert isinstance(manual, ManualScreen)
        assert (manual.topic, manual.heading) == ("stock", "levels")


async def test_words_are_found_on_this_page_first_and_then_on_the_others(desk: Desk) -> None:
    async with opened(desk, ManualScreen("buying")) as (app, pilot):
        manual = app.screen
        assert isinstance(manual, ManualScreen)
        await until(pilot, lambda: manual.facts is not None)
        await pilot.press("slash", *"margin")
        await until(pilot, lambda: manual.at is not None and manual.sought == "margin")
        assert manual.topic == "buying"
        assert any("margin" in line for line in seen_of_text(manual))
        first = manual.at
        seen = []
        for _ in range(40):
            await pilot.press("enter")
            seen.append(manual.at)
        assert {place[0] for place in seen if place} > {TOPICS.index("buying")}
        assert first in seen, "behind the last place comes the first"
        await pilot.press("escape")
        last = manual.at
        await pilot.press("n", "p")
        assert manual.at == last


async def test_what_nobody_wrote_is_said_to_be_nowhere(desk: Desk) -> None:
    async with opened(desk, ManualScreen("stock")) as (app, pilot):
        await pilot.press("slash", *"qqqq")
        await until(pilot, lambda: "not found" in texts(app.screen))


async def test_the_list_of_pages_leads_to_each(desk: Desk) -> None:
    async with opened(desk, ManualScreen("start"), (120, 36)) as (app, pilot):
        manual = app.screen
        assert isinstance(manual, ManualScreen)
        await until(pilot, lambda: manual.facts is not None)
        await pilot.press("tab", "down")
        await until(pilot, lambda: manual.topic == TOPICS[1])
        await pilot.press("enter", "tab", "end", "enter")
        await until(pilot, lambda: manual.topic == TOPICS[-1])
        assert manual.focused is manual.query_one(LinesScroll)


async def test_its_keys_are_those_of_the_screen_beneath_it(desk: Desk) -> None:
    async with opened(desk, StockScreen()) as (app, pilot):
        await manual_over(app, pilot)
        await pilot.press("question_mark")
        await until(pilot, lambda: isinstance(app.screen, HelpScreen) and "Stock: " in texts(app.screen))


@pytest.mark.parametrize("width", [76, 116, 200])
@pytest.mark.parametrize("topic", TOPICS)
def test_every_page_fits_the_width(topic: str, width: int) -> None:
    page = read_page(topic)
    made = page_lines(page.blocks, width)
    assert len(made.starts) == len(page.blocks)
    assert [plain(line) for line in made.lines if width_of(line) > width] == []


def test_a_key_keeps_its_look_beside_a_comma() -> None:
    spans = spans_of("press `m`, then **wait**: [more](start.md)")
    assert [(span.text, span.look) for span in spans] == [
        ("press ", Look.PLAIN),
        ("m", Look.CODE),
        (", then ", Look.PLAIN),
        ("wait", Look.BOLD),
        (": ", Look.PLAIN),
        ("more", Look.LINK),
    ]
    [line] = page_lines(blocks_of("press `m`, then"), 40).lines
    assert plain(line) == " press m, then"
    assert [part.text for part in line if part.look == "key"] == ["m"]


def test_what_is_sought_stands_out_in_whatever_capitals() -> None:
    [line] = page_lines(blocks_of("The Cover comes off"), 40, "cover").lines
    assert [part.text for part in line if part.look == "selected"] == ["Cover"]
