"""Ctrl+F: anything is found from anywhere, and opened or done; Ctrl+O: back to what was open before."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.screen import Screen

from bench.dashboard.app import BenchApp
from bench.dashboard.finding import COLOURS, PAGE, heading_names, headings, place_of
from bench.dashboard.screens.buying import BuyingScreen
from bench.dashboard.screens.calculators import CalculatorsScreen
from bench.dashboard.screens.dialogs.find import FindBox, FindDialog
from bench.dashboard.screens.dialogs.more_menu import MoreMenu
from bench.dashboard.screens.dialogs.pick import choose_colours
from bench.dashboard.screens.dialogs.unit_forms import hold_form, unit_form
from bench.dashboard.screens.drawing import SparingScreen
from bench.dashboard.screens.faults import FaultsScreen
from bench.dashboard.screens.first import FirstScreen
from bench.dashboard.screens.lots import LotsScreen
from bench.dashboard.screens.manual import ManualScreen
from bench.dashboard.screens.model_page import ModelPageScreen
from bench.dashboard.screens.orders import OrdersScreen
from bench.dashboard.screens.papers import PapersScreen
from bench.dashboard.screens.parts import PartsScreen
from bench.dashboard.screens.parts_shelf import PartsShelfScreen
from bench.dashboard.screens.register import RegisterScreen
from bench.dashboard.screens.repair_job import JobScreen
from bench.dashboard.screens.stock import ConsumableScreen, StockScreen
from bench.dashboard.screens.unit import UnitScreen
from bench.dashboard.screens.wiping import WipingScreen
from bench.dashboard.widgets.queue_list import QueueList
from bench.dashboard.widgets.row_table import RowTable
from bench.desk import Desk
from bench.views import finding_texts as kinds
from bench.views.finding import NamesKept, find_all
from bench.views.parts import read_shelf
from bench.work.components import scrap_part
from bench.work.demo import make_demo
from bench.work.files import open_or_new
from bench.work.parts import take_part
from bench.work.units import add_unit
from tests.clocks import HandSetClock
from tests.screen.host import runs, settled, texts, until
from tests.screen.scanner import scan, send
from tests.screen.waiting import first_screen


@pytest.fixture(scope="module")
def demo_made(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, HandSetClock]:
    path, clock = tmp_path_factory.mktemp("demo") / "demo.bench", HandSetClock()
    make_demo(path, clock).close()
    return path, clock


@pytest.fixture
def shop(demo_made: tuple[Path, HandSetClock], tmp_path: Path) -> Iterator[Desk]:
    path, clock = demo_made
    store = open_or_new(Path(shutil.copy(path, tmp_path / "demo.bench")))
    yield Desk(store, clock, person_id=1)
    store.close()


def of(pilot: Pilot[int]) -> Screen[Any]:
    """The screen that is open."""
    return pilot.app.screen


async def find(pilot: Pilot[int], text: str) -> None:
    """Look for something."""
    await pilot.press("ctrl+f")
    assert isinstance(of(pilot), FindDialog)
    await pilot.press(*["space" if letter == " " else letter for letter in text])
    await settled(pilot)


async def find_and_open(pilot: Pilot[int], text: str) -> Screen[Any]:
    """Look for something and open the first line."""
    await find(pilot, text)
    await pilot.press("enter")
    await settled(pilot)
    return of(pilot)


def found(pilot: Pilot[int]) -> list[str]:
    """The lines shown."""
    lines = texts(of(pilot).query_one("#found", RowTable).rows).splitlines()
    return [" ".join(line.split()) for line in lines if line.strip()]


async def test_a_tag_opens_its_unit_from_every_screen(shop: Desk) -> None:
    async with first_screen(shop) as (_, pilot):
        for key in ("", "t", "w", "l"):
            if key:
                await pilot.press(key)
                await settled(pilot)
            unit = await find_and_open(pilot, "10444" if key else "10629")
            assert isinstance(unit, UnitScreen)
            await pilot.press("escape")
            while not isinstance(of(pilot), FirstScreen):
                await pilot.press("escape")
                await settled(pilot)


async def test_enter_opens_what_the_words_name_however_fast_it_comes(shop: Desk) -> None:
    async with first_screen(shop) as (_, pilot):
        await pilot.press("ctrl+f", *"10629", "enter")
        await until(pilot, lambda: isinstance(of(pilot), UnitScreen))
        screen = of(pilot)
        assert isinstance(screen, UnitScreen)
        assert screen.facts is not None
        assert screen.facts.unit.tag == "10629"


async def test_a_key_behind_enter_goes_to_what_was_opened(shop: Desk) -> None:
    async with first_screen(shop) as (_, pilot):
        await pilot.press("ctrl+f")
        send(pilot.app, "10629\rf", 0.2)  # all there before the first of them is looked at
        await until(pilot, lambda: isinstance(of(pilot), MoreMenu))
        assert isinstance(pilot.app.screen_stack[-2], UnitScreen)


async def test_the_arrows_choose_while_one_types(shop: Desk) -> None:
    async with first_screen(shop) as (_, pilot):
        await find(pilot, "fenn")
        second = found(pilot)[1]
        await pilot.press("down", "enter")
        await settled(pilot)
        screen = of(pilot)
        assert isinstance(screen, UnitScreen)
        assert screen.facts is not None
        assert screen.facts.unit.tag in second


async def test_a_word_mistyped_finds_it_all_the_same(shop: Desk) -> None:
    async with first_screen(shop) as (_, pilot):
        await find(pilot, "keybaord")
        assert any("keyboard" in line for line in found(pilot))


async def test_nothing_found_is_said_and_enter_does_nothing(shop: Desk) -> None:
    async with first_screen(shop) as (_, pilot):
        await find(pilot, "zzyzx")
        assert "Nothing bears these words." in found(pilot)[0]
        await pilot.press("enter")
        assert isinstance(of(pilot), FindDialog)
        await pilot.press("escape")
        assert isinstance(of(pilot), FirstScreen)


async def test_markup_is_text(shop: Desk) -> None:
    unit = add_unit(shop, maker="Maker", model="[red]x[/] 9")
    async with first_screen(shop) as (_, pilot):
        await find(pilot, unit.tag)
        assert "[red]x[/] 9" in found(pilot)[0]


LEADS_TO: dict[str, tuple[str, type[Screen[Any]], str]] = {
    "lint": (kinds.CONSUMABLE, ConsumableScreen, ""),
    "q7176": (kinds.DRIVE, WipingScreen, "drives"),
    "petra quillon": (kinds.PARTY, RegisterScreen, "people"),
    "fan rattles since": (kinds.FAULT, FaultsScreen, "faults"),
    "charger only works": (kinds.JOB, JobScreen, ""),
    "CH-65": (kinds.ORDER, OrdersScreen, "rows"),
    "burr 17": (kinds.MODEL, ModelPageScreen, ""),
}


@pytest.mark.parametrize("typed", LEADS_TO)
async def test_what_is_found_is_shown_with_the_cursor_at_it(shop: Desk, typed: str) -> None:
    kind, screen, table = LEADS_TO[typed]
    await leads(shop, next(one for one in find_all(shop, typed) if one.kind == kind), screen, table)


@pytest.mark.parametrize(
    ("kind", "screen", "table"),
    [
        (kinds.PART, PartsScreen, "rows"),
        (kinds.OFFER, BuyingScreen, "offers"),
        (f"{kinds.OFFER} {kinds.PAST}", BuyingScreen, "offers"),
        (kinds.LOT, LotsScreen, "lots"),
        (f"{kinds.FAULT} {kinds.PAST}", FaultsScreen, "faults"),
        (f"{kinds.PART} {kinds.PAST}", PartsScreen, "rows"),
    ],
)
async def test_every_row_of_a_kind_leads_to_a_screen(
    shop: Desk, kind: str, screen: type[Screen[Any]], table: str
) -> None:
    names = NamesKept()
    names.find(shop, "x", patience_seconds=60)
    query = kinds.LINES[kind.partition(" ")[0]]
    with shop.store.read() as connection:
        lines = query.all(connection, numbers=str(list(names._kept[kind].numbers)))
    of_a_unit = [one for one in lines if one.unit_id is not None]
    await leads(shop, (of_a_unit or lines)[0], screen, table)


async def test_a_part_that_was_never_in_a_unit_is_found_where_the_gone_ones_are(shop: Desk) -> None:
    with shop.store.read() as connection:
        bought = connection.execute(
            "SELECT part.id FROM part JOIN component ON component.id = part.component_id"
            " WHERE component.gone <> '' AND part.from_unit_id IS NULL AND part.to_unit_id IS NULL"
        ).fetchall()
        assert bought, "the demo has none"
        line = kinds.LINES[kinds.PART].all(connection, numbers=str([bought[0][0]]))[0]
    assert line.place == "sent back"
    assert line in find_all(shop, line.name)
    await leads(shop, line, PartsShelfScreen, "gone")


async def test_a_drive_on_the_shelf_is_found_there_and_one_that_is_gone_among_the_gone(shop: Desk) -> None:
    with shop.store.read() as connection:
        number, serial = connection.execute(
            "SELECT drive.id, drive.serial FROM stage JOIN unit ON unit.stage_id = stage.id JOIN drive"
            " ON drive.unit_id = unit.id AND drive.serial <> '' WHERE NOT stage.final"
        ).fetchone()
    drive = next(one for one in find_all(shop, serial) if (one.kind, one.number) == (kinds.DRIVE, number))
    assert drive.unit_id is not None
    part = take_part(shop, drive.unit_id, name="drive", cost_text="9", drive_id=drive.number)
    [kept] = [one for one in read_shelf(shop).lines if one.part_id == part.part_id]
    for gone in (False, True):
        if gone:
            scrap_part(shop, kept.component_id, reason="slow")
        found = next(one for one in find_all(shop, serial) if one.kind == kinds.DRIVE)
        assert found.place == ("scrapped" if gone else "on the shelf")
        async with first_screen(shop) as (first, pilot):
            first.bench.visits.open(place_of(found))
            await settled(pilot)
            rows = of(pilot).query_one("#gone" if gone else "#rows", RowTable)
            assert rows.record.drive_id == drive.number
            assert rows.is_current


async def test_one_of_the_bench_is_found_among_the_settings(shop: Desk) -> None:
    found = next(one for one in find_all(shop, "ines") if one.kind == kinds.PERSON)
    async with first_screen(shop) as (first, pilot):
        first.bench.visits.open(place_of(found))
        await settled(pilot)
        assert of(pilot).query_one("#rows", RowTable).key == ("person", found.number)


async def leads(desk: Desk, line: kinds.FoundLine, wanted: type[Screen[Any]], table: str) -> None:
    """The line's place opens, with the cursor at what was found."""
    async with first_screen(desk) as (first, pilot):
        first.bench.visits.open(place_of(line))
        await settled(pilot)
        screen = of(pilot)
        assert isinstance(screen, wanted)
        if table:
            rows = screen.query_one(f"#{table}", RowTable)
            assert rows.key == line.number
            assert rows.is_current


async def test_an_act_runs_on_the_screen_beneath(shop: Desk) -> None:
    async with first_screen(shop) as (first, pilot):
        first.go_to_unit(62)
        await settled(pilot)
        assert runs(await find_and_open(pilot, "on hold"), hold_form)


@pytest.mark.parametrize(
    ("typed", "screen"),
    [("print", PapersScreen), ("swap drive", WipingScreen), ("stock", StockScreen), ("levels", StockScreen)],
)
async def test_other_words_find_a_screen(shop: Desk, typed: str, screen: type[Screen[Any]]) -> None:
    async with first_screen(shop) as (_, pilot):
        assert isinstance(await find_and_open(pilot, typed), screen)


async def test_a_calculator_opens_at_its_figures(shop: Desk) -> None:
    async with first_screen(shop) as (_, pilot):
        await find(pilot, "drive wear")
        line = next(
            at for at, one in enumerate(found(pilot)) if one.startswith(("▌calculator", "calculator"))
        )
        await pilot.press(*["down"] * line, "enter")
        await settled(pilot)
        screen = of(pilot)
        assert isinstance(screen, CalculatorsScreen)
        assert "wear" in screen.calculator.title.casefold()


async def test_a_heading_of_the_manual_opens_there(shop: Desk) -> None:
    async with first_screen(shop) as (_, pilot):
        screen = await find_and_open(pilot, "forgotten timer")
        assert isinstance(screen, ManualScreen)
        assert (screen.topic, screen.heading) == ("bench", "a-forgotten-timer")


async def test_every_heading_of_the_manual_is_found(shop: Desk) -> None:
    names = NamesKept()
    for at, heading in enumerate(headings()):
        page = names.find(shop, heading.words, {PAGE: heading_names()}, patience_seconds=60)
        told = [one.number for one in page.lines if one.kind == PAGE]
        assert at in told, heading.words


async def test_with_nothing_typed_it_shows_what_can_be_done_here(shop: Desk) -> None:
    async with first_screen(shop) as (_, pilot):
        await find(pilot, "")
        assert any("move on" in line for line in found(pilot))


async def test_the_colours_are_chosen_from_it(shop: Desk) -> None:
    async with first_screen(shop) as (_, pilot):
        assert runs(await find_and_open(pilot, "colours"), choose_colours)
        await settled(pilot)
        await pilot.press("down", "enter")
        await settled(pilot)
        assert pilot.app.theme == "bench-light"
    assert COLOURS.endswith(choose_colours.__name__)


async def test_ctrl_p_opens_it_too_and_nothing_of_the_framework(shop: Desk) -> None:
    async with first_screen(shop) as (_, pilot):
        await pilot.press("ctrl+p")
        assert isinstance(of(pilot), FindDialog)
        await pilot.press("ctrl+p", "ctrl+f")  # it is open
        assert len(pilot.app.screen_stack) == 2


async def test_it_opens_over_a_form_whose_text_stays(shop: Desk) -> None:
    async with first_screen(shop) as (_, pilot):
        await pilot.press("n")
        await settled(pilot)
        assert runs(of(pilot), unit_form)
        form = of(pilot)
        await pilot.press(*"Wren")
        await find(pilot, "10444")
        await pilot.press("enter")
        await settled(pilot)
        assert isinstance(of(pilot), UnitScreen)
        await pilot.press("escape")
        await settled(pilot)
        assert of(pilot) is form
        assert any(getattr(one, "value", "") == "Wren" for one in form.query("*"))
        await find(pilot, "")
        await pilot.press("escape")
        await pilot.press("x")
        assert any(getattr(one, "value", "") == "Wrenx" for one in form.query("*"))


async def test_a_scan_in_the_field_opens_the_unit(shop: Desk) -> None:
    async with first_screen(shop) as (first, pilot):
        first.bench.ear.hears = True
        await pilot.press("ctrl+f")
        await settled(pilot)
        await scan(pilot, "10629")
        await until(pilot, lambda: isinstance(of(pilot), UnitScreen))
        assert getattr(of(pilot), "unit_id", None) == 62


async def test_a_scan_that_nobody_knows_is_looked_for(shop: Desk) -> None:
    async with first_screen(shop) as (first, pilot):
        first.bench.ear.hears = True
        await pilot.press("ctrl+f")
        await settled(pilot)
        await scan(pilot, "FN8594")  # the beginning of a serial number
        await until(pilot, lambda: of(pilot).query_one(FindBox).value == "FN8594")
        await settled(pilot)
        assert "10707" in found(pilot)[0]


async def test_what_changes_meanwhile_is_seen(shop: Desk) -> None:
    async with first_screen(shop) as (first, pilot):
        await find(pilot, "quaggy")
        assert "Nothing" in found(pilot)[0]
        first.change(lambda: add_unit(shop, maker="Quaggy", model="Reed 3"))
        await until(pilot, lambda: "Quaggy Reed 3" in found(pilot)[0])


async def open_unit(pilot: Pilot[int], tag: str) -> UnitScreen:
    """Open a unit from the queue."""
    first = pilot.app.screen_stack[0]
    row = first.query_one(QueueList).row_of_tag(tag)
    assert row is not None
    assert first.query_one(QueueList).go_to_unit(row.unit_id)
    await settled(pilot)
    await pilot.press("enter")
    await settled(pilot)
    screen = of(pilot)
    assert isinstance(screen, UnitScreen)
    return screen


async def test_ctrl_o_goes_back_to_the_unit_before(shop: Desk) -> None:
    async with first_screen(shop) as (_, pilot):
        before = await open_unit(pilot, "10629")
        await pilot.press("escape")
        await settled(pilot)
        after = await open_unit(pilot, "10612")
        await pilot.press("ctrl+o")
        await settled(pilot)
        assert getattr(of(pilot), "unit_id", None) == before.unit_id
        await pilot.press("ctrl+o")  # round again
        await settled(pilot)
        assert getattr(of(pilot), "unit_id", None) == after.unit_id
        await pilot.press("escape")
        await settled(pilot)
        assert isinstance(of(pilot), FirstScreen)
        await pilot.press("ctrl+o")
        await settled(pilot)
        assert getattr(of(pilot), "unit_id", None) == after.unit_id


async def test_ctrl_o_goes_through_all_that_was_open(shop: Desk) -> None:
    async with first_screen(shop) as (_, pilot):
        await open_unit(pilot, "10629")
        await pilot.press("escape")
        await pilot.press("t")
        await settled(pilot)
        await pilot.press("escape")
        await open_unit(pilot, "10612")
        seen = []
        for _ in range(3):
            await pilot.press("ctrl+o")
            await settled(pilot)
            seen.append((type(of(pilot)), getattr(of(pilot), "unit_id", None)))
        assert seen == [(StockScreen, None), (UnitScreen, 62), (UnitScreen, 61)]
        assert len(pilot.app.screen_stack) <= 3  # going back piles nothing up


async def test_ctrl_o_over_a_form_leaves_its_text(shop: Desk) -> None:
    async with first_screen(shop) as (_, pilot):
        await open_unit(pilot, "10629")
        await pilot.press("escape", "n")
        await settled(pilot)
        form = of(pilot)
        await pilot.press(*"Wren", "ctrl+o")
        await settled(pilot)
        assert isinstance(of(pilot), UnitScreen)
        await pilot.press("escape")
        await settled(pilot)
        assert of(pilot) is form
        assert any(getattr(one, "value", "") == "Wren" for one in form.query("*"))


async def test_ctrl_o_says_where_nothing_was_open(shop: Desk) -> None:
    async with first_screen(shop) as (_, pilot):
        await pilot.press("ctrl+o")
        await settled(pilot)
        assert "Nothing else was opened yet." in [one.message for one in pilot.app._notifications]


@pytest.mark.parametrize("size", [(80, 24), (120, 36), (200, 50)])
async def test_it_fits(shop: Desk, size: tuple[int, int]) -> None:
    async with first_screen(shop, size) as (_, pilot):
        await find(pilot, "fenn")
        box, rows = of(pilot).query_one("#box"), of(pilot).query_one("#found", RowTable)
        assert box.region.right <= size[0]
        assert box.region.bottom <= size[1]
        assert rows.rows.size.height >= 15
        assert isinstance(of(pilot), SparingScreen)


async def test_the_app_has_no_palette_of_the_framework(shop: Desk) -> None:
    assert not BenchApp.ENABLE_COMMAND_PALETTE
    async with first_screen(shop) as (_, pilot):
        bound = {one.binding.action for one in pilot.app.active_bindings.values()}
        assert "command_palette" not in bound
        assert "find" in bound
